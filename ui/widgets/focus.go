package widgets

import "fyne.io/fyne/v2"

type focusable interface {
	fyne.CanvasObject
	fyne.Focusable
}

// takeFocus gives a widget that was pressed the keyboard.
func takeFocus(w focusable) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(w); c != nil {
		c.Focus(w)
	}
}

// times is how many steps a press of an arrow key makes: ten with Shift held.
func times(held fyne.KeyModifier) int {
	if held&fyne.KeyModifierShift != 0 {
		return 10
	}
	return 1
}

// arrowOf is the way of an arrow key, right and up being positive; false for any
// other key.
func arrowOf(key fyne.KeyName) (right, up int, ok bool) {
	switch key {
	case fyne.KeyLeft:
		return -1, 0, true
	case fyne.KeyRight:
		return 1, 0, true
	case fyne.KeyUp:
		return 0, 1, true
	case fyne.KeyDown:
		return 0, -1, true
	}
	return 0, 0, false
}

// tabTo is where the Tab key goes among n things from one of them, -1 for none,
// with Shift held backwards; false after the last.
func tabTo(at, n int, held fyne.KeyModifier) (int, bool) {
	if held&fyne.KeyModifierShift != 0 {
		at--
	} else {
		at++
	}
	return at, at >= 0 && at < n
}
