package resample

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/nfnt/resize"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func cutBounds(s sheet) image.Rectangle { return image.Rect(0, 0, s.w, s.h) }

func TestAnEvenAreaStaysEvenInAView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "w"), rapid.IntRange(1, 90).Draw(t, "h")
		light := [3]uint16{rapid.Uint16().Draw(t, "r"), rapid.Uint16().Draw(t, "g"), rapid.Uint16().Draw(t, "b")}
		src := plane.NewRGB16(w, h)
		for i := range src.Pix {
			src.Pix[i] = light[i%3]
		}
		crop := drawCrop(t, w, h)
		maxW, maxH := rapid.IntRange(1, 150).Draw(t, "max w"), rapid.IntRange(1, 150).Draw(t, "max h")
		out, err := View(context.Background(), src, crop, maxW, maxH)
		require.NoError(t, err)
		vw, vh := ViewSize(crop, maxW, maxH)
		require.Equal(t, [2]int{vw, vh}, [2]int{out.W, out.H})
		require.True(t, vw == maxW || vh == maxH, "the view fills one side")
		for i, v := range out.Pix {
			require.Equal(t, light[i%3], v)
		}
	})
}

func TestEachChannelOfAViewIsAGreyView(t *testing.T) {
	channels := [3]*plane.Grey16{
		filled(120, 90, rough),
		filled(120, 90, smooth),
		filled(120, 90, func(x, y int) uint16 { return rough(y, x) }),
	}
	src := plane.NewRGB16(120, 90)
	for i := range src.Pix {
		src.Pix[i] = channels[i%3].Pix[i/3]
	}
	for _, size := range []int{1, 13, 50, 200} {
		crop := layout.Crop{X: 5.5, Y: 6.25, W: 100, H: 75}
		view, err := View(context.Background(), src, crop, size, size)
		require.NoError(t, err)
		for c, channel := range channels {
			grey, err := GreyView(context.Background(), channel, crop, size, size)
			require.NoError(t, err)
			for i, v := range grey.Pix {
				require.Equal(t, v, view.Pix[3*i+c])
			}
		}
	}
}

// Strips exist only so that a view can be stopped.
func TestStripsGiveWhatOneCallGives(t *testing.T) {
	const w, h = 700, 900 // more than one strip each way
	for _, channels := range []int{1, 3} {
		s := newSheet(w, h, channels)
		row := make([]uint16, w*channels)
		for y := range h {
			for i := range row {
				row[i] = rough(i, y)
			}
			s.pack(y, row)
		}
		for _, to := range [][2]int{{411, 600}, {700, 500}, {300, 900}, {701, 901}, {700, 900}} {
			got, err := resized(context.Background(), s, to[0], to[1])
			require.NoError(t, err)
			want := newSheet(to[0], to[1], channels)
			want.paste(0, 0, resize.Resize(uint(to[0]), uint(to[1]), s.part(cutBounds(s)), resize.Lanczos3))
			require.Equal(t, want, got, "to %v", to)
		}
	}
}

// On a ramp, a wrong place is a wrong value.
func TestAViewLiesWhereItShould(t *testing.T) {
	const slope = 100
	src := filled(600, 400, func(x, _ int) uint16 { return uint16(1000 + slope*x) })
	down := filled(600, 400, func(_, y int) uint16 { return uint16(1000 + slope*y) })
	rapid.Check(t, func(t *rapid.T) {
		crop := layout.Crop{W: rapid.Float64Range(8, 560).Draw(t, "w")}
		crop.H = crop.W * 0.6
		crop.X = 20 + rapid.Float64Range(0, 1).Draw(t, "x")*(560-crop.W)
		crop.Y = 20 + rapid.Float64Range(0, 1).Draw(t, "y")*(360-crop.H)
		size := rapid.IntRange(10, 500).Draw(t, "size")
		step := crop.W / float64(size)
		edge := lobes * int(math.Ceil(math.Max(1, 1/step))) // where the crop's own edge goes on
		within := slope*(step+0.05) + 4
		a, err := GreyView(context.Background(), src, crop, size, size)
		require.NoError(t, err)
		b, err := GreyView(context.Background(), down, crop, size, size)
		require.NoError(t, err)
		for x := edge; x < a.W-edge; x++ {
			want := 1000 + slope*(crop.X+(float64(x)+0.5)*crop.W/float64(a.W)-0.5)
			require.InDelta(t, want, a.Row(a.H / 2)[x], within)
		}
		for y := edge; y < b.H-edge; y++ {
			want := 1000 + slope*(crop.Y+(float64(y)+0.5)*crop.H/float64(b.H)-0.5)
			require.InDelta(t, want, b.Row(y)[b.W/2], within)
		}
	})
}

// A view is averaged in cells, ToSize is not: on a smooth picture the two must
// not be told apart.
func TestAViewLooksLikeToSize(t *testing.T) {
	src := filled(1200, 800, smooth)
	for _, width := range []int{90, 331, 640, 1100} {
		crop := layout.Crop{X: 60, Y: 40, W: 1080, H: 720}
		view, err := GreyView(context.Background(), src, crop, width, width)
		require.NoError(t, err)
		exact, err := ToSize(context.Background(), src, crop, view.W, view.H)
		require.NoError(t, err)
		sum := 0.0
		for i, v := range view.Pix {
			sum += math.Abs(float64(v) - float64(exact.Pix[i]))
		}
		require.Less(t, sum/float64(len(view.Pix))/65535, 0.005, "%d wide", width)
	}
}

func TestViewRefusesAndStops(t *testing.T) {
	src := filled(20, 10, rough)
	_, err := GreyView(context.Background(), src, layout.Crop{X: 15, W: 10, H: 5}, 50, 50)
	require.ErrorContains(t, err, "reaches out of the picture of 20 x 10 pixels")
	_, err = GreyView(context.Background(), src, whole(src), 0, 50)
	require.ErrorContains(t, err, "view of at most 0 x 50 pixels is outside 1..16384")
	_, err = GreyView(context.Background(), plane.NewGrey16(0, 0), layout.Crop{W: 1, H: 1}, 5, 5)
	require.Error(t, err)
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = GreyView(ended, src, whole(src), 50, 50)
	require.ErrorIs(t, err, context.Canceled)
	_, err = resized(ended, newSheet(5, 5, 1), 3, 3)
	require.ErrorIs(t, err, context.Canceled)
}

func TestAViewOfOnePixelAndOneRow(t *testing.T) {
	one := filled(1, 1, func(int, int) uint16 { return 777 })
	out, err := GreyView(context.Background(), one, whole(one), 7, 7)
	require.NoError(t, err)
	for _, v := range out.Pix {
		require.EqualValues(t, 777, v)
	}
	row := filled(200, 1, smooth)
	out, err = GreyView(context.Background(), row, whole(row), 100, 100)
	require.NoError(t, err)
	require.Equal(t, [2]int{100, 1}, [2]int{out.W, out.H})
}
