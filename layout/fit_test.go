package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func placed(t require.TestingT, w, h, border, pitch MM) Placement {
	pl, err := Place(Panel{Kind: Board, Size: Size{w, h}}, Even(border), pitch)
	require.NoError(t, err)
	return pl
}

// The sizes of canvases are those that are sold: 8x10 in, 16x20 in and 12x36 in.
// Source: colorbay.com, canvas sizes. Whether they fit follows by arithmetic.
func TestFitKinds(t *testing.T) {
	for _, test := range []struct {
		name     string
		w, h     MM
		reach    Reach
		how      How
		turned   bool
		sections int
		words    string
	}{
		{"8x10 in upright", 8 * Inch, 10 * Inch, Reach{Bed: Bed{400, 400}, RunUp: 5}, Upright, false, 1,
			"the panel fits as it is"},
		{"16x20 in turned", 16 * Inch, 20 * Inch, Reach{Bed: Bed{600, 430}, RunUp: 5}, Turned, true, 1,
			"the panel fits turned by a quarter clockwise, its top to the right, and its raster with it"},
		{"12x36 in moved along", 12 * Inch, 36 * Inch, Reach{Bed: Bed{400, 400}, RunUp: 5}, InSections, false, 3,
			"the panel fits in 3 sections, and is moved along top end first between them"},
		{"36x12 in turned and moved along", 36 * Inch, 12 * Inch, Reach{Bed: Bed{400, 400}, RunUp: 5}, InSections, true, 3,
			"the panel fits in 3 sections, turned by a quarter clockwise, and is moved along left end first between them"},
		{"lines too long either way", 300, 300, Reach{Bed: Bed{200, 200}}, NotAtAll, false, 0,
			"a bed of 200 x 200 mm holds no line of 300 mm either way: a border of 50.1 mm left and 50.1 mm right, 0 mm top and 0 mm bottom would still fit in sections, or choose a smaller panel"},
		{"only the run-up is too much", 400, 400, Reach{Bed: Bed{400, 400}, RunUp: 5}, NotAtAll, false, 0,
			"a bed of 400 x 400 mm holds no line of 400 mm either way with 5 mm run-up at both ends: a border of 5.1 mm left and 5.1 mm right, 0 mm top and 0 mm bottom would still fit, or move it along its lines as well if the frame lets a panel through sideways, or choose a smaller panel"},
		{"rails in the way", 300, 190, Reach{Bed: Bed{160, 200}, RunUp: 5}, NotAtAll, false, 0,
			"a bed of 160 x 200 mm holds no line of 300 or 190 mm either way with 5 mm run-up at both ends: a border of 0 mm left and 0 mm right, 20.1 mm top and 20.1 mm bottom would still fit in sections, or move it along its lines as well if the frame lets a panel through sideways, or choose a smaller panel"},
		{"sideways, lines cut", 300, 190, Reach{Bed: Bed{160, 200}, RunUp: 5, Sideways: true}, InSections, false, 2,
			"the panel fits in 2 sections, and is moved along left end first between them"},
		{"sideways is not needed", 300, 500, Reach{Bed: Bed{310, 310}, RunUp: 5, Sideways: true}, InSections, false, 2,
			"top end first"},
	} {
		t.Run(test.name, func(t *testing.T) {
			fit, err := test.reach.Fit(placed(t, test.w, test.h, 0, 0.1), Cuts{})
			require.NoError(t, err)
			require.Equal(t, test.how, fit.How)
			require.Equal(t, test.turned, fit.Turned)
			require.Len(t, fit.Sections, test.sections)
			require.Contains(t, fit.Words, test.words)
			require.Equal(t, fit.Instead != nil, test.how == NotAtAll)
		})
	}
}

