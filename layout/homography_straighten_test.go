package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestStraightenShowsPictureAllOver(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 6000).Draw(t, "w"), rapid.IntRange(1, 6000).Draw(t, "h")
		degrees := rapid.Float64Range(-45, 45).Draw(t, "degrees")
		s, err := Straighten(w, h, degrees)
		require.NoError(t, err)
		if s.W == 1 || s.H == 1 {
			return // a pixel is the least there is, whether or not it fits
		}
		for _, p := range [4]PicturePoint{{0, 0}, {float64(s.W), 0}, {float64(s.W), float64(s.H)}, {0, float64(s.H)}} {
			q := s.ToRaw.Apply(p)
			require.GreaterOrEqual(t, q.X, -1e-6)
			require.GreaterOrEqual(t, q.Y, -1e-6)
			require.LessOrEqual(t, q.X, float64(w)+1e-6)
			require.LessOrEqual(t, q.Y, float64(h)+1e-6)
		}
		requireAt(t, PicturePoint{float64(w) / 2, float64(h) / 2},
			s.ToRaw.Apply(PicturePoint{float64(s.W) / 2, float64(s.H) / 2}), 1e-9)
	})
}

// The closed form against a search: of all shapes, which centred upright
// rectangle has most area? A rectangle of sides a and b fits when its turned
// outline, a cos + b sin by a sin + b cos, does.
func TestNoUprightRectangleIsLarger(t *testing.T) {
	for _, size := range [][2]float64{{400, 300}, {300, 400}, {1000, 90}, {90, 1000}, {500, 500}} {
		for degrees := 1.0; degrees <= 45; degrees += 4 {
			sin, cos := math.Sincos(degrees * math.Pi / 180)
			best := 0.0
			for shape := -6.0; shape <= 6; shape += 1e-3 {
				aspect := math.Exp(shape)
				b := math.Min(size[0]/(aspect*cos+sin), size[1]/(aspect*sin+cos))
				best = math.Max(best, aspect*b*b)
			}
			w, h := largestUpright(size[0], size[1], degrees*math.Pi/180)
			require.InEpsilon(t, best, w*h, 1e-3, "%v turned by %g degrees", size, degrees)
			require.LessOrEqual(t, w*cos+h*sin, size[0]+1e-9)
			require.LessOrEqual(t, w*sin+h*cos, size[1]+1e-9)
		}
	}
}

func TestStraightenTurnsClockwise(t *testing.T) {
	s, err := Straighten(400, 300, 30)
	require.NoError(t, err)
	back, err := s.ToRaw.Inverse()
	require.NoError(t, err)
	centre := back.Apply(PicturePoint{200, 150})
	right := back.Apply(PicturePoint{300, 150})
	// What lay to the right of the centre now lies to the right and below.
	requireAt(t, PicturePoint{100 * math.Cos(math.Pi/6), 50}, PicturePoint{right.X - centre.X, right.Y - centre.Y}, 1e-9)
}

func TestStraightenByNothing(t *testing.T) {
	s, err := Straighten(400, 300, 0)
	require.NoError(t, err)
	require.Equal(t, Straightened{400, 300, Unmoved}, s)
}

func TestStraightenRefuses(t *testing.T) {
	for _, degrees := range []float64{45.1, -90, math.NaN(), math.Inf(1)} {
		_, err := Straighten(400, 300, degrees)
		require.ErrorContains(t, err, "outside -45 to 45 degrees")
	}
	_, err := Straighten(0, 300, 1)
	require.ErrorContains(t, err, "0 x 300 pixels is empty")
}

func TestHorizonAngle(t *testing.T) {
	slope := func(dx, dy float64) float64 { return math.Atan2(dy, dx) * 180 / math.Pi }
	for _, c := range []struct {
		name string
		q    PicturePoint
		want float64
	}{
		{"level", PicturePoint{100, 50}, 0},
		{"falls to the right", PicturePoint{100, 60}, -slope(100, 10)},
		{"rises to the right", PicturePoint{100, 40}, slope(100, 10)},
		{"drawn from the right", PicturePoint{-100, 60}, slope(100, 10)},
		{"upright", PicturePoint{0, 150}, 0},
		{"an upright that leans", PicturePoint{10, 150}, slope(100, 10)},
		{"an upright drawn upwards", PicturePoint{-10, -50}, slope(100, 10)},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := HorizonAngle(PicturePoint{0, 50}, c.q)
			require.NoError(t, err)
			require.InDelta(t, c.want, got, 1e-12)
		})
	}
	for _, q := range []PicturePoint{{0, 50}, {math.NaN(), 0}, {math.Inf(1), 0}} {
		_, err := HorizonAngle(PicturePoint{0, 50}, q)
		require.ErrorContains(t, err, "has no length")
	}
}

// Straightening by the angle of a line makes that line level, or upright.
func TestTheLineLiesLevelAfterwards(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := PicturePoint{rapid.Float64Range(0, 400).Draw(t, "x"), rapid.Float64Range(0, 300).Draw(t, "y")}
		q := PicturePoint{rapid.Float64Range(0, 400).Draw(t, "x2"), rapid.Float64Range(0, 300).Draw(t, "y2")}
		if math.Hypot(p.X-q.X, p.Y-q.Y) < 1 {
			return
		}
		angle, err := HorizonAngle(p, q)
		require.NoError(t, err)
		s, err := Straighten(400, 300, angle)
		require.NoError(t, err)
		back, err := s.ToRaw.Inverse()
		require.NoError(t, err)
		a, b := back.Apply(p), back.Apply(q)
		off := math.Min(math.Abs(a.X-b.X), math.Abs(a.Y-b.Y))
		require.InDelta(t, 0, off, 1e-8)
	})
}
