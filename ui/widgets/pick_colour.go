package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"

	"undercoat/imaging/colour"
)

// NewColourPicker is a question for a colour, which begins with one. It is not on show yet.
func NewColourPicker(title, message string, first colour.Stored, then func(colour.Stored), win fyne.Window) *dialog.ColorPickerDialog {
	d := dialog.NewColorPicker(title, message, func(c color.Color) { then(colour.StoredOf(c)) }, win)
	d.Advanced = true
	d.SetColor(first)
	return d
}
