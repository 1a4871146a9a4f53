package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand: 900 mm of a panel under a bed of 400 mm are three sections of 300 mm,
// their centres 300 mm apart and 150 mm from the ends.
func TestSectionsOfALongPanel(t *testing.T) {
	fit, err := Reach{Bed: Bed{400, 400}, RunUp: 5}.Fit(placed(t, 300, 900, 0, 0.1), Cuts{})
	require.NoError(t, err)
	require.Len(t, fit.Sections, 3)
	for i, want := range []struct {
		rows    Range
		centreY MM
		move    string
		mark    string
	}{
		{Range{0, 3000}, 300, "", "on the left side, 300 mm above the middle, 150 mm from the top end"},
		{Range{3000, 6000}, 0, "move the panel 300 mm, top end first", "on the left side, 0 mm above the middle, 450 mm from the top end"},
		{Range{6000, 9000}, -300, "move the panel 300 mm, top end first", "on the left side, 300 mm below the middle, 750 mm from the top end"},
	} {
		got := fit.Sections[i]
		require.Equal(t, i+1, got.Number)
		require.Equal(t, want.rows, got.Rows)
		require.Equal(t, Range{0, 3000}, got.Cols)
		require.Equal(t, Grid{Cols: 3000, Rows: 3000, Pitch: 0.1}, got.Grid)
		requirePoint(t, Point{0, want.centreY}, got.Centre, 1e-9)
		requirePoint(t, Point{-150, want.centreY + 150}, got.Corners[0], 1e-9)
		requirePoint(t, Point{150, want.centreY - 150}, got.Corners[2], 1e-9)
		require.Equal(t, want.move, got.Move.String())
		require.Equal(t, want.mark, got.Marks[0].String())
		requirePoint(t, Point{150, want.centreY}, got.Marks[1].At, 1e-9)
		require.Equal(t, RightSide, got.Marks[1].Side)
	}
}

func TestSectionsOfAWidePanel(t *testing.T) {
	fit, err := Reach{Bed: Bed{400, 400}, RunUp: 5}.Fit(placed(t, 610, 310, 5, 0.1), Cuts{})
	require.NoError(t, err)
	require.Len(t, fit.Sections, 2)
	first, second := fit.Sections[0], fit.Sections[1]
	require.Equal(t, Range{0, 3000}, first.Cols)
	require.Equal(t, Range{3000, 6000}, second.Cols)
	require.Equal(t, Range{0, 3000}, second.Rows)
	require.Equal(t, Move{By: 300, Lead: LeftSide}, second.Move)
	require.Equal(t, "on the top side, 150 mm left of the middle, 155 mm from the left end", first.Marks[0].String())
	require.Equal(t, "on the bottom side, 150 mm right of the middle, 455 mm from the left end", second.Marks[1].String())
	require.InDelta(t, 305, float64(second.Left.Left), 1e-9, "from the panel's left side to the section")
}

// Sections share the rows and columns out: each once, none left. Each can be
// burned, and their corners add up to those of the whole.
func TestSectionsMakeUpTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(60, 900)
		pitch := MM(rapid.Float64Range(0.05, 0.5).Draw(t, "pitch"))
		pl := placed(t, MM(side.Draw(t, "w")), MM(side.Draw(t, "h")), MM(rapid.Float64Range(0, 25).Draw(t, "border")), pitch)
		r := Reach{
			Bed:      Bed{MM(side.Draw(t, "bed w")), MM(side.Draw(t, "bed h"))},
			RunUp:    MM(rapid.Float64Range(0, 20).Draw(t, "run-up")),
			Sideways: rapid.Bool().Draw(t, "sideways"),
		}
		busy := rapid.IntRange(1, 50).Draw(t, "busy")
		cost := func(row int) float64 { return float64(row * 7919 % busy) }
		fit, err := r.Fit(pl, Cuts{Window: MM(rapid.Float64Range(0, 60).Draw(t, "window")), RowCost: cost, ColCost: cost})
		require.NoError(t, err)
		if fit.How == NotAtAll {
			require.Empty(t, fit.Sections)
			return
		}
		rows, cols := make([]int, pl.Grid.Rows), make([]int, pl.Grid.Cols)
		var dots int64
		for i, s := range fit.Sections {
			require.Equal(t, i+1, s.Number)
			require.Positive(t, s.Grid.Dots())
			dots += s.Grid.Dots()
			count(rows, s.Rows)
			count(cols, s.Cols)
			require.True(t, r.holds(way{turned: fit.Turned}.onBed(s.Grid.Size())), "section %d is too large", i+1)
			if i > 0 {
				last := fit.Sections[i-1]
				require.InDelta(t, float64(abs(s.Centre.X-last.Centre.X)+abs(s.Centre.Y-last.Centre.Y)), float64(s.Move.By), 1e-9)
				require.Positive(t, float64(s.Move.By))
				shared, ends := [2]int{0, 1}, [2]int{3, 2} // the upper corners follow on the lower ones
				if s.Move.Lead == LeftSide {
					shared, ends = [2]int{0, 3}, [2]int{1, 2}
				}
				for j := range shared {
					requirePoint(t, last.Corners[ends[j]], s.Corners[shared[j]], 1e-9)
				}
			}
		}
		require.Equal(t, pl.Grid.Dots(), dots)
		first, last := fit.Sections[0], fit.Sections[len(fit.Sections)-1]
		requirePoint(t, pl.Corners[0], first.Corners[0], 1e-9)
		requirePoint(t, pl.Corners[2], last.Corners[2], 1e-9)
		times := map[int]bool{}
		for _, n := range append(rows, cols...) {
			times[n] = true
		}
		delete(times, 1)                 // the way that is cut: once each
		delete(times, len(fit.Sections)) // the other way: in each section
		require.Empty(t, times)
	})
}

func count(into []int, r Range) {
	for i := r.From; i < r.To; i++ {
		into[i]++
	}
}
