package resample

import (
	"context"
	"math"
	"runtime"
	"testing"
	"time"

	"github.com/nfnt/resize"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func drawCrop(t *rapid.T, w, h int) layout.Crop {
	c := layout.Crop{
		W: float64(w) * rapid.Float64Range(0.05, 1).Draw(t, "crop w"),
		H: float64(h) * rapid.Float64Range(0.05, 1).Draw(t, "crop h"),
	}
	c.X = (float64(w) - c.W) * rapid.Float64Range(0, 1).Draw(t, "crop x")
	c.Y = (float64(h) - c.H) * rapid.Float64Range(0, 1).Draw(t, "crop y")
	return c
}

func TestAnEvenAreaKeepsItsValueToTheLastBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "w"), rapid.IntRange(1, 90).Draw(t, "h")
		value := rapid.Uint16().Draw(t, "value")
		src := filled(w, h, func(int, int) uint16 { return value })
		cols, rows := rapid.IntRange(1, 120).Draw(t, "cols"), rapid.IntRange(1, 120).Draw(t, "rows")
		out, err := ToSize(context.Background(), src, drawCrop(t, w, h), cols, rows)
		require.NoError(t, err)
		require.Equal(t, [2]int{cols, rows}, [2]int{out.W, out.H})
		for _, v := range out.Pix {
			require.Equal(t, value, v)
		}
	})
}

func TestEveryValueStaysEven(t *testing.T) {
	src := plane.NewGrey16(37, 5)
	for value := 0; value <= 65535; value += 257 * 3 {
		for i := range src.Pix {
			src.Pix[i] = uint16(value)
		}
		out, err := ToSize(context.Background(), src, layout.Crop{X: 0.3, Y: 0.1, W: 36.2, H: 4.7}, 11, 3)
		require.NoError(t, err)
		for _, v := range out.Pix {
			require.EqualValues(t, value, v)
		}
	}
}

func TestAnEvenAreaStaysEvenHoweverMuchItShrinks(t *testing.T) {
	for _, value := range []uint16{1, 65533, 65534, 65535} {
		for _, size := range [][2]int{{300_000, 2}, {2, 300_000}} {
			src := filled(size[0], size[1], func(int, int) uint16 { return value })
			out, err := ToSize(context.Background(), src, whole(src), 2, 2)
			require.NoError(t, err)
			require.Equal(t, []uint16{value, value, value, value}, out.Pix)
		}
	}
}

func TestTheSameSizeIsTheSamePicture(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 9}, {9, 1}, {53, 31}} {
		src := filled(size[0], size[1], rough)
		out, err := ToSize(context.Background(), src, whole(src), src.W, src.H)
		require.NoError(t, err)
		require.Equal(t, src.Pix, out.Pix)
	}
}

// The kernel does not reproduce a slope exactly: between its samples it strays,
// here by no more than a fiftieth of a source pixel.
func TestARampStaysARamp(t *testing.T) {
	const slope, offset, stray = 60, 1000, 0.02
	src := filled(1000, 12, func(x, _ int) uint16 { return uint16(offset + slope*x) })
	for _, c := range []struct {
		name       string
		crop       layout.Crop
		cols, rows int
	}{
		{"shrunk", layout.Crop{X: 20.3, Y: 2.2, W: 940.4, H: 6.1}, 317, 3},
		{"shrunk much", layout.Crop{X: 100, Y: 0, W: 800, H: 12}, 20, 1},
		{"enlarged", layout.Crop{X: 333.3, Y: 4, W: 71.7, H: 5}, 400, 30},
		{"nearly the same", layout.Crop{X: 10, Y: 1, W: 901.5, H: 10}, 900, 10},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := ToSize(context.Background(), src, c.crop, c.cols, c.rows)
			require.NoError(t, err)
			step := c.crop.W / float64(c.cols)
			for x := range out.W {
				centre := c.crop.X + (float64(x)+0.5)*step
				if reach := lobes * math.Max(step, 1); centre < reach || centre > 1000-reach {
					continue
				}
				want := offset + slope*(centre-0.5)
				for y := range out.H {
					require.InDelta(t, want, out.Row(y)[x], slope*stray*math.Max(step, 1)+0.5, "column %d", x)
				}
			}
		})
	}
}

