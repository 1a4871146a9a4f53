package picture

import (
	"fmt"
	"image"

	"github.com/disintegration/gift"
)

// Turn is how the maker turns the upright picture: first by quarters, then, if
// asked, mirrored. The zero value leaves it as it is.
type Turn struct {
	Quarters int  // clockwise, 0..3
	Mirror   bool // left to right, after turning
}

// Validate refuses a Quarters outside 0..3.
func (t Turn) Validate() error {
	if t.Quarters < 0 || t.Quarters > 3 {
		return fmt.Errorf("turn of %d quarters is outside 0..3: give the clockwise quarter turns as 0, 1, 2 or 3", t.Quarters)
	}
	return nil
}

// orientations gives the turn that shows a stored picture upright, by its EXIF
// orientation. Source: JEITA CP-3451C (Exif 2.3), 4.6.4 A, Orientation.
var orientations = [9]Turn{
	1: {},
	2: {0, true},
	3: {2, false},
	4: {2, true},
	5: {1, true},
	6: {1, false},
	7: {3, true},
	8: {3, false},
}

// then is the turn that does t first and next after it.
func (t Turn) then(next Turn) Turn {
	if t.Mirror { // a mirrored picture turned one way is the picture turned the other way, mirrored
		return Turn{(t.Quarters - next.Quarters + 4) % 4, !next.Mirror}
	}
	return Turn{(t.Quarters + next.Quarters) % 4, next.Mirror}
}

// size is the shown size of w x h stored pixels.
func (t Turn) size(w, h int) (int, int) {
	if t.Quarters%2 == 1 {
		return h, w
	}
	return w, h
}

// filter is the turn as one filter, nil where there is nothing to turn. The
// library counts its rotations counter-clockwise.
func (t Turn) filter() gift.Filter {
	switch t {
	case Turn{0, true}:
		return gift.FlipHorizontal()
	case Turn{1, false}:
		return gift.Rotate270()
	case Turn{1, true}:
		return gift.Transpose()
	case Turn{2, false}:
		return gift.Rotate180()
	case Turn{2, true}:
		return gift.FlipVertical()
	case Turn{3, false}:
		return gift.Rotate90()
	case Turn{3, true}:
		return gift.Transverse()
	}
	return nil
}

// corner is where the stored rows y0..y1-1, of h in all, come to lie: the upper
// left corner of their place in the shown picture.
func (t Turn) corner(y0, y1, h int) image.Point {
	at := y0
	if t.reverses() {
		at = h - y1
	}
	if t.Quarters%2 == 1 {
		return image.Pt(at, 0)
	}
	return image.Pt(0, at)
}

// reverses tells whether the first stored row is shown last (lowest, or
// rightmost after a quarter turn).
func (t Turn) reverses() bool {
	switch t.Quarters {
	case 1:
		return !t.Mirror
	case 2:
		return true
	case 3:
		return t.Mirror
	}
	return false
}

// Size is the picture's width and height in pixels once it is upright and turned.
func (p *Picture) Size(t Turn) (w, h int) {
	b := p.img.Bounds()
	return orientations[p.header.Orientation].then(t).size(b.Dx(), b.Dy())
}
