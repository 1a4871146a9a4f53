package resample

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// TestTheQuickLoopsGiveThePlainOnesBits holds the loops of several values at once
// against those of one, for every length about a whole number of them.
func TestTheQuickLoopsGiveThePlainOnesBits(t *testing.T) {
	random := rand.New(rand.NewPCG(4, 8))
	values := func(n int) []float32 {
		v := make([]float32, n)
		for i := range v {
			v[i] = float32(random.Float64()*90000 - 12000)
		}
		return v
	}
	for _, size := range []int{1, 2, 3, 4, 5, 7, 8, 9, 15, 16, 17, 31, 33, 100, 1003} {
		for _, step := range []float64{0.1, 0.7, 1, 1.3, 2.9, 17} {
			tp := newTaps(3.3, step*float64(size), size)
			from, to := tp.span()
			padded := values(to - from)
			got, want := make([]float32, size), make([]float32, size)
			resampleRow(got, padded, tp)
			plainRow(want, padded, tp, 0)
			require.Equal(t, want, got, "%d pixels by steps of %g", size, step)
		}
		rows, weight := [4][]float32{values(size), values(size), values(size), values(size)}, [4]float32(values(4))
		got, want := make([]float64, size), make([]float64, size)
		for i := range got {
			got[i] = random.Float64()
		}
		copy(want, got)
		addRows(got, &rows, &weight)
		plainRows(want, &rows, &weight, 0)
		require.Equal(t, want, got, "%d values", size)

		acc := make([]float64, size)
		for i := range acc {
			acc[i] = float64(i%7) / 6 * 65536 * (random.Float64()*1.4 - 0.2)
		}
		copy(acc, []float64{-1e9, -0.5, math.Copysign(0, -1), 0.49999, 0.5, 65534.5, 65535.4, 1e9})
		whole16, plain16 := make([]uint16, size), make([]uint16, size)
		round(whole16, acc)
		plainRound(plain16, acc, 0)
		require.Equal(t, plain16, whole16, "%d values", size)
	}
}

func TestARowDoesNotDependOnTheRowsBeforeIt(t *testing.T) {
	src := plane.NewGrey16(37, 29)
	for i := range src.Pix {
		src.Pix[i] = uint16(i * 40503)
	}
	whole, err := ToSize(t.Context(), src, layout.Crop{X: 1.5, Y: 2.5, W: 30, H: 20}, 90, 60)
	require.NoError(t, err)
	r, err := newResizing(src, layout.Crop{X: 1.5, Y: 2.5, W: 30, H: 20}, 90, 60)
	require.NoError(t, err)
	for y := range 60 {
		row := make([]uint16, 90)
		require.NoError(t, r.rows(t.Context(), y, y+1, func(int) []uint16 { return row }))
		require.Equal(t, whole.Row(y), row, "row %d, begun there", y)
	}
}