func TestTheMeanIsKept(t *testing.T) {
	for _, c := range []struct {
		name       string
		value      func(x, y int) uint16
		cols, rows int
	}{
		{"smooth, shrunk", smooth, 237, 158},
		{"smooth, enlarged", smooth, 901, 601},
		{"rough, shrunk", func(x, y int) uint16 { return rough(x, y)/2 + 16384 }, 237, 158},
		{"stripes a pixel wide", func(x, _ int) uint16 { return uint16(x % 2 * 60000) }, 211, 140},
	} {
		t.Run(c.name, func(t *testing.T) {
			src := filled(600, 400, c.value)
			out, err := ToSize(context.Background(), src, whole(src), c.cols, c.rows)
			require.NoError(t, err)
			require.InEpsilon(t, mean(src), mean(out), 0.001)
		})
	}
}

// A crop that begins a pixel later sees what a picture moved by a pixel shows.
func TestCroppingAndMovingCommute(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dx, dy := rapid.IntRange(0, 9).Draw(t, "dx"), rapid.IntRange(0, 9).Draw(t, "dy")
		src := filled(80, 70, rough)
		moved := filled(80-dx, 70-dy, func(x, y int) uint16 { return rough(x+dx, y+dy) })
		// Quarters of pixels, so that the sum with dx is exact.
		x := 6 + 0.25*float64(rapid.IntRange(40, 60).Draw(t, "x"))
		crop := layout.Crop{X: x, Y: x + 1.25, W: 30.5, H: 20.25}
		cols := rapid.IntRange(28, 60).Draw(t, "cols") // the kernel stays inside both pictures
		rows := rapid.IntRange(19, 60).Draw(t, "rows")
		a, err := ToSize(context.Background(), moved, crop, cols, rows)
		require.NoError(t, err)
		crop.X, crop.Y = crop.X+float64(dx), crop.Y+float64(dy)
		b, err := ToSize(context.Background(), src, crop, cols, rows)
		require.NoError(t, err)
		for i := range a.Pix {
			require.InDelta(t, a.Pix[i], b.Pix[i], 1) // centres differ in the last bit of a float64
		}
	})
}

func TestTheNumberOfWorkersChangesNothing(t *testing.T) {
	src := filled(150, 140, rough)
	crop := layout.Crop{X: 3.3, Y: 4.4, W: 140.1, H: 130.2}
	var first *plane.Grey16
	for _, workers := range []int{1, 2, 3, 7} {
		before := runtime.GOMAXPROCS(workers)
		out, err := ToSize(context.Background(), src, crop, 97, 91)
		runtime.GOMAXPROCS(before)
		require.NoError(t, err)
		if first == nil {
			first = out
		}
		require.Equal(t, first, out)
	}
}

// lasting is a context that ends after so many looks at it.
type lasting struct {
	context.Context
	looks int
}

func (l *lasting) Err() error {
	if l.looks--; l.looks < 0 {
		return context.Canceled
	}
	return nil
}

func TestToSizeStopsWithItsContext(t *testing.T) {
	src := plane.NewGrey16(300, 3000)
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := ToSize(ended, src, whole(src), 10, 10)
	require.ErrorIs(t, err, context.Canceled)
	soon, cancel := context.WithTimeout(context.Background(), time.Millisecond)
	defer cancel()
	_, err = ToSize(soon, src, whole(src), 3000, 3000)
	require.ErrorIs(t, err, context.DeadlineExceeded)

	// A target row may need thousands of source rows: no more than one is begun
	// after the end.
	for i := range src.Pix {
		src.Pix[i] = 1
	}
	down := newTaps(0, 3000, 1)
	r := newRing(src, newTaps(0, 300, 10), down.n)
	require.ErrorIs(t, r.advance(&lasting{context.Background(), 7}, int(down.first[0])), context.Canceled)
	done := 0
	for _, row := range r.rows {
		if row[0] != 0 {
			done++
		}
	}
	require.Equal(t, 7, done)
}

