package coat_test

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// tableError goes from far below to far above all doses at which anything
// happens and gives the largest and the mean difference between table and model,
// in linear light and in shares of area.
func tableError(m *coat.Model) (worst, mean float64) {
	table := m.Table()
	shares := make([]float32, table.Layers())
	n := 0
	note := func(want float64, got float32) {
		off := math.Abs(want - float64(got))
		worst, mean, n = max(worst, off), mean+off, n+1
	}
	for ln := math.Log(1e-4); ln < math.Log(1e7); ln += 0.0037 {
		dose := float32(math.Exp(ln))
		want := m.ShowThrough(float64(dose))
		r, g, b := table.At(dose)
		note(want.Look.R, r)
		note(want.Look.G, g)
		note(want.Look.B, b)
		table.CoverageAt(dose, shares)
		for i, share := range shares {
			note(want.Coverage[i], share)
		}
	}
	return worst, mean / float64(n)
}

func TestTableAgainstTheModel(t *testing.T) {
	options := rapid.Custom(func(t *rapid.T) coat.Options {
		return coat.Options{YuleNielsen: rapid.SampledFrom([]float64{0, 2}).Draw(t, "n")}
	})
	t.Run("coats that keep their order", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			s := drawStack(t)
			spread := rapid.Float64Range(0.01, 0.6).Draw(t, "spread of all")
			for i := range s.Curve.Spread {
				s.Curve.Spread[i] = spread
			}
			m, err := s.Compile(options.Draw(t, "options"))
			require.NoError(t, err)
			worst, _ := tableError(m)
			require.Less(t, worst, 0.0005)
		})
	})
	t.Run("coats that would overtake", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) {
			s := drawStack(t)
			for i := range s.Curve.Spread {
				s.Curve.Spread[i] = rapid.Float64Range(0.01, 0.6).Draw(t, "spread")
			}
			m, err := s.Compile(options.Draw(t, "options"))
			require.NoError(t, err)
			worst, mean := tableError(m)
			require.Less(t, worst, 0.01)
			require.Less(t, mean, 0.0001)
		})
	})
}

func TestTableToTheEye(t *testing.T) {
	for _, finish := range coat.Finishes() {
		m := compile(t, threeCoats(), coat.Options{Finish: finish})
		table := m.Table()
		worst := 0.0
		for dose := float32(0.5); dose < 2000; dose *= 1.0003 {
			r, g, b := table.At(dose)
			got := colour.Linear{R: float64(r), G: float64(g), B: float64(b)}
			worst = max(worst, colour.DE2000(m.Look(float64(dose)).Lab(), got.Lab()))
		}
		t.Logf("finish %q: largest CIEDE2000 %.4f", finish, worst)
		require.Less(t, worst, 0.05)
	}
}

func TestTableOfASharpBreakThrough(t *testing.T) {
	s := breakingAt([]float64{30, 60}, []float64{0, 0})
	s.Ground.Colour = hex("#ffffff")
	m := compile(t, s, coat.Options{})
	table := m.Table()
	sum, n := 0.0, 0
	for ln := math.Log(20.0); ln < math.Log(90); ln += 0.00005 {
		dose := float32(math.Exp(ln))
		r, _, _ := table.At(dose)
		want := m.Look(float64(dose)).R
		if math.Abs(float64(dose)/60-1) > 1.0/1024 {
			require.Equal(t, float32(want), r, "away from the step, at %g", dose)
		}
		sum += math.Abs(want - float64(r))
		n++
	}
	require.Less(t, sum/float64(n), 0.0005)
}

func TestTableEnds(t *testing.T) {
	s := threeCoats()
	s.Curve.ScorchDoseJCM2 = 0
	table := compile(t, s, coat.Options{}).Table()
	inf := float32(math.Inf(1))
	for _, c := range []struct {
		dose float32
		want colour.Stored
	}{
		{0, s.Coats[0].Colour}, {-5, s.Coats[0].Colour}, {-inf, s.Coats[0].Colour},
		{float32(math.NaN()), s.Coats[0].Colour}, {1e-40, s.Coats[0].Colour},
		{1e9, s.Ground.Colour}, {math.MaxFloat32, s.Ground.Colour}, {inf, s.Ground.Colour},
	} {
		r, g, b := table.At(c.dose)
		require.Equal(t, c.want, colour.Linear{R: float64(r), G: float64(g), B: float64(b)}.Stored(), "dose %g", c.dose)
		shares := make([]float32, table.Layers())
		table.CoverageAt(c.dose, shares)
		top := shares[0] > 0.999
		require.Equal(t, c.want == s.Coats[0].Colour, top, "dose %g", c.dose)
	}
}

func TestLooksIsAtInARow(t *testing.T) {
	table := compile(t, threeCoats(), coat.Options{}).Table()
	doses := []float32{0, -1, float32(math.NaN()), 1e-30, 20, 33, 44.9, 77, 260, 1e9, float32(math.Inf(1))}
	for _, unit := range []float32{1, 0.5, 3} {
		got := make([]coat.Light, len(doses))
		table.Looks(doses, unit, got)
		for i, d := range doses {
			r, g, b := table.At(unit * d)
			require.Equal(t, coat.Light{R: r, G: g, B: b}, got[i], "%g times %g", unit, d)
		}
	}
	table.Looks(nil, 1, nil)
}

func TestTableWhereNothingGivesWay(t *testing.T) {
	s := threeCoats()
	s.Coats[0].ThicknessUM = 1000
	s.Curve.ScorchDoseJCM2 = 0
	m := compile(t, s, coat.Options{})
	worst, _ := tableError(m)
	require.Less(t, worst, 1e-6)
}

func BenchmarkTable(b *testing.B) {
	m := compile(b, threeCoats(), coat.Options{})
	b.ReportAllocs()
	for b.Loop() {
		m.Table()
	}
}

func BenchmarkTableAt(b *testing.B) {
	table := compile(b, threeCoats(), coat.Options{}).Table()
	for _, name := range []string{"even", "rippled"} {
		b.Run(fmt.Sprintf("%s 10 MP", name), func(b *testing.B) {
			doses := make([]float32, 10_000_000)
			for i := range doses {
				doses[i] = 60
				if name == "rippled" {
					doses[i] = float32(60 + 40*math.Sin(float64(i)*0.7))
				}
			}
			b.SetBytes(int64(4 * len(doses)))
			b.ReportAllocs()
			const row = 4000
			looks := make([]coat.Light, row)
			for b.Loop() {
				for i := 0; i < len(doses); i += row {
					table.Looks(doses[i:i+row], 1, looks)
				}
			}
		})
	}
}
