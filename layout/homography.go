package layout

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
)

// PicturePoint is a place in a picture, in pixels from its upper left corner: x
// to the right, y down; pixel i covers i..i+1. In files it is [x, y].
type PicturePoint struct{ X, Y float64 }

// MarshalJSON writes [x, y] in pixels.
func (p PicturePoint) MarshalJSON() ([]byte, error) { return json.Marshal([2]float64{p.X, p.Y}) }

// UnmarshalJSON reads [x, y] in pixels.
func (p *PicturePoint) UnmarshalJSON(data []byte) error {
	return readNumbers(data, "[x, y]", &p.X, &p.Y)
}

// String writes x,y in pixels, to a hundredth.
func (p PicturePoint) String() string {
	round := func(v float64) float64 { return math.Round(v*100) / 100 }
	return fmt.Sprintf("%g,%g", round(p.X), round(p.Y))
}

// Homography takes the points of one flat picture to those of another as a
// camera does: straight lines stay straight, parallel ones need not. It is a
// matrix over (x, y, 1), row by row; a factor over all of it changes nothing.
type Homography [3][3]float64

// Unmoved takes every point to itself.
var Unmoved = Homography{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

// FourPoints is the one homography that takes each point of from to the point of
// to at the same place. Both must be the corners of a four-sided figure without
// a dent, named in order and the same way round.
//
// It is solved in closed form, by way of the unit square.
// Source: P. S. Heckbert, "Fundamentals of Texture Mapping and Image Warping",
// Master's thesis, University of California, Berkeley, 1989, 2.2.3 (from memory).
func FourPoints(from, to [4]PicturePoint) (Homography, error) {
	fromTurn, err := turnOf(from)
	if err != nil {
		return Homography{}, err
	}
	toTurn, err := turnOf(to)
	if err != nil {
		return Homography{}, err
	}
	if fromTurn != toTurn {
		return Homography{}, errMirrored
	}
	h := squareTo(to).times(squareTo(from).adjugate())
	return h.scaled(from[0]), nil
}

// FromCorners takes a picture of w x h pixels to the four corners that it shall
// be taken from: upper left, upper right, lower right, lower left. This is the
// way round that resampling asks for: where in the source does a pixel come from?
func FromCorners(corners [4]PicturePoint, w, h float64) (Homography, error) {
	if !(w > 0 && h > 0) || math.IsInf(w, 1) || math.IsInf(h, 1) {
		return Homography{}, fmt.Errorf("picture of %g x %g pixels is not possible: choose a width and height above 0", w, h)
	}
	return FourPoints([4]PicturePoint{{0, 0}, {w, 0}, {w, h}, {0, h}}, corners)
}

// CornerSize is the size that a drawing with these corners is given when nothing
// better is known: the mean lengths of the facing sides, in whole pixels. A drawing
// photographed aslant comes out a little too short along its receding side.
func CornerSize(corners [4]PicturePoint) (w, h int, err error) {
	if _, err := turnOf(corners); err != nil {
		return 0, 0, err
	}
	side := func(i, j int) float64 { return math.Hypot(corners[j].X-corners[i].X, corners[j].Y-corners[i].Y) }
	w = max(1, int(math.Round((side(0, 1)+side(3, 2))/2)))
	h = max(1, int(math.Round((side(1, 2)+side(0, 3))/2)))
	return w, h, nil
}

var (
	errMirrored = errors.New("the corners run the other way round, which would mirror the picture: name them upper left, upper right, lower right, lower left")
	errCrossed  = errors.New("the sides between the corners cross: name them upper left, upper right, lower right, lower left")
)

// flat is the least sine of the angle at a corner: anything less is a line.
const flat = 1e-3

// turnOf tells which way round the corners run, 1 or -1, and refuses figures
// that no camera can make of a rectangle.
func turnOf(corners [4]PicturePoint) (float64, error) {
	for i, p := range corners {
		if sum := math.Abs(p.X) + math.Abs(p.Y); math.IsNaN(sum) || math.IsInf(sum, 1) {
			return 0, fmt.Errorf("corner %d is at %v: write x,y in pixels", i+1, p)
		}
	}
	var left, right []int
	for i, p := range corners {
		before, after := corners[(i+3)%4], corners[(i+1)%4]
		ax, ay, bx, by := p.X-before.X, p.Y-before.Y, after.X-p.X, after.Y-p.Y
		turn := ax*by - ay*bx
		switch {
		case !(math.Abs(turn) > flat*math.Hypot(ax, ay)*math.Hypot(bx, by)):
			return 0, fmt.Errorf("corner %d at %v lies in one line with its neighbours: move it outwards", i+1, p)
		case turn > 0:
			right = append(right, i)
		default:
			left = append(left, i)
		}
	}
	switch {
	case len(left) == 0:
		return 1, nil
	case len(right) == 0:
		return -1, nil
	case len(left) == 2:
		return 0, errCrossed
	}
	dent := left[0]
	if len(right) == 1 {
		dent = right[0]
	}
	return 0, fmt.Errorf("corner %d at %v lies inside the other three: move it outwards", dent+1, corners[dent])
}

// squareTo takes the corners 0,0 1,0 1,1 0,1 to those of q.
func squareTo(q [4]PicturePoint) Homography {
	dx1, dy1 := q[1].X-q[2].X, q[1].Y-q[2].Y
	dx2, dy2 := q[3].X-q[2].X, q[3].Y-q[2].Y
	sx, sy := q[0].X-q[1].X+q[2].X-q[3].X, q[0].Y-q[1].Y+q[2].Y-q[3].Y
	det := dx1*dy2 - dx2*dy1
	g, h := (sx*dy2-dx2*sy)/det, (dx1*sy-sx*dy1)/det
	return Homography{
		{q[1].X - q[0].X + g*q[1].X, q[3].X - q[0].X + h*q[3].X, q[0].X},
		{q[1].Y - q[0].Y + g*q[1].Y, q[3].Y - q[0].Y + h*q[3].Y, q[0].Y},
		{g, h, 1},
	}
}

// Apply is where a point goes. A point on the horizon goes to infinity, and one
// beyond it, see InFront, to no place that a camera could see.
func (h Homography) Apply(p PicturePoint) PicturePoint {
	w := h.depth(p)
	return PicturePoint{
		(h[0][0]*p.X + h[0][1]*p.Y + h[0][2]) / w,
		(h[1][0]*p.X + h[1][1]*p.Y + h[1][2]) / w,
	}
}

func (h Homography) depth(p PicturePoint) float64 { return h[2][0]*p.X + h[2][1]*p.Y + h[2][2] }

// InFront tells whether all of a picture of cols x rows pixels lies before the
// horizon, so that Apply takes each of its points to a place.
func (h Homography) InFront(cols, rows int) bool {
	w, ht := float64(cols), float64(rows)
	for _, p := range [4]PicturePoint{{0, 0}, {w, 0}, {w, ht}, {0, ht}} {
		if d := h.depth(p); !(d > 0) || math.IsInf(d, 1) {
			return false
		}
	}
	return true
}

// Inverse goes back.
func (h Homography) Inverse() (Homography, error) {
	inv := h.adjugate()
	det := h[0][0]*inv[0][0] + h[0][1]*inv[1][0] + h[0][2]*inv[2][0]
	if !(math.Abs(det) > 0) || math.IsInf(det, 0) {
		return Homography{}, errors.New("the homography flattens the picture to a line: mark the corners anew")
	}
	for i := range inv {
		for j := range inv[i] {
			inv[i][j] /= det
		}
	}
	if last := inv[2][2]; last > 0 {
		inv.divide(last)
	}
	return inv, nil
}

// OnCrop takes the dots of a raster, cols x rows of them laid over the crop c of
// the picture that h makes, straight to where they come from. So a picture that
// is straightened and cropped is resampled once.
func (h Homography) OnCrop(c Crop, cols, rows int) Homography {
	return h.times(Homography{
		{c.W / float64(cols), 0, c.X},
		{0, c.H / float64(rows), c.Y},
		{0, 0, 1},
	})
}

// times takes a point by o first and then by h.
func (h Homography) times(o Homography) Homography {
	var out Homography
	for i := range out {
		for j := range out[i] {
			out[i][j] = h[i][0]*o[0][j] + h[i][1]*o[1][j] + h[i][2]*o[2][j]
		}
	}
	return out
}

// adjugate is the inverse but for a factor.
func (h Homography) adjugate() Homography {
	var adj Homography
	for r := range 3 {
		for c := range 3 {
			r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
			adj[c][r] = h[r1][c1]*h[r2][c2] - h[r1][c2]*h[r2][c1]
		}
	}
	return adj
}

// scaled puts the point p in front and gives the last entry the value 1 where
// it has one.
func (h Homography) scaled(p PicturePoint) Homography {
	by := math.Abs(h[2][2])
	if !(by > 0) {
		by = 1
	}
	if h.depth(p) < 0 {
		by = -by
	}
	h.divide(by)
	return h
}

func (h *Homography) divide(by float64) {
	for i := range h {
		for j := range h[i] {
			h[i][j] /= by
		}
	}
}
