package coat_test

import (
	"math"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// breakingAt is a stack whose coats give way at the given doses.
func breakingAt(doses, spread []float64) coat.Stack {
	s := coat.Stack{Curve: coat.Curve{Points: []coat.Point{{DoseJCM2: doses[0] / 3}}, Spread: spread}}
	for i, d := range doses {
		s.Coats = append(s.Coats, coat.Coat{ThicknessUM: 1})
		s.Curve.Points = append(s.Curve.Points, coat.Point{DoseJCM2: d, DepthUM: float64(i + 1)})
	}
	return s
}

func TestNestedCoats(t *testing.T) {
	for name, c := range map[string]struct {
		doses, spread []float64
		want          map[float64][]float64
		tolerance     float64
	}{
		// Source: the log-normal model's own formula, Phi(ln(D/D50)/s) for each
		// coat; values follow from it.
		"equal spreads": {[]float64{30, 60, 120}, []float64{.2, .2, .2}, map[float64][]float64{
			20:  {.978685, .021315, 0, 0},
			30:  {.500000, .499736, .000264, 0},
			45:  {.021315, .903527, .075158, 0},
			60:  {.000264, .499736, .499736, .000264},
			120: {0, .000264, .499736, .500000},
		}, 1e-6},
		"closer": {[]float64{25, 45, 80}, []float64{.15, .15, .15}, map[float64][]float64{
			40: {.000864, .782974, .216160, .0000019},
		}, 1e-6},
		// The lower coat's loss, 3.35e-2, would overtake the upper one's, 2.51e-5.
		"crossing": {[]float64{30, 60}, []float64{.1, .6}, map[float64][]float64{
			20: {1 - 2.51e-5, 0, 2.51e-5},
		}, 1e-7},
		"one coat": {[]float64{30}, []float64{.2}, map[float64][]float64{
			0: {1, 0}, 30: {.5, .5}, 300: {0, 1},
		}, 1e-6},
	} {
		t.Run(name, func(t *testing.T) {
			m := compile(t, breakingAt(c.doses, c.spread), coat.Options{})
			for dose, want := range c.want {
				got := m.ShowThrough(dose)
				require.InDeltaSlice(t, want, got.Coverage, c.tolerance, "dose %g", dose)
			}
			for i, d := range c.doses {
				require.InEpsilon(t, d, m.BreakThrough(i), 1e-12)
				require.False(t, m.Drawn(i))
			}
		})
	}
}

// Source: Phi at .5, 1, 1.5, 2 and 3 standard deviations; published in any table
// of the normal distribution.
func TestLossIsLogNormal(t *testing.T) {
	m := compile(t, breakingAt([]float64{50}, []float64{.25}), coat.Options{})
	for z, want := range map[float64]float64{
		0: .5, .5: .691462461, 1: .841344746, 1.5: .933192799, 2: .977249868, 3: .998650102,
	} {
		require.InDelta(t, want, m.ShowThrough(50 * math.Exp(.25*z)).Coverage[1], 1e-9)
		require.InDelta(t, 1-want, m.ShowThrough(50 * math.Exp(-.25*z)).Coverage[1], 1e-9)
	}
}

// Source: H. E. J. Neugebauer, Z. wiss. Photogr. 36, 1937: the mean by area of
// the table above.
func TestLookIsTheMeanByArea(t *testing.T) {
	m := compile(t, breakingAt([]float64{30, 60, 120}, []float64{.2, .2, .2}), coat.Options{})
	shown := m.ShowThrough(45)
	require.InDelta(t, .155538212, coat.Mix(shown.Coverage, []float64{.80, .12, .40, .05}, 1), 1e-8)

	s := threeCoats()
	for _, n := range []float64{0, 1, 2} {
		m := compile(t, s, coat.Options{YuleNielsen: n})
		for _, dose := range []float64{0, 30, 45, 60, 100, 150} {
			shown := m.ShowThrough(dose)
			greens := []float64{s.Coats[0].Colour.Linear().G, s.Coats[1].Colour.Linear().G, s.Coats[2].Colour.Linear().G, s.Ground.Colour.Linear().G}
			require.InDelta(t, coat.Mix(shown.Coverage, greens, n), shown.Look.G, 0.002, "scorched %g", shown.Scorched)
			require.Equal(t, m.Look(dose), shown.Look)
		}
	}
}

func TestUntouchedAndBare(t *testing.T) {
	s := threeCoats()
	s.Curve.ScorchDoseJCM2 = 0
	m := compile(t, s, coat.Options{})
	for _, dose := range []float64{0, -1, 1, math.NaN(), math.Inf(-1)} {
		require.Equal(t, s.Coats[0].Colour, m.Look(dose).Stored(), "dose %g", dose)
		require.Zero(t, m.DepthUM(dose))
	}
	require.Equal(t, s.Ground.Colour, m.Look(1000).Stored())
	require.Equal(t, s.Ground.Colour, m.Look(math.Inf(1)).Stored())
}

// The darkening itself is common practice, no source; what is checked is where the
// package says it lies.
func TestGroundDarkensPastTheScorchDose(t *testing.T) {
	s := threeCoats()
	m := compile(t, s, coat.Options{})
	at := func(f float64) float64 { return m.ShowThrough(260 * f).Scorched }
	require.Less(t, at(0.8), 0.002)
	require.InDelta(t, .0228, at(1), 1e-4)
	require.InDelta(t, 0.5, at(math.Exp(.4)), 1e-12)
	require.Greater(t, at(2.5), 0.99)
	require.Equal(t, s.Curve.ScorchColour, m.Look(260*5).Stored())
}

func TestSharpBreakThrough(t *testing.T) {
	m := compile(t, breakingAt([]float64{30, 60}, []float64{0, 0}), coat.Options{})
	e := m.BreakThrough(0)
	require.Equal(t, []float64{1, 0, 0}, m.ShowThrough(math.Nextafter(e, 0)).Coverage)
	require.Equal(t, []float64{.5, .5, 0}, m.ShowThrough(e).Coverage)
	require.Equal(t, []float64{0, 1, 0}, m.ShowThrough(math.Nextafter(e, 99)).Coverage)
	require.Equal(t, []float64{0, 0, 1}, m.ShowThrough(61).Coverage)

	// The limit of narrow spreads is the sharp step.
	narrow := compile(t, breakingAt([]float64{30, 60}, []float64{1e-6, 1e-6}), coat.Options{})
	for _, dose := range []float64{10, 29.9, 30.1, 59, 61, 100} {
		require.InDeltaSlice(t, m.ShowThrough(dose).Coverage, narrow.ShowThrough(dose).Coverage, 1e-12)
	}
}

func TestCoatOutOfReach(t *testing.T) {
	s := threeCoats()
	s.Coats[2].ThicknessUM = 500
	m := compile(t, s, coat.Options{})
	require.True(t, math.IsInf(m.BreakThrough(2), 1))
	require.True(t, m.Drawn(2))
	for _, dose := range []float64{100, 1e5, math.Inf(1)} {
		require.Zero(t, m.ShowThrough(dose).Coverage[3])
	}
	low, high, ok := m.BreakThroughRange(2)
	require.False(t, ok)
	require.True(t, math.IsInf(low, 1) && math.IsInf(high, 1))
}

// Source: normal distribution, two-sided 95 %: 1.96 standard deviations.
func TestBreakThroughRange(t *testing.T) {
	s := threeCoats()
	_, _, ok := compile(t, s, coat.Options{}).BreakThroughRange(0)
	require.False(t, ok, "nobody has measured it")
	s.Curve.BreakThroughSD = []float64{0.05, 0.1, 0.2}
	m := compile(t, s, coat.Options{})
	for i, sd := range s.Curve.BreakThroughSD {
		low, high, ok := m.BreakThroughRange(i)
		require.True(t, ok)
		require.InDelta(t, 1.96*sd, math.Log(high/m.BreakThrough(i)), 1e-4)
		require.InDelta(t, 1.96*sd, math.Log(m.BreakThrough(i)/low), 1e-4)
	}
}

func TestCalibratedIsCarried(t *testing.T) {
	s := threeCoats()
	require.False(t, compile(t, s, coat.Options{}).Calibrated())
	s.Curve.Calibrated = true
	require.True(t, compile(t, s, coat.Options{}).Calibrated())
}

func TestModelKeepsItsStack(t *testing.T) {
	s := threeCoats()
	m := compile(t, s, coat.Options{})
	before := m.Look(60)
	s.Coats[0].ThicknessUM, s.Curve.Points[1].DoseJCM2, s.Curve.Spread[0] = 1, 21, 2
	require.Equal(t, before, m.Look(60))
	require.Equal(t, threeCoats().Coats, m.Stack().Coats)
}

func TestModelProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawStack(t)
		o := coat.Options{
			YuleNielsen: rapid.SampledFrom([]float64{0, 1, 1.5, 2}).Draw(t, "n"),
			Finish:      rapid.SampledFrom(coat.Finishes()).Draw(t, "finish"),
		}
		m, err := s.Compile(o)
		require.NoError(t, err)
		doses := rapid.SliceOfN(rapid.Float64Range(0, 3000), 2, 30).Draw(t, "doses")
		sort.Float64s(doses)
		depth, topShare := 0.0, 1.0
		for _, dose := range doses {
			shown := m.ShowThrough(dose)
			sum := 0.0
			for i, share := range shown.Coverage {
				require.GreaterOrEqual(t, share, 0.0, "layer %d at %g", i, dose)
				sum += share
			}
			require.InDelta(t, 1, sum, 1e-9)
			require.GreaterOrEqual(t, shown.DepthUM, depth-1e-9, "depth at %g", dose)
			require.LessOrEqual(t, shown.Coverage[0], topShare+1e-12, "top coat at %g", dose)
			depth, topShare = shown.DepthUM, shown.Coverage[0]
			requireWithin(t, m, shown.Look)
		}
		for i := 1; i < m.Coats(); i++ {
			require.GreaterOrEqual(t, m.BreakThrough(i), m.BreakThrough(i-1))
		}
	})
}

// requireWithin checks that a look lies between the darkest and the lightest of
// the pure looks.
func requireWithin(t *rapid.T, m *coat.Model, look colour.Linear) {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range m.Coats() + 1 {
		low, high = math.Min(low, m.PureLook(i).R), math.Max(high, m.PureLook(i).R)
	}
	if m.Stack().Curve.ScorchDoseJCM2 > 0 {
		low, high = 0, 1
	}
	require.GreaterOrEqual(t, look.R, low-1e-9)
	require.LessOrEqual(t, look.R, high+1e-9)
}

func TestLookAllocatesNothing(t *testing.T) {
	m := compile(t, threeCoats(), coat.Options{YuleNielsen: 2})
	require.Zero(t, testing.AllocsPerRun(100, func() { m.Look(77) }))
}

func BenchmarkLook(b *testing.B) {
	m := compile(b, threeCoats(), coat.Options{})
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		m.Look(float64(i % 200))
	}
}
