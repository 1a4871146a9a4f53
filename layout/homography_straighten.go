package layout

import (
	"errors"
	"fmt"
	"math"
)

// MaxStraighten is the furthest that a picture is straightened by, in degrees
// either way; quarter turns do the rest.
const MaxStraighten = 45.0

// Straightened is a picture turned by an angle and cut to what is left of it.
type Straightened struct {
	W, H  int        // the largest upright rectangle inside the turned picture
	ToRaw Homography // from its pixels to those of the picture as it was
}

// Straighten turns a picture about its centre, clockwise by so many degrees,
// -45..45, and finds the largest upright rectangle that shows picture all over.
func Straighten(picW, picH int, degrees float64) (Straightened, error) {
	if picW < 1 || picH < 1 {
		return Straightened{}, fmt.Errorf("picture of %d x %d pixels is empty: open one first", picW, picH)
	}
	if !(math.Abs(degrees) <= MaxStraighten) {
		return Straightened{}, fmt.Errorf("angle %g is outside -45 to 45 degrees: turn the picture by quarters first", degrees)
	}
	if degrees == 0 {
		return Straightened{picW, picH, Unmoved}, nil
	}
	w, h := largestUpright(float64(picW), float64(picH), degrees*math.Pi/180)
	// A hair is added before rounding down, for a side that is whole but for the last bit.
	s := Straightened{W: max(1, int(w+1e-9)), H: max(1, int(h+1e-9))}
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	x, y := float64(s.W)/2, float64(s.H)/2
	s.ToRaw = Homography{
		{cos, sin, float64(picW)/2 - cos*x - sin*y},
		{-sin, cos, float64(picH)/2 + sin*x - cos*y},
		{0, 0, 1},
	}
	return s, nil
}

// largestUpright is the upright rectangle of most area inside a rectangle turned
// by an angle. It is centred, and each of its corners lies on a side: either on
// all four sides, or, where the turned rectangle is too slim for that, two of
// them on each long side, half way. Derived; the test searches for a larger one.
func largestUpright(w, h, angle float64) (float64, float64) {
	sin, cos := math.Abs(math.Sin(angle)), math.Abs(math.Cos(angle))
	long, short := math.Max(w, h), math.Min(w, h)
	across := cos*cos - sin*sin
	if short <= 2*sin*cos*long || math.Abs(across) < 1e-9 {
		a, b := short/2/sin, short/2/cos // sides along the long and the short one
		if w < h {
			a, b = b, a
		}
		return a, b
	}
	return (w*cos - h*sin) / across, (h*cos - w*sin) / across
}

// HorizonAngle is what to straighten by, in degrees clockwise, -45..45, so that a
// line drawn from p to q along something level lies level. A line nearer to
// upright is taken along something upright and made so. The line's two ends may
// come in either order.
func HorizonAngle(p, q PicturePoint) (float64, error) {
	dx, dy := q.X-p.X, q.Y-p.Y
	length := math.Hypot(dx, dy)
	if !(length > 0) || math.IsInf(length, 1) {
		return 0, errors.New("the line along the horizon has no length: draw it from one end to the other")
	}
	if math.Abs(dy) > math.Abs(dx) {
		dx, dy = dy, -dx
	}
	return -math.Atan(dy/dx) * 180 / math.Pi, nil
}
