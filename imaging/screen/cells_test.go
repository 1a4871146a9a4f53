package screen

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// plainShares are cells that burn as their own dot does.
func plainShares() *[Patterns]float64 {
	var s [Patterns]float64
	for p := range s {
		s[p] = float64(p >> dotBit(0, 0) & 1)
	}
	return &s
}

func TestCellTableRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(s *[Patterns]float64)
		want   string
	}{
		"not a number":   {func(s *[Patterns]float64) { s[3] = math.NaN() }, "share NaN of cell pattern 3 is out of range: give 0 to 1"},
		"above 1":        {func(s *[Patterns]float64) { s[Patterns-1] = 1.5 }, "share 1.5 of cell pattern 511 is out of range"},
		"falling":        {func(s *[Patterns]float64) { s[1<<4|1] = 0.5 }, "share 1 of cell pattern 16 is more than the 0.5 of pattern 17, which has a dot more"},
		"untouched":      {func(s *[Patterns]float64) { *s = [Patterns]float64{}; add(s, 0.1) }, "share 0.1 of the cell pattern without a dot is not 0"},
		"nothing burned": {func(s *[Patterns]float64) { *s = [Patterns]float64{} }, "next to nothing: give the machine more power"},
	} {
		t.Run(name, func(t *testing.T) {
			shares := plainShares()
			c.change(shares)
			table, err := NewCellTable(shares)
			require.ErrorContains(t, err, c.want)
			require.Nil(t, table)
		})
	}
	for _, radius := range []float64{0.99, 1.42, math.NaN()} {
		_, err := GeometricCells(radius)
		require.ErrorContains(t, err, "half diagonals is out of range: give 1 to 1.4142")
	}
}

func add(s *[Patterns]float64, v float64) {
	for p := range s {
		s[p] += v
	}
}

// Where cells burn as their own dots do, a dot gains one cell, no more, no less.
func TestGainsOfPlainCells(t *testing.T) {
	c, err := NewCellTable(plainShares())
	require.NoError(t, err)
	for side := range c.gains {
		for _, g := range c.gains[side] {
			require.EqualValues(t, full, g)
		}
	}
	dots := mustScreen(t, even16(64, 64, 0.3), Options{Kind: BeamAware, Cells: c})
	require.InDelta(t, dots.Count(), c.Burned(dots, image.Rect(0, 0, 64, 64)), 1e-9)
}

// In a field that burns all over each further dot gains one cell's worth, and the
// first dot of all gains all that it reaches.
func TestGainsAtTheEnds(t *testing.T) {
	alpha, beta, _ := overlaps(DefaultRadius)
	c := defaultCells()
	for side := range c.gains {
		require.InDelta(t, full, c.gains[side][decidedPatterns-1], full*1e-4)
		require.InDelta(t, full*(1+4*alpha+4*beta), c.gains[side][0], full*1e-4)
	}
}

// A table of a beam that is not the same to the left and right: patterns have their
// sides where the comment says, and a row to the left sees the mirror image.
func TestPatternsHaveSides(t *testing.T) {
	shares := plainShares()
	for p := range shares {
		if p>>dotBit(-1, 0)&1 == 1 {
			shares[p] = max(shares[p], 0.25) // a dot spills to the cell on its right
		}
	}
	require.InDelta(t, 0.25, shares[1<<7], 0, "the neighbour to the left")
	c, err := NewCellTable(shares)
	require.NoError(t, err)
	last := 1 // the dot just before burns
	require.EqualValues(t, full, c.gains[0][last], "to the right: this cell had a quarter and the next gets one")
	require.EqualValues(t, full, c.gains[1][last], "to the left: the next cell to the right burns already")
	require.EqualValues(t, full+full/4, c.gains[0][0])
	dots := plane.NewBits(3, 3)
	dots.Set(1, 1)
	require.InDelta(t, 1.25, c.Burned(dots, image.Rect(0, 0, 3, 3)), 1e-9)
	require.InDelta(t, 0.25, c.Burned(dots, image.Rect(2, 0, 5, 5)), 1e-9)
}

// The table of a beam against the dose map of whole patterns, on a beam that
// reaches no further than the eight neighbours.
func TestBeamCellsAgreeWithTheDoseMap(t *testing.T) {
	p := newProofing(t, 1.2, 0.4, 0.2)
	c := p.cells(t)
	for _, pattern := range []int{0, 1 << 4, 1 << 7, 1 << 1, 1 << 5, 1 << 3, 0b101_010_101, 0b111_000_100, 0b010_101_010, Patterns - 1} {
		dots := plane.NewBits(3, 3)
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if pattern>>dotBit(dx, dy)&1 == 1 {
					dots.Set(1+dx, 1+dy)
				}
			}
		}
		require.InDelta(t, p.bare(t, dots, image.Rect(1, 1, 2, 2)), c.Share(pattern), 2e-3, "pattern %09b", pattern)
	}
}

func TestBeamCellsOfAWideBeam(t *testing.T) {
	p := newProofing(t, 6, 0.5, 0.2)
	p.machine.BeamAlong, p.machine.BeamAcross = 2, 2
	p.setting.Pitch = 0.01
	c, err := BeamCells(context.Background(), p.machine, p.setting.Pitch, func(dose float64) float64 { return min(1, dose) })
	require.NoError(t, err)
	require.InDelta(t, 1, c.Share(Patterns-1), 1e-3, "a full field has the full dose")
	require.InDelta(t, 4.0/9, c.Share(0b101_000_101), 0.01, "of a beam of 200 pitches all that counts is how many burn")
}

func TestBeamCellsRefuse(t *testing.T) {
	p := newProofing(t, 2, 0.5, 0.2)
	_, err := BeamCells(context.Background(), p.machine, 0, nil)
	require.ErrorContains(t, err, "pitch")
	_, err = BeamCells(context.Background(), p.machine, 0.1, func(float64) float64 { return math.NaN() })
	require.ErrorContains(t, err, "share NaN")
	_, err = BeamCells(context.Background(), p.machine, 0.1, func(dose float64) float64 { return max(0, 1-dose) })
	require.Error(t, err, "a measure that falls")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = BeamCells(ctx, p.machine, 0.1, nil)
	require.ErrorIs(t, err, context.Canceled)
	_, err = BeamCells(context.Background(), burn.Machine{}, 0.1, nil)
	require.ErrorContains(t, err, "beam_width_along_mm")
}