func TestToSizeRefuses(t *testing.T) {
	src := filled(20, 10, rough)
	nan := math.NaN()
	for _, c := range []struct {
		name       string
		src        *plane.Grey16
		crop       layout.Crop
		cols, rows int
		says       string
	}{
		{"an empty picture", plane.NewGrey16(0, 0), layout.Crop{W: 1, H: 1}, 5, 5, "reaches out of the picture of 0 x 0 pixels"},
		{"an empty crop", src, layout.Crop{X: 1, Y: 1, W: 0, H: 4}, 5, 5, "is empty"},
		{"a crop past the picture", src, layout.Crop{X: 1, W: 20, H: 10}, 5, 5, "reaches out of the picture"},
		{"a crop that is no number", src, layout.Crop{X: nan, W: 20, H: 10}, 5, 5, "not a number"},
		{"an infinite crop", src, layout.Crop{W: math.Inf(1), H: 10}, 5, 5, "not a number"},
		{"no columns", src, whole(src), 0, 5, "raster of 0 x 5 dots"},
		{"too many dots", src, whole(src), 40_000, 40_000, "choose another pitch or size"},
		{"a squeeze past memory", plane.NewGrey16(1, 400_000), layout.Crop{W: 1, H: 400_000}, 300, 1, "too unevenly"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := ToSize(context.Background(), c.src, c.crop, c.cols, c.rows)
			require.ErrorContains(t, err, c.says)
		})
	}
}

// The resampling library is the reference on whole-pixel crops. Its weights are
// whole numbers of 1/65536 and its sums are cut twice, so up to 4/65535 of
// difference are its own; beside the edge it starts its taps a pixel late.
func TestToSizeAgreesWithTheLibrary(t *testing.T) {
	const apart = 4
	src := filled(160, 120, func(x, y int) uint16 { return rough(x, y)/2 + 16384 })
	for _, c := range []struct {
		name       string
		crop       layout.Crop
		cols, rows int
	}{
		{"shrunk", layout.Crop{X: 0, Y: 0, W: 160, H: 120}, 97, 73},
		{"shrunk much", layout.Crop{X: 0, Y: 0, W: 160, H: 120}, 21, 15},
		{"enlarged", layout.Crop{X: 0, Y: 0, W: 160, H: 120}, 411, 307},
		{"a crop", layout.Crop{X: 30, Y: 20, W: 90, H: 80}, 64, 56},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := ToSize(context.Background(), src, c.crop, c.cols, c.rows)
			require.NoError(t, err)
			cut := newSheet(int(c.crop.W), int(c.crop.H), 1)
			for y := range cut.h {
				cut.pack(y, src.Row(int(c.crop.Y) + y)[int(c.crop.X):][:cut.w])
			}
			want := newSheet(c.cols, c.rows, 1)
			want.paste(0, 0, resize.Resize(uint(c.cols), uint(c.rows), cut.part(cutBounds(cut)), resize.Lanczos3))
			margin := 1 + int(math.Ceil(lobes*math.Max(1, float64(c.cols)/c.crop.W)))
			row := make([]uint16, c.cols)
			worst := 0.0
			for y := margin; y < c.rows-margin; y++ {
				want.unpack(0, y, row)
				for x := margin; x < c.cols-margin; x++ {
					worst = math.Max(worst, math.Abs(float64(row[x])-float64(out.Row(y)[x])))
				}
			}
			t.Logf("furthest apart: %g/65535", worst)
			require.LessOrEqual(t, worst, float64(apart))
		})
	}
}
