package burn_test

import (
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// A turned exposer gives the light that the raster gets when it is turned a quarter
// clockwise, exposed along its rows, and turned back.
func TestTurnedExposerIsThatOfATurnedRaster(t *testing.T) {
	const w, h, k = 23, 17, 4
	upright, turned := plane.NewBits(w, h), plane.NewBits(h, w)
	for y := range h {
		for x := range w {
			if (x*x+3*y*x+y)%5 < 2 {
				upright.Set(x, y)
				turned.Set(h-1-y, x)
			}
		}
	}
	m := beamOf(0.06, 0.2)
	along, err := burn.NewExposer(m, 0.08, k)
	require.NoError(t, err)
	down, err := burn.NewTurnedExposer(m, 0.08, k)
	require.NoError(t, err)
	light := func(e *burn.Exposer, dots *plane.Bits) [][]float32 {
		var rows [][]float32
		err := e.Expose(t.Context(), burn.OneBit(dots), image.Rect(0, 0, dots.W, dots.H), nil, func(_ int, shares []float32) error {
			rows = append(rows, append([]float32(nil), shares...))
			return nil
		})
		require.NoError(t, err)
		return rows
	}
	want, got, plain := light(along, turned), light(down, upright), light(along, upright)
	differs := float32(0)
	for y := range k * h {
		for x := range k * w {
			require.InDelta(t, want[x][k*h-1-y], got[y][x], 1e-5)
			differs = max(differs, got[y][x]-plain[y][x])
		}
	}
	require.Greater(t, differs, float32(0.1), "the way round matters under a beam that is not round")
}
