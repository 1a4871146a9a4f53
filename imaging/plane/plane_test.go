package plane_test

import (
	"context"
	"errors"
	"image"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
)

func TestRowsShareThePlane(t *testing.T) {
	g := plane.NewGrey16(3, 2)
	g.Row(1)[2] = 7
	require.Equal(t, []uint16{0, 0, 0, 0, 0, 7}, g.Pix)
	p := plane.NewRGB16(1, 2)
	p.Row(1)[0] = 9
	require.Equal(t, []uint16{0, 0, 0, 9, 0, 0}, p.Pix)
	require.Empty(t, plane.NewGrey16(0, 5).Row(4))
}

func TestBitsCountAndSpanAgainstDotByDot(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 4).Draw(t, "h")
		b := plane.NewBits(w, h)
		for y := range h {
			for x := range w {
				if rapid.IntRange(0, 4).Draw(t, "dot") == 0 {
					b.Set(x, y)
				}
			}
		}
		r := image.Rect(
			rapid.IntRange(-3, w+3).Draw(t, "x0"), rapid.IntRange(-3, h+3).Draw(t, "y0"),
			rapid.IntRange(-3, w+3).Draw(t, "x1"), rapid.IntRange(-3, h+3).Draw(t, "y1"))
		inside, all := 0, 0
		for y := range h {
			first, last, ok := -1, -1, false
			for x := range w {
				if !b.At(x, y) {
					continue
				}
				all++
				if image.Pt(x, y).In(r) {
					inside++
				}
				if !ok {
					first, ok = x, true
				}
				last = x
			}
			gotFirst, gotLast, gotOK := b.Span(y)
			require.Equal(t, ok, gotOK)
			if ok {
				require.Equal(t, []int{first, last}, []int{gotFirst, gotLast})
			}
		}
		require.Equal(t, all, b.Count())
		require.Equal(t, inside, b.CountRect(r))
	})
}

func TestSplitRowsCoversEveryRowOnce(t *testing.T) {
	for _, rows := range []int{0, 1, 2, 3, 17, 1000} {
		seen := make([]int32, rows)
		err := plane.SplitRows(context.Background(), rows, func(_ context.Context, y0, y1 int) error {
			for y := y0; y < y1; y++ {
				atomic.AddInt32(&seen[y], 1)
			}
			return nil
		})
		require.NoError(t, err)
		for y, n := range seen {
			require.Equal(t, int32(1), n, "row %d of %d", y, rows)
		}
	}
}

func TestSplitRowsGivesTheCause(t *testing.T) {
	cause := errors.New("row 5 is bad")
	err := plane.SplitRows(context.Background(), 8, func(ctx context.Context, y0, y1 int) error {
		if y0 <= 5 && 5 < y1 {
			return cause
		}
		<-ctx.Done() // ends only because the other part failed
		return ctx.Err()
	})
	require.ErrorIs(t, err, cause)
}

func TestSplitRowsStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	err := plane.SplitRows(ctx, 4, func(ctx context.Context, _, _ int) error { return ctx.Err() })
	require.ErrorIs(t, err, context.Canceled)
}
