package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var _ fyne.Widget = (*Named)(nil)

// Named is a control with its name before it, in line with the fields above and
// below. Behind it may stand a readout.
type Named struct {
	widget.BaseWidget

	name, readout string
	column        float32 // the width of the name's
	control       fyne.CanvasObject
}

// NewNamed puts a name before a control.
func NewNamed(name string, control fyne.CanvasObject) *Named {
	n := &Named{name: name, column: fieldName, control: control}
	n.ExtendBaseWidget(n)
	return n
}

// NewRimmed is a list to pick from with the edge that lines to type into have, where its
// name stands elsewhere.
func NewRimmed(list *widget.Select) *Named {
	n := NewNamed("", list)
	n.column = 0
	return n
}

// SetReadout writes a value behind the control, which makes room for it.
func (n *Named) SetReadout(text string) {
	if n.readout != text {
		n.readout = text
		n.Refresh()
	}
}

// Readout is the value behind the control.
func (n *Named) Readout() string { return n.readout }

// Control is what the name stands before.
func (n *Named) Control() fyne.CanvasObject { return n.control }

// SetName changes the name before the control.
func (n *Named) SetName(name string) {
	if n.name != name {
		n.name = name
		n.Refresh()
	}
}

// Name is the name before the control.
func (n *Named) Name() string { return n.name }

// CreateRenderer is called by the toolkit.
func (n *Named) CreateRenderer() fyne.WidgetRenderer {
	r := &namedRenderer{named: n, brush: newBrush()}
	r.brush.begin(n)
	return r
}

type namedRenderer struct {
	named *Named
	brush *brush
	size  fyne.Size
}

func (r *namedRenderer) unitWidth() float32 {
	if r.named.readout == "" {
		return 0
	}
	return fieldUnit
}

func (r *namedRenderer) MinSize() fyne.Size {
	c := r.named.control.MinSize()
	return fyne.NewSize(r.named.column+max(80, c.Width)+r.unitWidth(), c.Height)
}

func (r *namedRenderer) Layout(size fyne.Size) {
	r.size = size
	tall := r.named.control.MinSize().Height
	column := r.named.column
	place(r.named.control, column, (size.Height-tall)/2, max(0, size.Width-column-r.unitWidth()), tall)
	r.paint()
}

func (r *namedRenderer) paint() {
	n, b := r.named, r.brush
	b.begin(n)
	text, plain := b.size(theme.SizeNameText), fyne.TextStyle{}
	y := (r.size.Height - measure("Xg", text, plain).Height) / 2
	b.text(elide(n.name, text, plain, max(0, n.column-8)), 0, y, text, plain, b.colour(theme.ColorNameForeground))
	b.text(elide(n.readout, text, plain, fieldUnit-6), r.size.Width-r.unitWidth()+6, y, text, plain, b.colour(house.Quiet))
	if _, ok := n.control.(*widget.Select); ok {
		r.paintRim()
	}
}

// paintRim draws the edge that a list to pick from lacks and lines to type into
// have.
func (r *namedRenderer) paintRim() {
	c, b := r.named.control, r.brush
	width := b.size(theme.SizeNameInputBorder)
	at, size := c.Position().AddXY(width, width), c.Size().SubtractWidthHeight(2*width, 2*width)
	b.plate(at.X, at.Y, at.X+size.Width, at.Y+size.Height, b.size(theme.SizeNameInputRadius),
		color.Transparent, b.colour(theme.ColorNameInputBorder), width)
}

func (r *namedRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.named.control, r.brush.layer}
}

func (r *namedRenderer) Refresh() {
	r.Layout(r.size)
	r.named.control.Refresh()
	canvas.Refresh(r.named)
}

func (r *namedRenderer) Destroy() {}
