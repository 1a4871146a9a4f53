package widgets

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var _ fyne.Widget = (*FittedCoats)(nil)

// FittedCoat is what a chart has told of a coat: its colour before and after, and, on
// two lines, how much it takes to burn through it and how well that is known.
type FittedCoat struct {
	Name          string
	Before, After color.Color
	Value, Known  string
}

// FittedCoats lists coats from the top down with what a chart has told of them.
type FittedCoats struct {
	widget.BaseWidget

	coats []FittedCoat
}

// NewFittedCoats is an empty list, which takes no room.
func NewFittedCoats() *FittedCoats {
	f := &FittedCoats{}
	f.Hidden = true
	f.ExtendBaseWidget(f)
	return f
}

// Set shows other coats.
func (f *FittedCoats) Set(coats []FittedCoat) {
	if slices.Equal(f.coats, coats) {
		return
	}
	f.coats = slices.Clone(coats)
	f.Hidden = len(coats) == 0
	f.Refresh()
	canvas.Refresh(f)
}

// Coats are those on show.
func (f *FittedCoats) Coats() []FittedCoat { return slices.Clone(f.coats) }

const (
	fittedTall = 44
	fittedChip = 30 // the width of one colour
	fittedPad  = 4
)

// CreateRenderer is called by the toolkit.
func (f *FittedCoats) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(f, f.minSize, f.paint)
}

func (f *FittedCoats) minSize() fyne.Size {
	return fyne.NewSize(200, fittedTall*float32(len(f.coats)))
}

func (f *FittedCoats) paint(b *brush, size fyne.Size) {
	text, caption, plain := b.size(theme.SizeNameText), b.size(theme.SizeNameCaptionText), fyne.TextStyle{}
	ink, quiet, rim := b.colour(theme.ColorNameForeground), b.colour(house.Quiet), b.colour(theme.ColorNameInputBorder)
	line := measure("Xg", text, plain).Height
	for i, c := range f.coats {
		top := fittedTall * float32(i)
		y0, y1 := top+fittedPad+2, top+fittedTall-fittedPad-2
		b.plate(fittedPad, y0, fittedPad+fittedChip, y1, 0, c.Before, rim, 1)
		b.plate(fittedPad+fittedChip-1, y0, fittedPad+2*fittedChip, y1, 0, c.After, rim, 1)
		left, right := float32(fittedPad+2*fittedChip+8), size.Width-fittedPad
		y := top + fittedPad
		value := measure(c.Value, text, plain).Width
		b.text(c.Value, right-value, y, text, plain, ink)
		b.text(elide(c.Name, text, plain, right-value-8-left), left, y, text, plain, ink)
		b.text(elide(c.Known, caption, plain, right-left), left, y+line, caption, plain, quiet)
		b.bar(0, top+fittedTall-b.hair(), size.Width, top+fittedTall, b.colour(theme.ColorNameSeparator))
	}
}
