package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"undercoat/layout"
)

// grip is what a pressed button holds.
type grip struct {
	held   bool
	part   part // nothing moves the view
	button desktop.MouseButton
	from   fyne.Position // in the viewport
	last   fyne.Position
	offset layout.MM // of the border's width from where the pointer took it
	moved  bool
	plain  bool // the primary button, with nothing held besides
}

// inView turns a place on the widget into one in the viewport.
func inView(pos fyne.Position) fyne.Position { return pos.SubtractXY(rulerLeft, rulerTop) }

// MouseDown takes hold of what is under the pointer.
func (e *Easel) MouseDown(ev *desktop.MouseEvent) {
	takeFocus(e)
	e.endCropZoom()
	if e.grip.held {
		return
	}
	pos := inView(ev.Position)
	g := grip{held: true, button: ev.Button, from: pos, last: pos}
	plain := ev.Button == desktop.MouseButtonPrimary && !e.space && ev.Modifier&fyne.KeyModifierControl == 0
	if plain {
		g.part, g.plain = e.partAt(pos), true
		if g.part.isEdge() {
			g.offset = *side(&e.border, g.part) - e.depthAt(g.part, e.view.point(pos))
		}
		e.selected = g.part
		switch g.part {
		case splitLine, levelLine:
			e.selected = nothing
			e.level = [2]layout.Point{e.view.point(pos), e.view.point(pos)}
		case letterLine:
			e.pickLine(e.lineAt(pos))
		}
	}
	e.grip = g
	e.Refresh()
}

// MouseUp lets go.
func (e *Easel) MouseUp(ev *desktop.MouseEvent) {
	if ev.Button == e.grip.button {
		e.letGo()
	}
}

// Dragged moves what the primary or the middle button holds.
func (e *Easel) Dragged(ev *fyne.DragEvent) { e.drag(inView(ev.Position)) }

// DragEnd lets go.
func (e *Easel) DragEnd() { e.letGo() }

func (e *Easel) drag(pos fyne.Position) {
	e.point(pos, true)
	if !e.grip.held {
		return
	}
	dx, dy := pos.X-e.grip.last.X, pos.Y-e.grip.last.Y
	e.grip.last = pos
	switch p := e.grip.part; {
	case p == nothing:
		e.pan(dx, dy)
	case p == splitLine:
		e.dragSplit(pos)
	case p == pictureArea:
		e.grip.moved = true
		e.moveCrop(layout.MM(float64(dx)/e.view.scale), layout.MM(0-float64(dy)/e.view.scale))
	case p == letterLine:
		e.grip.moved = true
		e.moveLine(layout.MM(float64(dx)/e.view.scale), layout.MM(0-float64(dy)/e.view.scale))
	case p == levelLine:
		e.grip.moved = true
		e.level[1] = e.view.point(pos)
		e.Refresh()
	default:
		width := e.depthAt(p, e.view.point(pos)) + e.grip.offset
		even := e.held()&fyne.KeyModifierShift != 0
		if e.changeBorder(e.withSide(p, rounded(width, e.dragStep()), even)) {
			e.grip.moved = true
		}
	}
}

// changeBorder takes a border from the hand; false if it is the same as before.
func (e *Easel) changeBorder(b layout.Border) bool {
	if b == e.border {
		return false
	}
	e.border = b
	e.Refresh()
	if e.OnBorderChanged != nil {
		e.OnBorderChanged(b)
	}
	return true
}

func (e *Easel) moveCrop(dx, dy layout.MM) {
	if e.OnCropMoved != nil {
		e.OnCropMoved(dx, dy)
	}
}

func (e *Easel) dragSplit(pos fyne.Position) {
	x0, _, x1, _ := e.view.box(e.area())
	if x1 <= x0 {
		return
	}
	e.moveSplit(float64((pos.X - x0) / (x1 - x0)))
}

// moveSplit takes a place of the split line from the hand.
func (e *Easel) moveSplit(share float64) {
	share = min(max(share, 0), 1)
	if share == e.split {
		return
	}
	e.SetSplit(share)
	if e.OnSplitMoved != nil {
		e.OnSplitMoved(share)
	}
}

// letGo ends a drag. The toolkit tells both that the button went up and that the
// drag ended; the second finds nothing held.
func (e *Easel) letGo() {
	g := e.grip
	e.grip = grip{}
	if !g.held {
		return
	}
	e.Refresh()
	if g.moved {
		e.ended(g.part)
		return
	}
	still := within(g.last.X, g.from.X, g.from.X, jitter) && within(g.last.Y, g.from.Y, g.from.Y, jitter)
	if still && g.plain && (g.part == nothing || g.part == pictureArea) {
		e.tellPointed(g.last)
	}
}

