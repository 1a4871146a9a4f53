package widgets

import (
	"fyne.io/fyne/v2"

	"undercoat/layout"
)

// part is something on the easel that the hand can take hold of.
type part uint8

const (
	nothing part = iota
	leftEdge
	rightEdge
	topEdge
	bottomEdge
	pictureArea
	splitLine
	letterLine // the line of lettering that the hand went to last
	levelLine
)

func (p part) isEdge() bool { return p >= leftEdge && p <= bottomEdge }

// upright says that the part is a line which moves sideways.
func (p part) upright() bool { return p == leftEdge || p == rightEdge || p == splitLine }

const (
	reach        = 8  // pixels from a line at which it is taken hold of
	handleLong   = 26 // pixels
	handleShort  = 8
	leastPicture = layout.MM(1) // of the picture area that dragging a border leaves
	nudge        = layout.MM(0.1)
)

// partAt is what the hand takes hold of at a place in the viewport.
func (e *Easel) partAt(pos fyne.Position) part {
	if e.view.scale == 0 {
		return nothing
	}
	x0, y0, x1, y1 := e.view.box(e.area())
	alongX, alongY := within(pos.X, x0, x1, reach), within(pos.Y, y0, y1, reach)
	if e.other.img != nil && alongY && near(pos.X, e.splitX()) {
		return splitLine
	}
	if e.mode == Level {
		return levelLine
	}
	if e.mode != Arrange {
		return nothing
	}
	if e.lineAt(pos) >= 0 {
		return letterLine
	}
	found, nearest := nothing, float32(reach)
	for _, edge := range []struct {
		part  part
		along bool
		off   float32
	}{
		{leftEdge, alongY, pos.X - x0},
		{rightEdge, alongY, pos.X - x1},
		{topEdge, alongX, pos.Y - y0},
		{bottomEdge, alongX, pos.Y - y1},
	} {
		if off := max(edge.off, -edge.off); edge.along && (off < nearest || off == nearest && found == nothing) {
			found, nearest = edge.part, off
		}
	}
	if found == nothing && within(pos.X, x0, x1, 0) && within(pos.Y, y0, y1, 0) {
		return pictureArea
	}
	return found
}

func near(v, line float32) bool { return within(v, line, line, reach) }

func within(v, from, to, slack float32) bool { return v >= from-slack && v <= to+slack }

func (e *Easel) splitX() float32 {
	x0, _, x1, _ := e.view.box(e.area())
	return x0 + (x1-x0)*float32(e.split)
}

// side is the width of the border at an edge.
func side(b *layout.Border, p part) *layout.MM {
	switch p {
	case leftEdge:
		return &b.Left
	case rightEdge:
		return &b.Right
	case topEdge:
		return &b.Top
	}
	return &b.Bottom
}

func opposite(p part) part {
	switch p {
	case leftEdge:
		return rightEdge
	case rightEdge:
		return leftEdge
	case topEdge:
		return bottomEdge
	}
	return topEdge
}

// depthAt is how wide the border at an edge would be with the edge at a point.
func (e *Easel) depthAt(p part, at layout.Point) layout.MM {
	switch p {
	case leftEdge:
		return at.X + e.panel.Size.W/2
	case rightEdge:
		return e.panel.Size.W/2 - at.X
	case topEdge:
		return e.panel.Size.H/2 - at.Y
	}
	return at.Y + e.panel.Size.H/2
}

// withSide is the border with one side as wide as asked, or as wide as the panel
// allows; even makes all four alike.
func (e *Easel) withSide(p part, width layout.MM, even bool) layout.Border {
	across := e.panel.Size.W
	if !p.upright() {
		across = e.panel.Size.H
	}
	if even {
		most := (min(e.panel.Size.W, e.panel.Size.H) - leastPicture) / 2
		return layout.Even(max(0, min(width, most)))
	}
	b := e.border
	most := across - *side(&b, opposite(p)) - leastPicture
	*side(&b, p) = max(0, min(width, most))
	return b
}

// dragStep is the roundest length that moves a line by no more than a few pixels.
func (e *Easel) dragStep() layout.MM {
	steps := []layout.MM{0.1, 0.5, 1, 5, 10}
	if e.unit == layout.Inches {
		steps = []layout.MM{0.01 * layout.Inch, 0.05 * layout.Inch, 0.1 * layout.Inch, 0.25 * layout.Inch, 0.5 * layout.Inch}
	}
	for _, step := range steps {
		if float64(step)*e.view.scale >= 1 {
			return step
		}
	}
	return steps[len(steps)-1]
}
