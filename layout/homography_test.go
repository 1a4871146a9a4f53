package layout

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var unitSquare = [4]PicturePoint{{0, 0}, {1, 0}, {1, 1}, {0, 1}}

func requireMatrix(t *testing.T, want, got Homography, relative float64) {
	t.Helper()
	for i := range want {
		for j := range want[i] {
			require.InDelta(t, want[i][j], got[i][j], relative*math.Max(1, math.Abs(want[i][j])), "entry %d,%d", i, j)
		}
	}
}

func requireAt(t require.TestingT, want, got PicturePoint, within float64) {
	require.InDelta(t, want.X, got.X, within)
	require.InDelta(t, want.Y, got.Y, within)
}

func TestFourPointsAgainstWorkedExamples(t *testing.T) {
	for _, c := range []struct {
		name     string
		from, to [4]PicturePoint
		want     Homography
		within   float64
	}{
		{
			// Source: derived by hand from the eight linear equations; exact.
			"a square seen aslant", unitSquare, [4]PicturePoint{{10, 10}, {90, 20}, {80, 80}, {15, 70}},
			Homography{{76.625, 8.375, 10}, {9.25, 75.75, 10}, {-0.0375, 0.225, 1}}, 1e-13,
		},
		{
			// Source: derived by hand; the sides stay parallel.
			"a parallelogram", unitSquare, [4]PicturePoint{{1, 1}, {5, 2}, {6, 5}, {2, 4}},
			Homography{{4, 1, 1}, {1, 3, 1}, {0, 0, 1}}, 0,
		},
		{
			// Source: the point pairs stand in scikit-image, test_geometric.py; the matrix
			// was solved from them with numpy 1.24, to ten digits.
			"a photographed chart",
			[4]PicturePoint{{-12.3705, -10.5075}, {-10.7865, 15.4305}, {8.6985, 10.8675}, {11.4975, -9.5715}},
			[4]PicturePoint{{0, 0}, {0, 5800}, {4900, 5800}, {4900, 0}},
			Homography{
				{194.66901291, -11.88818399, 2283.23793085},
				{-8.69100775, 221.62069773, 2221.16736993},
				{-0.01269596674, -0.00960536243, 1},
			}, 1e-9,
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, err := FourPoints(c.from, c.to)
			require.NoError(t, err)
			requireMatrix(t, c.want, h, c.within)
			for i := range c.from {
				requireAt(t, c.to[i], h.Apply(c.from[i]), 1e-9)
			}
		})
	}
}

// A square's centre goes to where the diagonals of its picture cross, which needs
// no homography to find.
func TestTheCentreGoesWhereTheDiagonalsCross(t *testing.T) {
	h, err := FourPoints(unitSquare, [4]PicturePoint{{10, 10}, {90, 20}, {80, 80}, {15, 70}})
	require.NoError(t, err)
	requireAt(t, PicturePoint{48, 48}, h.Apply(PicturePoint{0.5, 0.5}), 1e-12)
}

// drawQuad is a figure without a dent, clockwise from the upper left: a rectangle
// with its corners moved by less than a quarter of its sides.
func drawQuad(t *rapid.T, name string) [4]PicturePoint {
	w, h := rapid.Float64Range(10, 5000).Draw(t, name+" w"), rapid.Float64Range(10, 5000).Draw(t, name+" h")
	x, y := rapid.Float64Range(-5000, 5000).Draw(t, name+" x"), rapid.Float64Range(-5000, 5000).Draw(t, name+" y")
	q := [4]PicturePoint{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}}
	for i := range q {
		q[i].X += w * rapid.Float64Range(-0.2, 0.2).Draw(t, name+" dx")
		q[i].Y += h * rapid.Float64Range(-0.2, 0.2).Draw(t, name+" dy")
	}
	return q
}

func TestHomographiesMeetTheirPointsAndComeBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from, to := drawQuad(t, "from"), drawQuad(t, "to")
		h, err := FourPoints(from, to)
		require.NoError(t, err)
		back, err := h.Inverse()
		require.NoError(t, err)
		u, v := rapid.Float64Range(0, 1).Draw(t, "u"), rapid.Float64Range(0, 1).Draw(t, "v")
		inside := PicturePoint{
			(1-v)*((1-u)*from[0].X+u*from[1].X) + v*((1-u)*from[3].X+u*from[2].X),
			(1-v)*((1-u)*from[0].Y+u*from[1].Y) + v*((1-u)*from[3].Y+u*from[2].Y),
		}
		requireAt(t, inside, back.Apply(h.Apply(inside)), 1e-6)
		for i := range from {
			requireAt(t, to[i], h.Apply(from[i]), 1e-6)
			require.Positive(t, h.depth(from[i]))
		}
		middle := h.Apply(PicturePoint{(from[0].X + from[1].X) / 2, (from[0].Y + from[1].Y) / 2})
		across := (middle.X-to[0].X)*(to[1].Y-to[0].Y) - (middle.Y-to[0].Y)*(to[1].X-to[0].X)
		require.InDelta(t, 0, across/math.Hypot(to[1].X-to[0].X, to[1].Y-to[0].Y), 1e-6, "a side stays straight")
	})
}

