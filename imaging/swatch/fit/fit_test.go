package fit

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

func fitOf(t testing.TB, stack coat.Stack, readings ...swatch.Readings) Result {
	t.Helper()
	got, err := Fit(context.Background(), readings, stack, Options{})
	require.NoError(t, err)
	return got
}

func requireBreaks(t testing.TB, want []float64, got Result, within float64) {
	t.Helper()
	for i, c := range got.Coats {
		require.InEpsilon(t, want[i], c.BreakThroughJCM2, within, "coat %d: %s", i, got.Status())
	}
}

func TestCurveGivesTheBreakThroughsBack(t *testing.T) {
	random := rand.New(rand.NewPCG(11, 1))
	s := threeCoats()
	s.Coats[1].ThicknessUM, s.Coats[2].ThicknessUM = 17.3, 41.1 // and a curve with points of its own
	s.Curve.Points = []coat.Point{{DoseJCM2: 15, DepthUM: 0}, {DoseJCM2: 24, DepthUM: 11}, {DoseJCM2: 41, DepthUM: 30}, {DoseJCM2: 110, DepthUM: 90}}
	w := newWorld(t, s, aMachine())
	got := fitOf(t, w.guess(random), w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(4, 60, 2)...)...))
	requireBreaks(t, w.doses, got, 0.03)

	require.True(t, got.Stack.Curve.Calibrated)
	data, err := got.Stack.JSON()
	require.NoError(t, err)
	again, err := coat.ReadStack(data)
	require.NoError(t, err)
	m, err := again.Compile(coat.Options{})
	require.NoError(t, err)
	for i, c := range got.Coats {
		require.InEpsilon(t, c.BreakThroughJCM2, m.BreakThrough(i), 1e-9)
		require.False(t, m.Drawn(i))
		require.Equal(t, c.LnSD, again.Curve.BreakThroughSD[i])
		require.Equal(t, c.Spread, again.Curve.Spread[i])
		require.Equal(t, c.Colour, again.Coats[i].Colour)
		require.Equal(t, w.stack.Coats[i].ThicknessUM, again.Coats[i].ThicknessUM)
		require.True(t, c.Low < c.BreakThroughJCM2 && c.BreakThroughJCM2 < c.High)
	}
}

func TestFitFindsItsWayFromAFarGuess(t *testing.T) {
	for _, factor := range []float64{0.12, 0.3, 4, 9} {
		t.Run(fmt.Sprint(factor), func(t *testing.T) {
			random := rand.New(rand.NewPCG(12, 1))
			w := newWorld(t, threeCoats(), aMachine())
			guess := w.guess(random)
			for i := range guess.Curve.Points {
				guess.Curve.Points[i].DoseJCM2 = factor * w.stack.Curve.Points[i].DoseJCM2
			}
			got := fitOf(t, guess, w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 2)...)...))
			requireBreaks(t, w.doses, got, 0.05)
			require.Equal(t, Good, got.Grade, got.Status())
		})
	}
}

// A dark coat at the bottom of a bright stack looks like the one on top.
func TestFitTellsLikeCoatsByTheirOrder(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 1))
	s := threeCoats()
	s.Coats[2].Colour = s.Coats[0].Colour
	s.Coats[1].Colour = colour.Stored{R: 235, G: 233, B: 228}
	w := newWorld(t, s, aMachine())
	got := fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 2)...)...))
	requireBreaks(t, w.doses, got, 0.05)
}

func TestFitFindsTheScorch(t *testing.T) {
	for _, named := range []bool{true, false} {
		t.Run(fmt.Sprintf("named in the stack %v", named), func(t *testing.T) {
			random := rand.New(rand.NewPCG(14, 1))
			s := threeCoats()
			s.Curve.ScorchDoseJCM2, s.Curve.ScorchColour = 150, colour.Stored{R: 58, G: 42, B: 28}
			w := newWorld(t, s, aMachine())
			guess := w.guess(random)
			guess.Curve.ScorchDoseJCM2 = 220
			if !named {
				guess.Curve.ScorchDoseJCM2, guess.Curve.ScorchColour = 0, colour.Stored{}
			}
			got := fitOf(t, guess, w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 100, 3)...)...))
			requireBreaks(t, w.doses, got, 0.04)
			require.True(t, got.ScorchReached)
			require.InEpsilon(t, 150, got.Stack.Curve.ScorchDoseJCM2, 0.04)
			// The chart ends before the ground is dark all over.
			require.Less(t, colour.DE2000(got.Stack.Curve.ScorchColour.Linear().Lab(), s.Curve.ScorchColour.Linear().Lab()), 4.0)
		})
	}
}

