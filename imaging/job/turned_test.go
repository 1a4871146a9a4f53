package job

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// A panel that fits only turned is proofed with the lines along its height: as the turned
// panel burned upright and turned back.
func TestProofOfAPanelThatLiesTurned(t *testing.T) {
	stack, err := FindStack("graphite-teal-sunflower")
	require.NoError(t, err)
	machine, err := FindMachine("diode-10w")
	require.NoError(t, err)
	machine.BeamAlong, machine.BeamAcross = 0.06, 0.3
	machine.RunUp = 0
	proofed := func(size, bed layout.Size, burns func(x, y int) bool) (*image.RGBA, proof.Recipe) {
		d := Blank(stack, machine)
		d.Setting.Pitch = 0.1
		d.Panel.Size, d.Border = size, layout.Border{}
		d.Machine.Bed = bed
		pl, err := d.Placement()
		require.NoError(t, err)
		dots := plane.NewBits(pl.Grid.Cols, pl.Grid.Rows)
		for y := range dots.H {
			for x := range dots.W {
				if burns(x, y) {
					dots.Set(x, y)
				}
			}
		}
		img, err := d.PanelProof(t.Context(), d.Recipe(), Raster{Dots: dots}, pl, max(dots.W, dots.H), nil)
		require.NoError(t, err)
		return img, d.Recipe()
	}
	burns := func(x, y int) bool { return x/3%2 == 0 && y > 12 }
	const w, h = 30, 20 // of 0.1 mm, in units that a panel may have
	wide, tall := layout.Size{W: 30, H: 20}, layout.Size{W: 20, H: 30}
	turned, recipe := proofed(wide, layout.Size{W: 22, H: 40}, burns)
	require.True(t, recipe.Turned)
	upright, recipe := proofed(tall, layout.Size{W: 22, H: 40}, func(x, y int) bool { return burns(y, 10*h-1-x) })
	require.False(t, recipe.Turned)
	along, recipe := proofed(wide, layout.Size{W: 40, H: 40}, burns)
	require.False(t, recipe.Turned)
	most := 0
	for y := range 10 * h {
		for x := range 10 * w {
			got, want, other := turned.RGBAAt(x, y), upright.RGBAAt(10*h-1-y, x), along.RGBAAt(x, y)
			require.InDelta(t, want.R, got.R, 1, "%d, %d", x, y)
			require.InDelta(t, want.G, got.G, 1, "%d, %d", x, y)
			most = max(most, int(got.R)-int(other.R), int(other.R)-int(got.R))
		}
	}
	require.Greater(t, most, 8, "the way round shows under a beam that is not round")
}

// The lines of a panel moved along them run across the seam: that is the seam between the
// rows of a turned panel.
func TestSeamOfSectionsSideways(t *testing.T) {
	stack, err := FindStack("graphite-teal-sunflower")
	require.NoError(t, err)
	machine, err := FindMachine("diode-10w")
	require.NoError(t, err)
	machine.BeamAlong, machine.BeamAcross = 0.06, 0.3
	d := Blank(stack, machine)
	d.Setting.Pitch = 0.1
	shown := func(columns, turned bool) []float64 {
		d.Panel.Size, d.Border = layout.Size{W: 4, H: 8}, layout.Border{}
		if columns {
			d.Panel.Size = layout.Size{W: 8, H: 4}
		}
		pl, err := d.Placement()
		require.NoError(t, err)
		dots := plane.NewBits(pl.Grid.Cols, pl.Grid.Rows)
		for y := range dots.H {
			for x := range dots.W {
				if a, b := x, y; (columns && checks(b, a)) || (!columns && checks(a, b)) {
					dots.Set(x, y)
				}
			}
		}
		part := func(from, to int) layout.Section {
			rows, cols := layout.Range{From: from, To: to}, layout.Range{To: dots.W}
			if columns {
				rows, cols = layout.Range{To: dots.H}, layout.Range{From: from, To: to}
			}
			return layout.Section{Placement: pl.Part(rows, cols), Rows: rows, Cols: cols}
		}
		r := d.Recipe()
		r.Turned = turned
		s, err := newSeam(t.Context(), r, Raster{Dots: dots}, part(0, 40), part(40, 80))
		require.NoError(t, err)
		return []float64{s.shows(0.2), s.shows(-0.2)}
	}
	require.InDeltaSlice(t, shown(true, false), shown(false, true), 1e-6, "lines across the seam either way")
	require.InDeltaSlice(t, shown(true, true), shown(false, false), 1e-6, "lines along the seam either way")
	require.NotEqual(t, shown(true, false), shown(true, true))
}
