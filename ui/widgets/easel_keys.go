package widgets

import (
	"slices"

	"fyne.io/fyne/v2"

	"undercoat/layout"
)

const panStep = 40 // pixels of an arrow key with nothing selected

func (e *Easel) takeFocus() {
	if c := fyne.CurrentApp().Driver().CanvasForObject(e); c != nil {
		c.Focus(e)
	}
}

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
	if e.mode != Arrange || e.view.scale == 0 {
		return nothing, false
	}
	at := slices.Index(tabOrder, e.selected)
	if e.held()&fyne.KeyModifierShift != 0 {
		at--
	} else {
		at++
	}
	if at < 0 || at >= len(tabOrder) {
		return nothing, false
	}
	return tabOrder[at], true
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
	}
}

// TypedKey moves the selected handle, or the view when none is selected.
func (e *Easel) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyTab:
		if next, ok := e.nextPart(); ok {
			e.endNudge()
			e.selected = next
			e.Refresh()
		}
	case fyne.KeyEscape:
		e.endNudge()
		e.selected = nothing
		e.Refresh()
	case fyne.KeyLeft:
		e.arrow(-1, 0)
	case fyne.KeyRight:
		e.arrow(1, 0)
	case fyne.KeyUp:
		e.arrow(0, 1)
	case fyne.KeyDown:
		e.arrow(0, -1)
	}
}

// arrow moves the selected handle a step, right and up being positive; ten steps
// with Shift held.
func (e *Easel) arrow(right, up int) {
	e.endCropZoom()
	times := 1
	if e.held()&fyne.KeyModifierShift != 0 {
		times = 10
	}
	switch p := e.selected; {
	case p == nothing:
		e.pan(float32(-right*panStep), float32(up*panStep))
	case p == picture:
		e.nudging = p
		step := e.dot() * layout.MM(times)
		e.moveCrop(layout.MM(right)*step, layout.MM(up)*step)
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
	case fyne.KeyLeft, fyne.KeyRight, fyne.KeyUp, fyne.KeyDown:
		e.endNudge()
	}
}

func (e *Easel) endNudge() {
	p := e.nudging
	e.nudging = nothing
	if p != nothing {
		e.ended(p)
	}
}
