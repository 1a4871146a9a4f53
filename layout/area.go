package layout

import (
	"encoding/json"
	"fmt"
)

// Point is a place on the panel, measured from its centre: x to the right, y up.
// In files it is [x, y] in mm.
type Point struct{ X, Y MM }

// MarshalJSON writes [x, y] in mm.
func (p Point) MarshalJSON() ([]byte, error) { return json.Marshal([2]MM{p.X, p.Y}) }

// UnmarshalJSON reads [x, y] in mm.
func (p *Point) UnmarshalJSON(data []byte) error { return readNumbers(data, "[x, y]", &p.X, &p.Y) }

// Area is an upright rectangle on the panel.
type Area struct {
	Centre Point
	Size   Size
}

// Corners are upper left, upper right, lower right, lower left.
func (a Area) Corners() [4]Point {
	left, right := a.Centre.X-a.Size.W/2, a.Centre.X+a.Size.W/2
	low, high := a.Centre.Y-a.Size.H/2, a.Centre.Y+a.Size.H/2
	return [4]Point{{left, high}, {right, high}, {right, low}, {left, low}}
}

// PictureArea is the panel less its border. A border that leaves less than
// MinPitch is refused.
func (p Panel) PictureArea(b Border) (Area, error) {
	if err := p.Validate(); err != nil {
		return Area{}, err
	}
	if err := b.Validate(); err != nil {
		return Area{}, err
	}
	left := Size{p.Size.W - b.Left - b.Right, p.Size.H - b.Top - b.Bottom}
	if left.W < MinPitch {
		return Area{}, noAreaError(b.Left, "left", b.Right, "right", p.Size.W, "wide")
	}
	if left.H < MinPitch {
		return Area{}, noAreaError(b.Top, "top", b.Bottom, "bottom", p.Size.H, "high")
	}
	return Area{Centre: Point{(b.Left - b.Right) / 2, (b.Bottom - b.Top) / 2}, Size: left}, nil
}

func noAreaError(one MM, oneSide string, other MM, otherSide string, panel MM, way string) error {
	show := Millimetre.Format
	return fmt.Errorf("border %s %s and %s %s leave nothing of a panel %s %s: choose a smaller border",
		show(one), oneSide, show(other), otherSide, show(panel), way)
}