// tellPointed tells the point of the panel at a place in the viewport.
func (e *Easel) tellPointed(pos fyne.Position) {
	if p := e.view.point(pos); e.OnPointed != nil && e.view.scale > 0 && e.onPanel(p) {
		e.OnPointed(p)
	}
}

func (e *Easel) ended(p part) {
	switch {
	case p == pictureArea && e.OnCropMoveEnded != nil:
		e.OnCropMoveEnded()
	case p == letterLine && e.OnLineMoveEnded != nil:
		e.OnLineMoveEnded()
	case p == levelLine:
		e.endLevel()
	case p.isEdge() && e.OnBorderChangeEnded != nil:
		e.OnBorderChangeEnded(e.border)
	}
}

// MouseIn starts to follow the pointer.
func (e *Easel) MouseIn(ev *desktop.MouseEvent) { e.MouseMoved(ev) }

// MouseMoved follows the pointer. A drag with the secondary button arrives here
// too: the toolkit knows no drags with that button.
func (e *Easel) MouseMoved(ev *desktop.MouseEvent) {
	pos := inView(ev.Position)
	if e.grip.held && e.grip.button == desktop.MouseButtonSecondary {
		if ev.Button&desktop.MouseButtonSecondary != 0 {
			e.drag(pos)
			return
		}
		e.letGo() // the button went up over another widget
	}
	e.point(pos, true)
}

// MouseOut stops following the pointer.
func (e *Easel) MouseOut() { e.point(e.pointer, false) }

// point notes where the pointer is and tells the owner.
func (e *Easel) point(pos fyne.Position, over bool) {
	if !over || !within(pos.X, e.zoomedAt.X, e.zoomedAt.X, jitter) || !within(pos.Y, e.zoomedAt.Y, e.zoomedAt.Y, jitter) {
		e.endCropZoom()
	}
	e.pointer, e.over = pos, over
	e.hovered = nothing
	if over {
		e.hovered = e.partAt(pos)
	}
	e.Refresh()
	if e.OnHover == nil {
		return
	}
	p := e.view.point(pos)
	e.OnHover(p, over && e.onPanel(p))
}

func (e *Easel) onPanel(p layout.Point) bool {
	return math.Abs(float64(p.X)) <= float64(e.panel.Size.W)/2 && math.Abs(float64(p.Y)) <= float64(e.panel.Size.H)/2
}

// Scrolled zooms the view about the pointer or, with Ctrl or Alt held, the
// picture on the panel.
func (e *Easel) Scrolled(ev *fyne.ScrollEvent) {
	factor := math.Exp(float64(ev.Scrolled.DY) * wheelRate)
	pos := inView(ev.Position)
	if e.held()&(fyne.KeyModifierControl|fyne.KeyModifierAlt) != 0 {
		e.zoomCrop(factor, pos)
		return
	}
	e.endCropZoom()
	e.zoom(factor, pos)
}

// zoomCrop magnifies the picture on the panel about a place in the viewport.
func (e *Easel) zoomCrop(factor float64, pos fyne.Position) {
	if e.mode != Arrange || e.OnCropZoomed == nil {
		return
	}
	if !e.zooming {
		e.zooming, e.zoomedAt = true, pos
	}
	e.OnCropZoomed(factor, e.view.point(pos))
}

// endCropZoom ends a row of turns of the wheel.
func (e *Easel) endCropZoom() {
	if !e.zooming {
		return
	}
	e.zooming = false
	if e.OnCropZoomEnded != nil {
		e.OnCropZoomEnded()
	}
}

// Cursor shows what the hand would take hold of.
func (e *Easel) Cursor() desktop.Cursor {
	p := e.hovered
	if e.grip.held {
		p = e.grip.part
	}
	switch {
	case p.upright():
		return desktop.HResizeCursor
	case p.isEdge():
		return desktop.VResizeCursor
	case p == levelLine:
		return desktop.CrosshairCursor
	case p == pictureArea, p == letterLine, e.space, e.grip.held:
		return moveCursor
	case e.mode == Inspect && e.onPanel(e.view.point(e.pointer)):
		return desktop.CrosshairCursor
	}
	return desktop.DefaultCursor
}
