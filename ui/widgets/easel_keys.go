package widgets

import (
	"slices"

	"fyne.io/fyne/v2"

	"undercoat/layout"
)

const (
	panStep    = 40   // pixels of an arrow key with nothing selected
	splitNudge = 0.01 // of the picture area's width
)

// FocusGained draws the focus ring.
func (e *Easel) FocusGained() {
	e.focused = true
	e.Refresh()
}

// FocusLost ends what the keys were doing.
func (e *Easel) FocusLost() {
	e.endNudge()
	e.endCropZoom()
	e.focused, e.space, e.selected = false, false, nothing
	e.Refresh()
}

// AcceptsTab keeps the Tab key while there is a handle left to go to.
func (e *Easel) AcceptsTab() bool {
	_, more := e.nextPart()
	return more
}

// nextPart is where the Tab key goes from the selected handle, with Shift held
// backwards; false after the last.
func (e *Easel) nextPart() (part, bool) {
	order := e.tabOrder()
	if len(order) == 0 || e.view.scale == 0 {
		return nothing, false
	}
	at, more := tabTo(slices.Index(order, e.selected), len(order), e.held())
	if !more {
		return nothing, false
	}
	return order[at], true
}

// tabOrder is the way of the Tab key.
func (e *Easel) tabOrder() (order []part) {
	if e.other.img != nil {
		order = append(order, splitLine)
	}
	if e.mode != Arrange {
		return order
	}
	order = append(order, leftEdge, rightEdge, topEdge, bottomEdge, pictureArea)
	if e.line >= 0 {
		order = append(order, letterLine)
	}
	return order
}

// TypedRune zooms.
func (e *Easel) TypedRune(r rune) {
	switch r {
	case '+', '=':
		e.ZoomBy(keyZoom)
	case '-', '\u2212':
		e.ZoomBy(1 / keyZoom)
	case '0':
		e.Fit()
	case '1':
		e.ZoomToDots()
	default:
		if e.OnRune != nil {
			e.OnRune(r)
		}
	}
}

// TypedKey moves the selected handle, or the view when none is selected.
func (e *Easel) TypedKey(ev *fyne.KeyEvent) {
	if right, up, ok := arrowOf(ev.Name); ok {
		e.arrow(right, up)
		return
	}
	switch ev.Name {
	case fyne.KeyTab:
		if next, ok := e.nextPart(); ok {
			e.endNudge()
			e.selected = next
			e.Refresh()
		}
	case fyne.KeyReturn, fyne.KeyEnter:
		if e.over {
			e.tellPointed(e.pointer)
		}
	case fyne.KeyEscape:
		e.endNudge()
		e.selected = nothing
		e.dropLevel()
		e.Refresh()
	default:
		if e.OnKey != nil {
			e.OnKey(ev)
		}
	}
}

// arrow moves the selected handle a step, right and up being positive; ten steps
// with Shift held.
func (e *Easel) arrow(right, up int) {
	e.endCropZoom()
	times := times(e.held())
	switch p := e.selected; {
	case p == nothing:
		e.pan(float32(-right*panStep), float32(up*panStep))
	case p == pictureArea:
		e.nudging = p
		step := e.dot() * layout.MM(times)
		e.moveCrop(layout.MM(right)*step, layout.MM(up)*step)
	case p == splitLine:
		e.moveSplit(e.split + float64(right*times)*splitNudge)
	case p == letterLine:
		e.nudging = p
		step := nudge * layout.MM(times)
		e.moveLine(layout.MM(right)*step, layout.MM(up)*step)
	default:
		inwards := map[part]int{leftEdge: right, rightEdge: -right, topEdge: -up, bottomEdge: up}[p]
		width := *side(&e.border, p) + layout.MM(inwards*times)*nudge
		if inwards != 0 && e.changeBorder(e.withSide(p, rounded(width, nudge/10), false)) {
			e.nudging = p
		}
	}
}

// KeyDown notes that Space is held: the pointer then moves the view.
func (e *Easel) KeyDown(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeySpace {
		e.space = true
	}
}

// KeyUp ends a move with the arrow keys.
func (e *Easel) KeyUp(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace:
		e.space = false
	default:
		if _, _, ok := arrowOf(ev.Name); ok {
			e.endNudge()
		}
	}
}

func (e *Easel) endNudge() {
	p := e.nudging
	e.nudging = nothing
	if p != nothing {
		e.ended(p)
	}
}
