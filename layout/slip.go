package layout

import (
	"fmt"
	"math"
	"strings"
)

// Slip is how far a raster comes to lie from where it should: shifted to the
// right and up, and turned counter-clockwise about its own centre.
type Slip struct {
	X, Y    MM
	Degrees float64
}

// MaxSlipDegrees is the greatest turn that is reckoned with, either way: a panel
// further round is not laid down yet.
const MaxSlipDegrees = 45.0

// Validate refuses a shift beyond MaxLength and a turn beyond MaxSlipDegrees.
func (s Slip) Validate() error {
	for _, shift := range []MM{s.X, s.Y} {
		if !(shift >= -MaxLength && shift <= MaxLength) {
			return fmt.Errorf("shift of %s is not possible: choose one from -10000 to 10000 mm", Millimetre.Format(shift))
		}
	}
	if !(math.Abs(s.Degrees) <= MaxSlipDegrees) {
		return fmt.Errorf("turn of %g degrees is outside -45 to 45: lay the panel down square first", s.Degrees)
	}
	return nil
}

// Slipped is what a slip leaves of the border.
type Slipped struct {
	// Least and Most are the width at its narrowest and widest along each side. A
	// side below 0 lies past the panel.
	Least, Most Border
	Uneven      Uneven
}

// Slipped says what a slip does to the border.
func (p Placement) Slipped(s Slip) (Slipped, error) {
	if err := s.Validate(); err != nil {
		return Slipped{}, err
	}
	half := Size{p.Panel.Size.W / 2, p.Panel.Size.H / 2}
	c := s.moved(p.Centre, p.Corners)
	ul, ur, lr, ll := c[0], c[1], c[2], c[3]
	left := [2]MM{half.W + ul.X, half.W + ll.X}
	right := [2]MM{half.W - ur.X, half.W - lr.X}
	top := [2]MM{half.H - ul.Y, half.H - ur.Y}
	bottom := [2]MM{half.H + ll.Y, half.H + lr.Y}
	least := func(w [2]MM) MM { return min(w[0], w[1]) }
	most := func(w [2]MM) MM { return max(w[0], w[1]) }
	return Slipped{
		Least:  Border{least(left), least(right), least(top), least(bottom)},
		Most:   Border{most(left), most(right), most(top), most(bottom)},
		Uneven: p.uneven(left, right, top, bottom),
	}, nil
}

// moved turns corners about a centre and shifts them.
func (s Slip) moved(centre Point, corners [4]Point) [4]Point {
	sin, cos := math.Sincos(s.Degrees * math.Pi / 180)
	for i, p := range corners {
		dx, dy := float64(p.X-centre.X), float64(p.Y-centre.Y)
		corners[i] = Point{
			X: centre.X + s.X + MM(dx*cos-dy*sin),
			Y: centre.Y + s.Y + MM(dx*sin+dy*cos),
		}
	}
	return corners
}

// OverEdge lists the sides on which the raster reaches past the panel.
func (s Slipped) OverEdge() []Side {
	var over []Side
	for _, side := range []struct {
		name Side
		left MM
	}{{LeftSide, s.Least.Left}, {RightSide, s.Least.Right}, {TopSide, s.Least.Top}, {BottomSide, s.Least.Bottom}} {
		if side.left < 0 {
			over = append(over, side.name)
		}
	}
	return over
}

// Words says what is left of the border and whether it shows from a distance.
func (s Slipped) Words(from MM) string {
	sides := []string{
		s.width(s.Least.Left, s.Most.Left, LeftSide), s.width(s.Least.Right, s.Most.Right, RightSide),
		s.width(s.Least.Top, s.Most.Top, TopSide), s.width(s.Least.Bottom, s.Most.Bottom, BottomSide),
	}
	text := "leaves " + strings.Join(sides[:3], ", ") + " and " + sides[3]
	if over := s.OverEdge(); len(over) > 0 {
		return text + fmt.Sprintf(": it reaches past the panel's %s side", over[0])
	}
	if s.Uneven.Shows(from) {
		return text + fmt.Sprintf(": visible from %.3g m", float64(from)/1000)
	}
	return text + fmt.Sprintf(": not visible from %.3g m", float64(from)/1000)
}

func (s Slipped) width(least, most MM, side Side) string {
	if text := Millimetre.Format(least); text != Millimetre.Format(most) {
		return fmt.Sprintf("%s to %s %s", Millimetre.number(least), Millimetre.Format(most), side)
	}
	return fmt.Sprintf("%s %s", Millimetre.Format(least), side)
}
