package scene

// spot is the middle of a pixel on the wall, in mm, and the pixel's side.
type spot struct{ x, y, px float64 }

// box is an upright rectangle in mm, y up.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }

func (b box) moved(dx, dy float64) box { return box{b.x0 + dx, b.y0 + dy, b.x1 + dx, b.y1 + dy} }

func (b box) join(o box) box {
	return box{min(b.x0, o.x0), min(b.y0, o.y0), max(b.x1, o.x1), max(b.y1, o.y1)}
}

func (b box) w() float64  { return b.x1 - b.x0 }
func (b box) h() float64  { return b.y1 - b.y0 }
func (b box) cx() float64 { return (b.x0 + b.x1) / 2 }
func (b box) cy() float64 { return (b.y0 + b.y1) / 2 }

// centred is a box about a point.
func centred(x, y, w, h float64) box { return box{x - w/2, y - h/2, x + w/2, y + h/2} }

func clamp01(v float64) float64 { return max(0, min(1, v)) }

// smooth goes from 0 at a to 1 at b, level at both ends.
func smooth(a, b, v float64) float64 {
	t := clamp01((v - a) / (b - a))
	return t * t * (3 - 2*t)
}

// within is how much of a pixel, px wide with its middle at v, lies in a..b.
func within(v, px, a, b float64) float64 {
	return clamp01((min(b, v+px/2) - max(a, v-px/2)) / px)
}

// The eye that a room is drawn for, in mm: its height above the floor and its
// distance from the wall.
const (
	eyeHeight   = 1500
	eyeDistance = 4200
)

// standing is how high on the wall a point appears that lies y above the floor
// and z before the wall. Widths are not enlarged with z, so that furniture stays
// to the wall's scale; see topFace.
func standing(y, z float64) float64 { return y - (eyeHeight-y)*z/(eyeDistance-z) }

// floorDepth is the way back for points on the floor: how far before the wall the
// floor lies that appears down below the wall's foot.
func floorDepth(down float64) float64 { return down * eyeDistance / (eyeHeight + down) }
