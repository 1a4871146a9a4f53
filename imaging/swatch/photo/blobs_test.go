package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// drawn is a copy of 200 x 150 pixels with what inside tells.
func drawn(inside func(x, y float64) bool) *reduced {
	r := &reduced{w: 200, h: 150, factor: 1}
	r.planes[0] = make([]float32, r.w*r.h)
	for y := range r.h {
		for x := range r.w {
			if inside(float64(x)+0.5, float64(y)+0.5) {
				r.planes[0][y*r.w+x] = 1
			}
		}
	}
	return r
}

func TestBlobsKeepFourSidedOnes(t *testing.T) {
	turned := func(x, y, by float64) (float64, float64) {
		s, c := math.Sincos(by)
		return c*(x-90) + s*(y-70), -s*(x-90) + c*(y-70)
	}
	for name, tc := range map[string]struct {
		inside func(x, y float64) bool
		want   int
	}{
		"square":          {func(x, y float64) bool { return max(math.Abs(x-90), math.Abs(y-70)) < 15 }, 1},
		"turned square":   {func(x, y float64) bool { u, v := turned(x, y, 0.5); return max(math.Abs(u), math.Abs(v)) < 15 }, 1},
		"slanting square": {func(x, y float64) bool { return math.Abs(x-90-0.3*(y-70)) < 15 && math.Abs(y-70) < 12 }, 1},
		"square with hole": {func(x, y float64) bool {
			return max(math.Abs(x-90), math.Abs(y-70)) < 15 && !(math.Abs(x-90) < 9 && y > 60 && y < 70)
		}, 1},
		"disc":     {func(x, y float64) bool { return math.Hypot(x-90, y-70) < 15 }, 0},
		"triangle": {func(x, y float64) bool { return y < 90 && y > 50 && math.Abs(x-90) < (y-50)/2 }, 0},
		"cross": {func(x, y float64) bool {
			return min(math.Abs(x-90), math.Abs(y-70)) < 4 && max(math.Abs(x-90), math.Abs(y-70)) < 20
		}, 0},
		"speck":          {func(x, y float64) bool { return max(math.Abs(x-90), math.Abs(y-70)) < 3 }, 0},
		"at the rim":     {func(x, y float64) bool { return x < 20 && math.Abs(y-70) < 10 }, 0},
		"two":            {func(x, y float64) bool { return math.Abs(y-70) < 10 && (math.Abs(x-50) < 10 || math.Abs(x-150) < 10) }, 2},
		"nothing":        {func(float64, float64) bool { return false }, 0},
		"half of it all": {func(x, _ float64) bool { return x > 100 }, 0},
	} {
		t.Run(name, func(t *testing.T) {
			r := drawn(tc.inside)
			require.Len(t, r.blobsOf(r.planes[0], make([]float32, r.w*r.h), 1, 0.5), tc.want)
		})
	}
}

func TestBlobOfASquareIsExact(t *testing.T) {
	r := drawn(func(x, y float64) bool { return x > 40 && x < 70 && y > 50 && y < 80 })
	b := r.blobsOf(r.planes[0], make([]float32, r.w*r.h), 1, 0.5)
	require.Equal(t, []blob{{centre: layout.PicturePoint{X: 55, Y: 65}, area: 900, fill: 1}}, b)
}

func TestMomentsOfARectangle(t *testing.T) {
	m := momentsOf([]layout.PicturePoint{{X: 10, Y: 20}, {X: 16, Y: 20}, {X: 16, Y: 24}, {X: 10, Y: 24}})
	require.InDelta(t, 24, m.area, 1e-9)
	require.InDelta(t, 36.0/12, m.xx, 1e-9)
	require.InDelta(t, 16.0/12, m.yy, 1e-9)
	require.InDelta(t, 0, m.xy, 1e-9)
	require.Equal(t, layout.PicturePoint{X: 13, Y: 22}, m.centre)
}

func TestLocalMeansAreCutToTheCopy(t *testing.T) {
	r := drawn(func(x, y float64) bool { return true })
	for _, v := range r.localMeans(r.planes[0], 17) {
		require.InDelta(t, 1, v, 1e-6)
	}
	r = drawn(func(x, y float64) bool { return x < 1 && y < 1 })
	require.InDelta(t, 1.0/16, r.localMeans(r.planes[0], 3)[0], 1e-6)
}

func TestViewTurnsAndMirrors(t *testing.T) {
	places := layout.Area{Size: layout.Size{W: 60, H: 40}}.Corners()
	pixels := [4]layout.PicturePoint{{X: 100, Y: 100}, {X: 700, Y: 120}, {X: 690, Y: 500}, {X: 110, Y: 490}}
	for i, order := range orders {
		v, err := viewOf(places, reordered(pixels, order))
		require.NoError(t, err)
		require.Equal(t, i >= 4, v.mirrored)
		for k, p := range places {
			q := v.pixel(p)
			require.InDelta(t, pixels[order[k]].X, q.X, 1e-6)
			require.InDelta(t, pixels[order[k]].Y, q.Y, 1e-6)
			back := v.place(q)
			require.InDelta(t, float64(p.X), float64(back.X), 1e-9)
			require.InDelta(t, float64(p.Y), float64(back.Y), 1e-9)
		}
	}
}
