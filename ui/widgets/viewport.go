package widgets

import (
	"math"

	"fyne.io/fyne/v2"

	"undercoat/layout"
)

// viewport lays the panel's millimetres, y up, over a box of the toolkit's
// pixels, y down. Its zero value shows nothing.
type viewport struct {
	size   fyne.Size    // of the box
	centre layout.Point // what lies in the middle of the box
	scale  float64      // pixels to a millimetre
}

// closestDot is how many of the toolkit's pixels a dot takes at the closest zoom.
const closestDot = 40

// fitMargin is the share of the box that a fitted panel leaves free on each side.
const fitMargin = 0.04

// fitted shows all of a panel in the middle of the box.
func fitted(size fyne.Size, panel layout.Size) viewport {
	v := viewport{size: size}
	if panel.W > 0 && panel.H > 0 && size.Width > 0 && size.Height > 0 {
		room := 1 - 2*fitMargin
		v.scale = min(float64(size.Width)*room/float64(panel.W), float64(size.Height)*room/float64(panel.H))
	}
	return v
}

// at is where a point of the panel is shown.
func (v viewport) at(p layout.Point) (x, y float32) {
	return v.atX(p.X), v.atY(p.Y)
}

func (v viewport) atX(x layout.MM) float32 {
	return float32(float64(v.size.Width)/2 + float64(x-v.centre.X)*v.scale)
}

func (v viewport) atY(y layout.MM) float32 {
	return float32(float64(v.size.Height)/2 - float64(y-v.centre.Y)*v.scale)
}

// box is where an area of the panel is shown: its upper left and lower right
// corners.
func (v viewport) box(a layout.Area) (x0, y0, x1, y1 float32) {
	return v.atX(a.Centre.X - a.Size.W/2), v.atY(a.Centre.Y + a.Size.H/2),
		v.atX(a.Centre.X + a.Size.W/2), v.atY(a.Centre.Y - a.Size.H/2)
}

// point is the point of the panel that is shown at a place in the box. With
// nothing shown it is the panel's centre.
func (v viewport) point(pos fyne.Position) layout.Point {
	if v.scale == 0 {
		return layout.Point{}
	}
	return layout.Point{
		X: v.centre.X + layout.MM((float64(pos.X)-float64(v.size.Width)/2)/v.scale),
		Y: v.centre.Y - layout.MM((float64(pos.Y)-float64(v.size.Height)/2)/v.scale),
	}
}

// zoomed magnifies by a factor, within least..most pixels to a millimetre; the
// point shown at pos stays where it is.
func (v viewport) zoomed(factor float64, pos fyne.Position, least, most float64) viewport {
	if v.scale == 0 || !(factor > 0) {
		return v
	}
	held := v.point(pos)
	out := v
	out.scale = min(max(v.scale*factor, least), most)
	shift := out.point(pos)
	out.centre.X += held.X - shift.X
	out.centre.Y += held.Y - shift.Y
	return out
}

// panned moves what is shown by so many pixels; the middle of the box never
// leaves the panel.
func (v viewport) panned(dx, dy float32, panel layout.Size) viewport {
	if v.scale == 0 {
		return v
	}
	v.centre.X -= layout.MM(float64(dx) / v.scale)
	v.centre.Y += layout.MM(float64(dy) / v.scale)
	return v.kept(panel)
}

// kept brings the middle of the box back onto the panel.
func (v viewport) kept(panel layout.Size) viewport {
	v.centre.X = min(max(v.centre.X, -panel.W/2), panel.W/2)
	v.centre.Y = min(max(v.centre.Y, -panel.H/2), panel.H/2)
	return v
}

// visible is the part of a panel that lies in the box; false if there is none.
func (v viewport) visible(panel layout.Size) (layout.Area, bool) {
	if v.scale == 0 {
		return layout.Area{}, false
	}
	halfW := layout.MM(float64(v.size.Width) / 2 / v.scale)
	halfH := layout.MM(float64(v.size.Height) / 2 / v.scale)
	x0, x1 := max(v.centre.X-halfW, -panel.W/2), min(v.centre.X+halfW, panel.W/2)
	y0, y1 := max(v.centre.Y-halfH, -panel.H/2), min(v.centre.Y+halfH, panel.H/2)
	if x1 <= x0 || y1 <= y0 {
		return layout.Area{}, false
	}
	return layout.Area{
		Centre: layout.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2},
		Size:   layout.Size{W: x1 - x0, H: y1 - y0},
	}, true
}

// rounded is a length to the nearest whole number of steps.
func rounded(l, step layout.MM) layout.MM {
	return layout.MM(math.Round(float64(l/step))) * step
}
