package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

// pressable is the part of a widget that can be pressed with the pointer, Space or
// Enter. Without an OnTapped it is only looked at: it takes no focus.
type pressable struct {
	widget.BaseWidget

	// OnTapped is called for every press.
	OnTapped func()
	// OnKey takes the keys that press nothing.
	OnKey func(*fyne.KeyEvent)

	hovered, focused bool
}

// Tapped presses.
func (p *pressable) Tapped(*fyne.PointEvent) {
	if p.OnTapped != nil {
		p.OnTapped()
	}
}

// Disabled says that there is nothing to press.
func (p *pressable) Disabled() bool { return p.OnTapped == nil }

// Enable does nothing: setting OnTapped is what enables.
func (p *pressable) Enable() {}

// Disable does nothing: clearing OnTapped is what disables.
func (p *pressable) Disable() {}

// FocusGained draws the focus ring.
func (p *pressable) FocusGained() {
	p.focused = true
	p.Refresh()
}

// FocusLost takes the focus ring away.
func (p *pressable) FocusLost() {
	p.focused = false
	p.Refresh()
}

// TypedRune does nothing.
func (p *pressable) TypedRune(rune) {}

// TypedKey presses with Space or Enter.
func (p *pressable) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeySpace, fyne.KeyReturn, fyne.KeyEnter:
		p.Tapped(nil)
	default:
		if p.OnKey != nil {
			p.OnKey(ev)
		}
	}
}

// MouseIn shows that there is something to press.
func (p *pressable) MouseIn(*desktop.MouseEvent) {
	p.hovered = true
	p.Refresh()
}

// MouseMoved does nothing.
func (p *pressable) MouseMoved(*desktop.MouseEvent) {}

// MouseOut ends what MouseIn began.
func (p *pressable) MouseOut() {
	p.hovered = false
	p.Refresh()
}