func TestFitSaysThatTheScorchIsAssumed(t *testing.T) {
	random := rand.New(rand.NewPCG(14, 2))
	s := threeCoats()
	s.Curve.ScorchDoseJCM2, s.Curve.ScorchColour = 400, colour.Stored{R: 58, G: 42, B: 28}
	w := newWorld(t, s, aMachine())
	got := fitOf(t, s, w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 2)...)...))
	require.False(t, got.ScorchReached)
	require.InEpsilon(t, 400, got.Stack.Curve.ScorchDoseJCM2, 0.1)
	require.Equal(t, s.Curve.ScorchColour, got.Stack.Curve.ScorchColour)
	require.Contains(t, got.Status(), "scorch dose is assumed")
}

func TestFitFindsThePowerOffset(t *testing.T) {
	random := rand.New(rand.NewPCG(15, 1))
	m := aMachine()
	m.PowerOffsetPercent = 6
	w := newWorld(t, threeCoats(), m)
	all := append(settings(25, 0.08, 1, powers(8, 60, 3)...), settings(12, 0.08, 1, powers(8, 40, 3)...)...)
	r := w.read(t, random, 0.5, 1, all...)
	r.Machine.PowerOffsetPercent = 0 // as the maker has it

	got := fitOf(t, w.guess(random), r)
	require.True(t, got.PowerOffsetFitted)
	require.InDelta(t, 6, got.PowerOffsetPercent, 3*got.PowerOffsetSD)
	require.Less(t, got.PowerOffsetSD, 1.0)
	requireBreaks(t, w.doses, got, 0.05)
	require.Contains(t, got.Status(), "power scale that starts at")

	got, err := Fit(context.Background(), []swatch.Readings{r}, w.guess(random), Options{KeepPowerOffset: true})
	require.NoError(t, err)
	require.False(t, got.PowerOffsetFitted)

	// One speed alone cannot tell an offset from other doses, and none is claimed.
	got = fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(8, 60, 2)...)...))
	require.False(t, got.PowerOffsetFitted)

	// Nor is one where there is none.
	m.PowerOffsetPercent = 0
	w = newWorld(t, threeCoats(), m)
	require.False(t, fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, all...)).PowerOffsetFitted)
}

func TestFitFindsThePassExponent(t *testing.T) {
	random := rand.New(rand.NewPCG(16, 1))
	s := threeCoats()
	s.Curve.PassExponent = 0.8
	w := newWorld(t, s, aMachine())
	guess := w.guess(random)
	guess.Curve.PassExponent = 0
	all := append(settings(25, 0.08, 1, powers(6, 60, 4)...), settings(25, 0.08, 3, powers(4, 30, 3)...)...)
	got := fitOf(t, guess, w.read(t, random, 0.5, 1, all...))
	require.True(t, got.PassExponentFitted)
	require.InDelta(t, 0.8, got.PassExponent, 0.03)
	require.Equal(t, got.PassExponent, got.Stack.Curve.PassExponent)
	requireBreaks(t, w.doses, got, 0.03)

	got = fitOf(t, guess, w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(6, 60, 3)...)...))
	require.False(t, got.PassExponentFitted)
	require.Zero(t, got.Stack.Curve.PassExponent)
}

