package job

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// seamOf is the seam between two halves of a raster of 40 x 80 dots, whose dots burn as
// told.
func seamOf(t *testing.T, burns func(x, y int) bool) (*seam, Document, *plane.Bits) {
	t.Helper()
	stack, err := FindStack("graphite-teal-sunflower")
	require.NoError(t, err)
	machine, err := FindMachine("diode-10w")
	require.NoError(t, err)
	d := Blank(stack, machine)
	d.Setting.Pitch = 0.1
	d.Panel.Size, d.Border = layout.Size{W: 4, H: 8}, layout.Border{}
	dots := plane.NewBits(40, 80)
	for y := range dots.H {
		for x := range dots.W {
			if burns(x, y) {
				dots.Set(x, y)
			}
		}
	}
	pl, err := d.Placement()
	require.NoError(t, err)
	part := func(from, to int) layout.Section {
		rows, cols := layout.Range{From: from, To: to}, layout.Range{To: 40}
		return layout.Section{Placement: pl.Part(rows, cols), Rows: rows, Cols: cols}
	}
	s, err := newSeam(t.Context(), d.Recipe(), Raster{Dots: dots}, part(0, 40), part(40, 80))
	require.NoError(t, err)
	return s, d, dots
}

// checks burns every second dot of some even fields.
func checks(x, y int) bool { return (x+y)%2 == 0 || x < 10 }

// Two parts in place give the light of the undivided raster, and moved by whole dots that of
// a raster whose second part lies so many rows further on: the dots are moved as stated.
func TestSeamLightIsThatOfMovedDots(t *testing.T) {
	s, d, dots := seamOf(t, checks)
	exposer, err := burn.NewExposer(d.Machine, d.Setting.Pitch, seamGrid)
	require.NoError(t, err)
	for _, rows := range []int{0, 1, 2, 5} {
		moved := plane.NewBits(40, 80+rows)
		for y := range 80 {
			to := y
			if y >= 40 {
				to += rows
			}
			copy(moved.Row(to), dots.Row(y))
		}
		far := s.cut / seamGrid
		region := [2]int{40 - far, 40 + far}
		row := make([]float32, len(s.before[0]))
		y := 0
		err := exposer.Expose(t.Context(), burn.OneBit(moved), imageRows(40, region), nil, func(at int, shares []float32) error {
			s.laid(at, float64(rows*seamGrid), row)
			for x := range row {
				if diff := row[x] - shares[x]; diff > 1e-4 || diff < -1e-4 {
					t.Fatalf("%d rows apart, sample %d, %d: %g, want %g", rows, x, at, row[x], shares[x])
				}
			}
			y++
			return nil
		})
		require.NoError(t, err)
		require.Equal(t, 2*far*seamGrid, y)
	}
}

func TestSeamInPlaceDoesNotShow(t *testing.T) {
	s, _, _ := seamOf(t, checks)
	require.Zero(t, s.shows(0))
	require.InDelta(t, 0.625, s.burned, 1e-9) // a quarter solid, the rest every second dot
}

// A blank panel shows no slip; in a burned one a gap shows the more the wider it is.
func TestSeamShowsMoreTheWiderItIs(t *testing.T) {
	blank, _, _ := seamOf(t, func(int, int) bool { return false })
	solid, _, _ := seamOf(t, func(int, int) bool { return true })
	before := 0.0
	for _, off := range seamSlips {
		require.Zero(t, blank.shows(off))
		require.Zero(t, blank.shows(-off))
		shows := solid.shows(off)
		require.Greater(t, shows, before)
		before = shows
	}
}

// The picture itself is no seam: a slip that only brings what lies beside it does not count.
func TestSeamBesideAnEdgeOfThePicture(t *testing.T) {
	s, _, _ := seamOf(t, func(_, y int) bool { return y >= 42 }) // the picture begins 0.2 mm below
	require.Less(t, s.shows(0.1), 1.0)
	require.Less(t, s.shows(-0.1), 1.0)
}

func TestSeamWords(t *testing.T) {
	require.Equal(t, "left apart it does not show (0.9), laid over it shows faintly to who looks for it (1.0)", seamWords(0.94, 1))
	require.Equal(t, "left apart it shows as a fine line (3.0), laid over it shows plainly as a line (6.0)", seamWords(3, 6))
}

// imageRows is a band of rows of a raster of some width.
func imageRows(w int, rows [2]int) image.Rectangle { return image.Rect(0, rows[0], w, rows[1]) }