func TestFitWithoutAnyBorderThatHelps(t *testing.T) {
	fit, err := Reach{Bed: Bed{20, 20}, RunUp: 15}.Fit(placed(t, 300, 300, 5, 0.1), Cuts{})
	require.NoError(t, err)
	require.Equal(t, NotAtAll, fit.How)
	require.Nil(t, fit.Instead)
	require.Equal(t, "a bed of 20 x 20 mm holds no line of 290 mm either way with 15 mm run-up at both ends: choose a smaller panel", fit.Words)
}

func TestFitRefuses(t *testing.T) {
	good, nan := Reach{Bed: Bed{400, 400}, RunUp: 5}, MM(math.NaN())
	pl := placed(t, 300, 900, 0, 0.1)
	for name, test := range map[string]struct {
		reach   Reach
		pl      Placement
		cuts    Cuts
		because string
	}{
		"no bed":           {Reach{}, pl, Cuts{}, "bed: size 0 x 0 mm is not possible"},
		"bed NaN":          {Reach{Bed: Bed{nan, 5}}, pl, Cuts{}, "bed: size NaN x 5 mm"},
		"run-up negative":  {Reach{Bed: good.Bed, RunUp: -1}, pl, Cuts{}, "run-up -1 mm is not possible"},
		"run-up NaN":       {Reach{Bed: good.Bed, RunUp: nan}, pl, Cuts{}, "run-up NaN mm"},
		"no raster":        {good, Placement{}, Cuts{}, "raster of 0 x 0 dots"},
		"window NaN":       {good, pl, Cuts{Window: nan}, "window NaN mm"},
		"window negative":  {good, pl, Cuts{Window: -2}, "window -2 mm"},
		"cost NaN":         {good, pl, Cuts{RowCost: func(int) float64 { return math.NaN() }}, "cost NaN of row or column"},
		"cost below 0":     {good, pl, Cuts{RowCost: func(int) float64 { return -1 }}, "cost -1 of row or column"},
		"cost without end": {good, pl, Cuts{RowCost: func(int) float64 { return math.Inf(1) }}, "cost +Inf of row or column"},
	} {
		t.Run(name, func(t *testing.T) {
			fit, err := test.reach.Fit(test.pl, test.cuts)
			require.ErrorContains(t, err, test.because)
			require.Zero(t, fit)
			requireSentence(t, err)
		})
	}
}

// The border that is offered fits, and is no more than a few tenths of a
// millimetre wider than it must be.
func TestBorderInsteadFits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(60, 900)
		border := MM(rapid.Float64Range(0, 25).Draw(t, "border"))
		pitch := MM(rapid.Float64Range(0.05, 0.5).Draw(t, "pitch"))
		pl := placed(t, MM(side.Draw(t, "w")), MM(side.Draw(t, "h")), border, pitch)
		r := Reach{
			Bed:      Bed{MM(side.Draw(t, "bed w")), MM(side.Draw(t, "bed h"))},
			RunUp:    MM(rapid.Float64Range(0, 20).Draw(t, "run-up")),
			Sideways: rapid.Bool().Draw(t, "sideways"),
		}
		fit, err := r.Fit(pl, Cuts{})
		require.NoError(t, err)
		if fit.Instead == nil {
			return
		}
		again, err := Place(pl.Panel, *fit.Instead, pitch)
		require.NoError(t, err)
		got, err := r.Fit(again, Cuts{})
		require.NoError(t, err)
		require.NotEqual(t, NotAtAll, got.How)

		narrower := *fit.Instead
		narrower.Left, narrower.Right = max(border, narrower.Left-2*pitch-0.2), max(border, narrower.Right-2*pitch-0.2)
		narrower.Top, narrower.Bottom = max(border, narrower.Top-2*pitch-0.2), max(border, narrower.Bottom-2*pitch-0.2)
		less, err := Place(pl.Panel, narrower, pitch)
		require.NoError(t, err)
		got, err = r.Fit(less, Cuts{})
		require.NoError(t, err)
		require.Equal(t, NotAtAll, got.How, "%v would have done", narrower)
	})
}