// Coarse and fine charts of one stack, on machines of unlike light that are named.
func TestFitPutsChartsTogether(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 1))
	weak, strong := newWorld(t, threeCoats(), aMachine()), newWorld(t, threeCoats(), aMachine())
	strong.machine.OpticalPowerW = 10
	a := weak.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(6, 60, 6)...)...)
	b := strong.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(5, 25, 2)...)...)
	got := fitOf(t, weak.guess(random), a, b)
	requireBreaks(t, weak.doses, got, 0.06)
	require.Len(t, got.Swatches, len(a.Swatches)+len(b.Swatches))
	require.Contains(t, []string{got.Swatches[0].ID, got.Swatches[1].ID}, "1/A1")

	// One chart alone knows less.
	alone := fitOf(t, weak.guess(random), a)
	for i := range got.Coats {
		require.Less(t, got.Coats[i].LnSD, alone.Coats[i].LnSD)
	}
}

func TestFitLetsGoOfDamagedSwatches(t *testing.T) {
	random := rand.New(rand.NewPCG(18, 1))
	w := newWorld(t, threeCoats(), aMachine())
	r := w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 2)...)...)
	r.Swatches[4].LinearRGB = &colour.Linear{R: 0.9, G: 0.9, B: 0.9}
	r.Swatches[15].LinearRGB = &colour.Linear{R: 0.6, G: 0.05, B: 0.05}
	r.Swatches[20].LinearRGB, r.Swatches[20].LeftOut = nil, "in shadow"
	r.Swatches[21].Tint = 0.5
	r.Swatches[22].LinearRGB, r.Swatches[22].Width = nil, 0.12
	got := fitOf(t, w.guess(random), r)
	requireBreaks(t, w.doses, got, 0.03)
	for _, s := range got.Swatches {
		require.Equal(t, s.ID != r.Swatches[4].ID && s.ID != r.Swatches[15].ID, s.Agrees, s.ID)
	}
	require.Len(t, got.Swatches, len(r.Swatches)-3)
	require.Contains(t, got.Status(), r.Swatches[4].ID+" (CIEDE2000")
	require.Contains(t, got.Status(), "left out as unreadable: 1")
	require.Contains(t, got.Status(), "which say nothing of the curve: 1")
	require.Contains(t, got.Status(), "lines, whose widths say nothing of the curve: 1")
}

// Where no machine is named, the dose is even and the light that of each reading.
func TestFitWithoutAMachine(t *testing.T) {
	random := rand.New(rand.NewPCG(19, 1))
	m := aMachine()
	m.BeamAcross, m.BeamAlong = 0.3, 0.3 // so wide that the dose is even
	w := newWorld(t, threeCoats(), m)
	r := w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 2)...)...)
	r.Machine = nil
	got := fitOf(t, w.guess(random), r)
	requireBreaks(t, w.doses, got, 0.03)
	require.Contains(t, got.Status(), "beam's width is unknown")

	named, err := Fit(context.Background(), []swatch.Readings{r}, w.guess(random), Options{Machine: &m})
	require.NoError(t, err)
	require.NotContains(t, named.Status(), "beam's width is unknown")
}

// The same readings give the same bytes, on one core and on all.
func TestFitIsAlwaysTheSame(t *testing.T) {
	random := rand.New(rand.NewPCG(20, 1))
	w := newWorld(t, threeCoats(), aMachine())
	r := w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 3)...)...)
	guess := w.guess(random)
	first, err := json.Marshal(fitOf(t, guess, r))
	require.NoError(t, err)
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	second, err := json.Marshal(fitOf(t, guess, r))
	require.NoError(t, err)
	require.Equal(t, string(first), string(second))
}

