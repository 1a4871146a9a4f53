package fit

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// sharp is a stack of sharp break-throughs under a beam too wide for ripple, so that
// a coarse chart misses them: they lie at 12, 22 and 38 % of power.
func sharp(t testing.TB) *world {
	t.Helper()
	s := threeCoats()
	s.Curve.Spread = []float64{0.04, 0.04, 0.04}
	m := aMachine()
	m.BeamAcross, m.BeamAlong = 0.2, 0.2
	return newWorld(t, s, m)
}

func TestStatusSaysWhatIsNotKnown(t *testing.T) {
	for _, c := range []struct {
		name   string
		powers []float64
		change func(w *world, r *swatch.Readings)
		grade  Grade
		want   []string
	}{
		{"all well", powers(9, 45, 0.5), nil, Good, nil},
		{"two coats between two swatches", []float64{4, 8, 18, 24, 30, 44, 50, 60}, func(w *world, r *swatch.Readings) {
			// paint 2 gives way right after paint 1: no swatch shows it
			for i := range r.Swatches {
				if s := &r.Swatches[i]; s.Setting.PowerPercent >= 18 && s.Setting.PowerPercent < 24 {
					look := w.stack.Coats[0].Colour.Linear()
					s.LinearRGB = &look
				}
			}
		}, Fair, []string{"paint 1 and paint 2 cannot be told apart between 18 and 24 %: burn swatches at 19, 20, 21, 22, 23 %"}},
		{"no swatch inside", []float64{4, 8, 16, 18, 20, 24, 28, 30, 50, 60}, nil, Fair, []string{
			"the spread of paint 1 is assumed, for no swatch lies inside its break-through between 8 and 16 %: burn swatches at 10, 12, 14 %",
			"the spread of paint 3 is assumed, for no swatch lies inside its break-through between 30 and 50 %: burn swatches at 35, 40, 45 %",
		}},
		{"ends early", powers(6, 30, 0.5), nil, Fair, []string{
			"paint 3 was not reached: up to 30 % it still stands, so its dose is a guess: burn swatches above 30 %"}},
		{"begins late", powers(14, 50, 0.5), nil, Fair, []string{
			"paint 1 had given way on the lowest swatch already, 14 %: burn swatches below"}},
		{"alike", powers(9, 45, 0.5), func(w *world, r *swatch.Readings) {
			w.stack.Coats[1].Colour = colour.Stored{R: 48, G: 49, B: 50}
			again := newWorld(t, w.stack, w.machine)
			*r = again.read(t, rand.New(rand.NewPCG(3, 3)), 0.1, 0.2, settings(25, 0.08, 1, powers(9, 45, 0.5)...)...)
		}, Fair, []string{"paint 1 and paint 2 look almost alike"}},
		{"other paint", powers(9, 45, 0.5), func(w *world, r *swatch.Readings) {
			w.stack.Coats[1].Colour = colour.Stored{R: 120, G: 60, B: 120}
		}, Fair, []string{"paint 2 reads as #", "check that the chart is of this stack"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(31, 1))
			w := sharp(t)
			r := w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, c.powers...)...)
			if c.change != nil {
				c.change(w, &r)
			}
			got := fitOf(t, w.stack, r)
			for _, want := range c.want {
				require.Contains(t, got.Status(), want)
			}
			require.Equal(t, c.grade, got.Grade, got.Status())
			if c.want == nil {
				require.Equal(t, "good", got.Status())
			}
		})
	}
}

// Two coats given up between two swatches are bracketed by them, not by belief.
func TestIntervalsEndWhereSwatchesSaySo(t *testing.T) {
	random := rand.New(rand.NewPCG(32, 1))
	w := sharp(t)
	got := fitOf(t, w.stack, w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, 4, 8, 16, 18, 20, 24, 28, 30, 50, 60)...))
	for i, bracket := range [][2]float64{{20, 40}, {50, 60}, {75, 125}} { // doses of the swatches on both sides
		c := got.Coats[i]
		require.Greater(t, c.Low, bracket[0]*0.85)
		require.Less(t, c.High, bracket[1]*1.15)
		require.True(t, c.Low < w.doses[i] && w.doses[i] < c.High)
	}
}

func TestPowersBetween(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      []float64
	}{
		{18, 24, []float64{19, 20, 21, 22, 23}},
		{8, 16, []float64{10, 12, 14}},
		{10, 12, []float64{10.5, 11, 11.5}},
		{10, 10.5, []float64{10.1, 10.2, 10.3, 10.4}},
		{10, 10.05, []float64{10.03}},
		{0, 100, []float64{20, 40, 60, 80}},
	} {
		require.InDeltaSlice(t, c.want, powersBetween(c.low, c.high), 0.011, "%g to %g", c.low, c.high)
	}
}
