package resample_test

import (
	"context"
	"errors"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

func TestMain(m *testing.M) { goleak.VerifyTestMain(m) }

func speckled(w, h int) *plane.Grey16 {
	p := plane.NewGrey16(w, h)
	for i := range p.Pix {
		p.Pix[i] = uint16(i * 2654435761 >> 9)
	}
	return p
}

// streamed puts the rows of a stream together again.
func streamed(t *testing.T, src *plane.Grey16, crop layout.Crop, cols, rows int, alter func([]uint16)) *plane.Grey16 {
	t.Helper()
	out := plane.NewGrey16(cols, rows)
	next := 0
	require.NoError(t, resample.Stream(t.Context(), src, crop, cols, rows, alter, func(y int, row []uint16) error {
		require.Equal(t, next, y)
		next++
		require.Len(t, row, cols)
		copy(out.Row(y), row)
		return nil
	}))
	require.Equal(t, rows, next)
	return out
}

func TestAStreamIsToSizeRowByRow(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, c := range []struct {
		name       string
		w, h       int
		crop       layout.Crop
		cols, rows int
	}{
		{"one dot", 1, 1, layout.Crop{W: 1, H: 1}, 1, 1},
		{"one row", 9, 1, layout.Crop{W: 9, H: 1}, 40, 1},
		{"enlarged", 61, 47, layout.Crop{X: 3.5, Y: 2.25, W: 50, H: 40}, 900, 720},
		{"shrunk", 300, 900, layout.Crop{W: 300, H: 900}, 100, 301},
		{"a strip and a row", 40, 90, layout.Crop{W: 40, H: 90}, 20, 257},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := speckled(c.w, c.h)
			want, err := resample.ToSize(t.Context(), src, c.crop, c.cols, c.rows)
			require.NoError(t, err)
			for workers := 1; workers <= 8; workers++ {
				runtime.GOMAXPROCS(workers)
				require.Equal(t, want, streamed(t, src, c.crop, c.cols, c.rows, nil), "%d workers", workers)
			}
		})
	}
}

func TestAStreamAltersEachRowOnce(t *testing.T) {
	src, crop := speckled(30, 40), layout.Crop{W: 30, H: 40}
	want, err := resample.ToSize(t.Context(), src, crop, 300, 400)
	require.NoError(t, err)
	got := streamed(t, src, crop, 300, 400, func(row []uint16) {
		for x := range row {
			row[x] += 5
		}
	})
	for i := range want.Pix {
		want.Pix[i] += 5
	}
	require.Equal(t, want, got)
}

func TestAStreamEndsEarly(t *testing.T) {
	src, crop := speckled(100, 2000), layout.Crop{W: 100, H: 2000}
	t.Run("with its taker", func(t *testing.T) {
		full := errors.New("full")
		taken := 0
		err := resample.Stream(t.Context(), src, crop, 400, 8000, nil, func(int, []uint16) error {
			if taken++; taken == 300 {
				return full
			}
			return nil
		})
		require.ErrorIs(t, err, full)
		require.Equal(t, 300, taken)
	})
	t.Run("with its context", func(t *testing.T) {
		ctx, cancel := context.WithCancel(t.Context())
		taken := 0
		err := resample.Stream(ctx, src, crop, 400, 8000, nil, func(int, []uint16) error {
			if taken++; taken == 300 {
				cancel()
			}
			return nil
		})
		require.ErrorIs(t, err, context.Canceled)
		require.Less(t, taken, 8000)
	})
	t.Run("before it begins", func(t *testing.T) {
		err := resample.Stream(t.Context(), src, layout.Crop{W: 101, H: 10}, 4, 4, nil, nil)
		require.ErrorContains(t, err, "crop")
	})
}