func TestResultAsJSON(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 1))
	w := newWorld(t, threeCoats(), aMachine())
	data, err := json.Marshal(fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 3)...)...)))
	require.NoError(t, err)
	var got struct {
		BreakThrough   []float64       `json:"break_through_j_per_cm2"`
		BreakThrough95 [][2]float64    `json:"break_through_95"`
		Spread         []float64       `json:"spread"`
		Colours        []colour.Stored `json:"colours"`
		Measured       []bool          `json:"colour_measured"`
		ColourSD       []float64       `json:"colour_sd_de00"`
		GroundMeasured *bool           `json:"ground_colour_measured"`
		GroundSD       float64         `json:"ground_colour_sd_de00"`
		ToldApart      []bool          `json:"told_apart"`
		Residual       float64         `json:"residual_de00"`
		Status         string          `json:"status"`
		Next           []burn.Setting  `json:"next"`
		Swatches       []struct {
			ID   string  `json:"id"`
			DE00 float64 `json:"de00"`
		} `json:"swatches"`
	}
	require.NoError(t, json.Unmarshal(data, &got))
	require.Len(t, got.BreakThrough, 3)
	require.Len(t, got.BreakThrough95, 3)
	require.Len(t, got.Spread, 3)
	require.Len(t, got.Colours, 3)
	require.Len(t, got.Swatches, 19)
	require.Len(t, got.Next, 5)
	require.InDelta(t, 0.6, got.Residual, 0.3)
	require.Contains(t, got.Status, "good")
	require.Equal(t, []bool{false, false, false}, got.Measured, "too noisy")
	require.Equal(t, []bool{true, true, true}, got.ToldApart)
	require.Len(t, got.ColourSD, 3)
	require.Less(t, got.ColourSD[0], got.ColourSD[1])
	require.NotNil(t, got.GroundMeasured)
	require.Greater(t, got.GroundSD, 0.0)
	for i, b := range got.BreakThrough {
		require.True(t, got.BreakThrough95[i][0] < b && b < got.BreakThrough95[i][1])
	}
}

func TestFitOfAnotherStackIsPoor(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 5))
	w := newWorld(t, threeCoats(), aMachine())
	r := w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, powers(4, 60, 4)...)...)
	for _, s := range r.Swatches { // other paints altogether
		s.LinearRGB.R, s.LinearRGB.B = s.LinearRGB.B, s.LinearRGB.R/3
	}
	got := fitOf(t, w.stack, r)
	require.Equal(t, Poor, got.Grade)
	require.Contains(t, got.Status(), "check the stack's colours and order")
}

func BenchmarkFit60Swatches(b *testing.B) {
	for _, coats := range []int{3, 5} {
		b.Run(fmt.Sprintf("%d coats", coats), func(b *testing.B) {
			random := rand.New(rand.NewPCG(22, 1))
			w := anyWorld(b, random, coats)
			r := []swatch.Readings{w.read(b, random, 0.5, 1, settings(25, 0.08, 1, powers(1, 60, 1)...)...)}
			guess := w.guess(random)
			b.ReportAllocs()
			for b.Loop() {
				_, err := Fit(context.Background(), r, guess, Options{})
				require.NoError(b, err)
			}
		})
	}
}

func TestRippleIsThatOfTheLines(t *testing.T) {
	// Source: Poisson sum over Gaussian lines, F(y) = 1 + 2 sum exp(-pi2 k2 w2 / 2 h2)
	// cos(2 pi k y / h): extremes 1.574197 and 0.425803 for w = h/2, and no ripple to
	// speak of from w = h on.
	narrow := aMachine()
	narrow.BeamAcross, narrow.BeamAlong = 0.08, 0.08
	bands, err := ripple(context.Background(), narrow, 0.08)
	require.NoError(t, err)
	area, mean := 0.0, 0.0
	least, most := math.Inf(1), 0.0
	for _, b := range bands {
		area += b.area
		mean += b.area * math.Exp(b.lnShare)
		least, most = math.Min(least, math.Exp(b.lnShare)), math.Max(most, math.Exp(b.lnShare))
	}
	require.InDelta(t, 1, area, 1e-12)
	require.InDelta(t, 1, mean, 1e-4)
	k := float64(burn.ChooseGrid(narrow, 0.08))
	crest := 1 + 2*math.Exp(-math.Pi*math.Pi/8)*math.Cos(math.Pi/k) + 2*math.Exp(-math.Pi*math.Pi/2)*math.Cos(2*math.Pi/k)
	require.InDelta(t, crest, most, 1e-3)
	require.Less(t, least, 0.55)

	wide := narrow
	wide.BeamAcross = 0.2
	bands, err = ripple(context.Background(), wide, 0.08)
	require.NoError(t, err)
	for _, b := range bands {
		require.InDelta(t, 0, b.lnShare, 1e-3)
	}
}
