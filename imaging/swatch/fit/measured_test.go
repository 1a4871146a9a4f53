package fit

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// The middle paint of sharp breaks through from 12 to 22 % of power: it shows alone
// there and nowhere else.
func TestColourIsMeasuredWhereSwatchesShowItAlone(t *testing.T) {
	for _, c := range []struct {
		name     string
		powers   []float64
		measured []bool // coats, then the ground
		says     []string
	}{
		{"shown alone", powers(9, 45, 0.5), []bool{true, true, true, true}, nil},
		{"one swatch alone", append(append(powers(9, 12, 0.5), 16), powers(21.5, 45, 0.5)...), []bool{true, false, true, true}, []string{
			"the colour of paint 2", "one swatch only shows it alone: burn swatches at 14, 17, 19.5 %"}},
		{"no swatch alone", append(powers(9, 12, 0.5), powers(21.5, 45, 0.5)...), []bool{true, false, true, true}, []string{
			"the colour of paint 2", "no swatch shows it alone: burn swatches at 14, 17, 19.5 %"}},
		{"ends within the last coat", powers(6, 30, 0.5), []bool{true, true, true, false}, []string{
			"the colour of the ground is the label's, for no swatch shows it"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(51, 1))
			w := sharp(t)
			guess := w.guess(random)
			got := fitOf(t, guess, w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, c.powers...)...))
			var measured []bool
			for i, coat := range got.Coats {
				measured = append(measured, coat.Paint.Measured)
				if coat.Paint.Measured {
					require.Less(t, colour.DE2000(coat.Colour.Linear().Lab(), w.stack.Coats[i].Colour.Linear().Lab()), 2.0)
				}
			}
			require.Equal(t, c.measured, append(measured, got.Ground.Measured), got.Status())
			for _, words := range c.says {
				require.Contains(t, got.Status(), words)
			}
			if c.says == nil {
				require.Equal(t, "good", got.Status())
			}
			if !got.Ground.Measured {
				require.Equal(t, Fair, got.Grade)
				require.Greater(t, got.Ground.SDDE00, 3.0)
				require.Less(t, colour.DE2000(guess.Ground.Colour.Linear().Lab(), got.Stack.Ground.Colour.Linear().Lab()), 1.0)
			}
		})
	}
}

// Words tell where coats give way and nothing of their colours.
func TestWordsMeasureNoColour(t *testing.T) {
	random := rand.New(rand.NewPCG(52, 1))
	w := sharp(t)
	guess := w.guess(random)
	got := fitOf(t, guess, w.byEye(t, random, settings(25, 0.08, 1, powers(6, 60, 1)...)))
	for i, c := range got.Coats {
		require.False(t, c.Paint.Measured)
		require.Zero(t, c.Paint.Alone)
		require.InDelta(t, paintSD*1.732, c.Paint.SDDE00, 1.5)
		require.Equal(t, guess.Coats[i].Colour, c.Colour)
		require.True(t, c.ToldApart)
	}
	require.Equal(t, Fair, got.Grade)
	require.Contains(t, got.Status(), "all colours are the labels', for the swatches were read by eye")
}

func TestColourOfUnevenRippleComesFromMixtures(t *testing.T) {
	random := rand.New(rand.NewPCG(21, 1))
	w := newWorld(t, threeCoats(), aMachine()) // lines as far apart as the beam is wide
	got := fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, settings(25, 0.08, 1, powers(4, 60, 3)...)...))
	require.False(t, got.Coats[1].Paint.Measured)
	require.Less(t, got.Coats[1].Paint.SDDE00, 2.0)
	require.Equal(t, Good, got.Grade)
	require.Contains(t, got.Status(), "never seen alone, but worked out from mixtures: the colour of paint 2 (to CIEDE2000 1.")
}

func TestCoatsThatCannotBeToldApart(t *testing.T) {
	for name, c := range map[string]struct {
		change func(w *world) *world
		powers []float64
		want   []bool
	}{
		"all apart":   {nil, powers(9, 45, 0.5), []bool{true, true, true}},
		"not reached": {nil, powers(6, 30, 0.5), []bool{true, true, false}},
		"alike": {func(w *world) *world {
			w.stack.Coats[1].Colour = colour.Stored{R: 48, G: 49, B: 50}
			return newWorld(t, w.stack, w.machine)
		}, powers(9, 45, 0.5), []bool{false, true, true}},
		"between two swatches": {nil, []float64{4, 6, 8, 26, 27, 28, 29, 45, 50, 55, 60}, []bool{false, true, true}},
	} {
		t.Run(name, func(t *testing.T) {
			random := rand.New(rand.NewPCG(53, 1))
			w := sharp(t)
			if c.change != nil {
				w = c.change(w)
			}
			got := fitOf(t, w.stack, w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, c.powers...)...))
			var told []bool
			for _, c := range got.Coats {
				told = append(told, c.ToldApart)
			}
			require.Equal(t, c.want, told, got.Status())
			if name == "between two swatches" {
				require.Contains(t, got.Status(), "paint 1 and paint 2 cannot be told apart between 8 and 26 %")
				require.Contains(t, got.Status(), "the colour of paint 2 is the label's, for no swatch shows it")
			}
		})
	}
}

// A swatch that the fit lets go of measures nothing.
func TestSpoiltSwatchesMeasureNoColour(t *testing.T) {
	random := rand.New(rand.NewPCG(54, 1))
	w := sharp(t)
	all := append(append(powers(9, 12, 0.5), 16, 17), powers(21.5, 45, 0.5)...)
	r := w.read(t, random, 0.3, 0.6, settings(25, 0.08, 1, all...)...)
	require.True(t, fitOf(t, w.stack, r).Coats[1].Paint.Measured)
	spoil(r, 17)
	got := fitOf(t, w.stack, r)
	require.False(t, got.Coats[1].Paint.Measured, got.Status())
	require.Equal(t, 1, got.Coats[1].Paint.Alone)
}

func spoil(r swatch.Readings, power float64) {
	for i := range r.Swatches {
		if r.Swatches[i].Setting.PowerPercent == power {
			white := colour.Linear{R: 0.9, G: 0.9, B: 0.9}
			r.Swatches[i].LinearRGB = &white
		}
	}
}