func TestFourPointsRefuses(t *testing.T) {
	good := [4]PicturePoint{{10, 10}, {90, 20}, {80, 80}, {15, 70}}
	for _, c := range []struct {
		name string
		quad [4]PicturePoint
		want string
	}{
		{"the other way round", [4]PicturePoint{{10, 10}, {15, 70}, {80, 80}, {90, 20}}, "the other way round, which would mirror"},
		{"crossed", [4]PicturePoint{{10, 10}, {90, 20}, {15, 70}, {80, 80}}, "the sides between the corners cross"},
		{"crossed the other way", [4]PicturePoint{{90, 20}, {10, 10}, {80, 80}, {15, 70}}, "the sides between the corners cross"},
		{"three in a line", [4]PicturePoint{{10, 10}, {50, 10}, {90, 10}, {15, 70}}, "corner 2 at 50,10 lies in one line"},
		{"two in one place", [4]PicturePoint{{10, 10}, {10, 10}, {90, 10}, {15, 70}}, "lies in one line with its neighbours"},
		{"a dent", [4]PicturePoint{{10, 10}, {90, 20}, {30, 30}, {15, 70}}, "corner 3 at 30,30 lies inside the other three"},
		{"not a number", [4]PicturePoint{{10, 10}, {90, 20}, {math.NaN(), 80}, {15, 70}}, "corner 3 is at NaN,80"},
		{"infinite", [4]PicturePoint{{math.Inf(1), 10}, {90, 20}, {80, 80}, {15, 70}}, "corner 1 is at"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := FourPoints(good, c.quad)
			require.ErrorContains(t, err, c.want)
			_, err = FourPoints(c.quad, good)
			require.ErrorContains(t, err, c.want)
			_, err = FromCorners(c.quad, 100, 100)
			require.ErrorContains(t, err, c.want)
		})
	}
	for _, size := range [][2]float64{{0, 1}, {1, -1}, {math.NaN(), 1}, {1, math.Inf(1)}} {
		_, err := FromCorners(good, size[0], size[1])
		require.ErrorContains(t, err, "is not possible")
	}
}

func TestFromCornersGoesFromTheRectangleToThePhotograph(t *testing.T) {
	corners := [4]PicturePoint{{100, 50}, {900, 120}, {860, 700}, {80, 640}}
	h, err := FromCorners(corners, 400, 300)
	require.NoError(t, err)
	for i, p := range [4]PicturePoint{{0, 0}, {400, 0}, {400, 300}, {0, 300}} {
		requireAt(t, corners[i], h.Apply(p), 1e-9)
	}
	require.True(t, h.InFront(400, 300))
	near, err := FromCorners([4]PicturePoint{{200, 0}, {300, 0}, {500, 300}, {0, 300}}, 400, 300)
	require.NoError(t, err)
	require.True(t, near.InFront(400, 300))
	require.False(t, near.InFront(400, 400), "the horizon lies at 375")
	w, ht, err := CornerSize(corners)
	require.NoError(t, err)
	require.Equal(t, [2]int{793, 586}, [2]int{w, ht}) // means of 803.06 and 782.30, of 581.38 and 590.34
	_, _, err = CornerSize([4]PicturePoint{})
	require.Error(t, err)
}

func TestInverseRefusesALine(t *testing.T) {
	for _, h := range []Homography{{}, {{1, 2, 3}, {2, 4, 6}, {0, 0, 1}}, {{math.NaN()}}} {
		_, err := h.Inverse()
		require.ErrorContains(t, err, "flattens the picture to a line")
	}
}

func TestOnCropLaysTheRasterOverTheCrop(t *testing.T) {
	h, err := FromCorners([4]PicturePoint{{100, 50}, {900, 120}, {860, 700}, {80, 640}}, 400, 300)
	require.NoError(t, err)
	crop := Crop{X: 40, Y: 30, W: 200, H: 150}
	dots := h.OnCrop(crop, 1000, 750)
	requireAt(t, h.Apply(PicturePoint{40, 30}), dots.Apply(PicturePoint{0, 0}), 1e-9)
	requireAt(t, h.Apply(PicturePoint{240, 180}), dots.Apply(PicturePoint{1000, 750}), 1e-9)
	requireAt(t, h.Apply(PicturePoint{140, 60}), dots.Apply(PicturePoint{500, 150}), 1e-9)
}

func TestPicturePointsInFiles(t *testing.T) {
	data, err := json.Marshal([4]PicturePoint{{1, 2}, {3.5, 4}})
	require.NoError(t, err)
	require.Equal(t, "[[1,2],[3.5,4],[0,0],[0,0]]", string(data))
	var p PicturePoint
	require.NoError(t, json.Unmarshal([]byte("[7, -8.25]"), &p))
	require.Equal(t, PicturePoint{7, -8.25}, p)
	require.ErrorContains(t, json.Unmarshal([]byte("[7]"), &p), "write [x, y]")
}
