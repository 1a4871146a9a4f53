package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
)

// hand plays a person's gestures to a widget as the toolkit's desktop driver
// does: a press, moves, a release and only then the end of the drag.
type hand struct {
	button   desktop.MouseButton
	modifier fyne.KeyModifier
}

type draggable interface {
	desktop.Mouseable
	fyne.Draggable
}

var primary = hand{button: desktop.MouseButtonPrimary}

// press puts the button down.
func (h hand) press(w desktop.Mouseable, at fyne.Position) {
	w.MouseDown(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: h.button, Modifier: h.modifier})
}

// move drags from one place to another in several steps.
func (h hand) move(w fyne.Draggable, from, to fyne.Position) {
	const steps = 5
	last := from
	for i := 1; i <= steps; i++ {
		part := float32(i) / steps
		pos := fyne.NewPos(from.X+(to.X-from.X)*part, from.Y+(to.Y-from.Y)*part)
		w.Dragged(&fyne.DragEvent{
			PointEvent: fyne.PointEvent{Position: pos},
			Dragged:    fyne.NewDelta(pos.X-last.X, pos.Y-last.Y),
		})
		last = pos
	}
}

// release lets the button go after a drag.
func (h hand) release(w draggable, at fyne.Position) {
	w.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}, Button: h.button, Modifier: h.modifier})
	w.DragEnd()
}

// drag is a whole drag.
func (h hand) drag(w draggable, from, to fyne.Position) {
	h.press(w, from)
	h.move(w, from, to)
	h.release(w, to)
}

// hover moves the pointer with no button down.
func hover(w desktop.Hoverable, to fyne.Position) {
	w.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}})
}

// wheel turns the wheel at a place; up is positive.
func wheel(w fyne.Scrollable, at fyne.Position, up float32) {
	w.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: at}, Scrolled: fyne.NewDelta(0, up)})
}

// strike presses and releases a key.
func strike(w fyne.Focusable, key fyne.KeyName) {
	ev := &fyne.KeyEvent{Name: key}
	if k, ok := w.(desktop.Keyable); ok {
		k.KeyDown(ev)
		defer k.KeyUp(ev)
	}
	w.TypedKey(ev)
}

// holdKey presses a key that repeats, and releases it.
func holdKey(w desktop.Keyable, key fyne.KeyName, repeats int) {
	ev := &fyne.KeyEvent{Name: key}
	w.KeyDown(ev)
	for range repeats {
		w.TypedKey(ev)
	}
	w.KeyUp(ev)
}
