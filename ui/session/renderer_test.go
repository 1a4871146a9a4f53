package session

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// waves is a picture with detail of all sizes down to a few pixels.
func waves(w, h int) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for y := range h {
		row := g.Row(y)
		for x := range row {
			r := math.Hypot(float64(x)-float64(w)/3, float64(y)-float64(h)/4)
			row[x] = uint16(32768 + 30000*math.Sin(r*r/float64(40*(w+h))))
		}
	}
	return g
}

func TestViewsFromASmallerCopyLookTheSame(t *testing.T) {
	light := waves(1001, 799) // odd sides: the copy's pixels are no whole number of the light's
	for name, tt := range map[string]struct {
		crop layout.Crop
		f    Frame
		by   int
	}{
		"whole":         {layout.Crop{W: 1001, H: 799}, Frame{W: 200, H: 160}, 4},
		"part":          {layout.Crop{X: 211.4, Y: 97.7, W: 500, H: 400}, Frame{W: 240, H: 192}, 2},
		"at the corner": {layout.Crop{X: 501, Y: 399, W: 500, H: 400}, Frame{W: 120, H: 96}, 4},
		"as large":      {layout.Crop{X: 10, Y: 20, W: 300, H: 200}, Frame{W: 300, H: 200}, 1},
		"enlarged":      {layout.Crop{X: 10, Y: 20, W: 60, H: 40}, Frame{W: 300, H: 200}, 1},
	} {
		t.Run(name, func(t *testing.T) {
			r := newRenderer()
			got, err := r.view(t.Context(), light, tt.crop, tt.f, 0)
			require.NoError(t, err)
			require.Equal(t, tt.by, r.small[0].key.by)
			w, h := resample.ViewSize(tt.crop, tt.f.W, tt.f.H)
			require.Equal(t, []int{w, h}, []int{got.W, got.H})
			want, err := resample.ToSize(t.Context(), light, tt.crop, w, h)
			require.NoError(t, err)
			var sum, worst float64
			for i := range want.Pix {
				d := math.Abs(float64(got.Pix[i])-float64(want.Pix[i])) / math.MaxUint16
				sum, worst = sum+d, max(worst, d)
			}
			require.Less(t, sum/float64(len(want.Pix)), 0.01, "on average")
			require.Less(t, worst, 0.12, "where detail is finest")
		})
	}
}

func TestADragMakesOneSmallerCopy(t *testing.T) {
	light := waves(800, 600)
	r := newRenderer()
	f := Frame{W: 200, H: 150}
	var copies []*plane.Grey16
	for x := range 3 {
		_, err := r.view(t.Context(), light, layout.Crop{X: float64(20 * x), W: 500, H: 375}, f, 0)
		require.NoError(t, err)
		copies = append(copies, r.small[0].value)
	}
	require.NotSame(t, light, copies[0])
	require.Same(t, copies[0], copies[1])
	require.Same(t, copies[0], copies[2])

	other := waves(800, 600)
	_, err := r.view(t.Context(), other, layout.Crop{W: 500, H: 375}, f, 0)
	require.NoError(t, err)
	require.NotSame(t, copies[0], r.small[0].value, "another picture has a copy of its own")
}

func TestACropStaysOnASmallerCopy(t *testing.T) {
	picture, small := plane.NewGrey16(997, 991), plane.NewGrey16(249, 247)
	for _, c := range []layout.Crop{{W: 997, H: 991}, {X: 996.9, Y: 990.9, W: 0.1, H: 0.1}, {X: 1.0 / 3, Y: 2.0 / 3, W: 997 - 1.0/3, H: 991 - 2.0/3}} {
		got := onto(c, picture, small)
		require.LessOrEqual(t, got.X+got.W, 249.0)
		require.LessOrEqual(t, got.Y+got.H, 247.0)
		require.Positive(t, got.W)
	}
}
