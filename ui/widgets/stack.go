package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget       = (*CoatRow)(nil)
	_ fyne.Tappable     = (*CoatRow)(nil)
	_ fyne.Focusable    = (*CoatRow)(nil)
	_ desktop.Hoverable = (*CoatRow)(nil)
	_ fyne.Disableable  = (*CoatRow)(nil)
	_ fyne.Widget       = (*StackPicture)(nil)
)

// CoatRow shows a layer of the stack: a swatch of its paint, its name, and its
// thickness or, for the ground, that it is the ground. It can be picked by a
// click, Space or Enter once OnTapped is set.
type CoatRow struct {
	pressable

	layer  Layer
	ground bool
	chosen bool
}

// NewCoatRow is a row for a coat.
func NewCoatRow(l Layer) *CoatRow {
	r := &CoatRow{layer: l}
	r.ExtendBaseWidget(r)
	return r
}

// NewGroundRow is a row for the ground.
func NewGroundRow(l Layer) *CoatRow {
	r := &CoatRow{layer: l, ground: true}
	r.ExtendBaseWidget(r)
	return r
}

// SetLayer shows another layer.
func (r *CoatRow) SetLayer(l Layer) {
	r.layer = l
	r.Refresh()
}

// SetChosen marks the row as the one that is being edited.
func (r *CoatRow) SetChosen(chosen bool) {
	if r.chosen != chosen {
		r.chosen = chosen
		r.Refresh()
	}
}

// CreateRenderer is called by the toolkit.
func (r *CoatRow) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(r, r.minSize, r.paint)
}

const coatRowHeight = 26

func (r *CoatRow) minSize() fyne.Size { return fyne.NewSize(140, coatRowHeight) }

func (r *CoatRow) paint(b *brush, size fyne.Size) {
	const pad, swatchWide = 4, 34
	if r.chosen {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameSelection), b.colour(theme.ColorNameSelection), 0)
	} else if r.hovered && !r.Disabled() {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameHover), b.colour(theme.ColorNameHover), 0)
	}
	b.plate(pad, pad, pad+swatchWide, size.Height-pad, 2, r.layer.Colour, b.colour(theme.ColorNameInputBorder), 1)

	text := b.size(theme.SizeNameText)
	more := depthText(r.layer.ThicknessUM)
	if r.ground {
		more = lang.X("core.ground", "ground")
	}
	m := measure(more, text, fyne.TextStyle{})
	y := (size.Height - m.Height) / 2
	right := size.Width - pad - m.Width
	left := float32(pad + swatchWide + 8)
	b.text(elide(r.layer.Name, text, fyne.TextStyle{}, right-8-left), left, y, text, fyne.TextStyle{}, b.colour(theme.ColorNameForeground))
	second := b.colour(house.Quiet)
	if r.chosen {
		second = b.colour(theme.ColorNameForeground) // quiet ink is too faint on the selection
	}
	b.text(more, right, y, text, fyne.TextStyle{}, second)
	if r.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

// StackPicture lists the coats from the top down and the ground below them.
type StackPicture struct {
	widget.BaseWidget

	// OnPicked tells which layer was picked: a coat's place from the top, or
	// the number of coats for the ground. Without it nothing can be picked.
	OnPicked func(layer int)

	rows   []*CoatRow
	column *fyne.Container
	chosen int
}

// NewStackPicture is a picture without a stack.
func NewStackPicture() *StackPicture {
	s := &StackPicture{column: container.New(tightColumn{}), chosen: -1}
	s.ExtendBaseWidget(s)
	return s
}

// SetStack shows another stack. Rows stay what they are as long as the number of
// layers does, so that a focused row keeps its focus.
func (s *StackPicture) SetStack(coats []Layer, ground Layer) {
	if len(s.rows) != len(coats)+1 {
		s.rows = make([]*CoatRow, 0, len(coats)+1)
		for range coats {
			s.rows = append(s.rows, NewCoatRow(Layer{}))
		}
		s.rows = append(s.rows, NewGroundRow(Layer{}))
		s.column.Objects = s.column.Objects[:0]
		for _, row := range s.rows {
			s.column.Add(row)
		}
	}
	for i, l := range coats {
		s.rows[i].SetLayer(l)
	}
	s.rows[len(coats)].SetLayer(ground)
	s.Refresh()
}

// SetChosen marks a layer as the one that is being edited; -1 marks none.
func (s *StackPicture) SetChosen(layer int) {
	s.chosen = layer
	s.Refresh()
}

func (s *StackPicture) picked(layer int) {
	if s.OnPicked != nil {
		s.OnPicked(layer)
	}
}

// Refresh hands the rows what they need to be picked.
func (s *StackPicture) Refresh() {
	for i, row := range s.rows {
		row.OnTapped = nil
		if s.OnPicked != nil {
			row.OnTapped = func() { s.picked(i) }
		}
		row.SetChosen(i == s.chosen)
	}
	s.column.Refresh()
	canvas.Refresh(s)
}

// CreateRenderer is called by the toolkit.
func (s *StackPicture) CreateRenderer() fyne.WidgetRenderer {
	s.Refresh()
	return widget.NewSimpleRenderer(s.column)
}

// tightColumn stacks rows without gaps between them.
type tightColumn struct{}

func (tightColumn) MinSize(objects []fyne.CanvasObject) (size fyne.Size) {
	for _, o := range objects {
		m := o.MinSize()
		size = fyne.NewSize(max(size.Width, m.Width), size.Height+m.Height)
	}
	return size
}

func (tightColumn) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	y := float32(0)
	for _, o := range objects {
		h := o.MinSize().Height
		place(o, 0, y, size.Width, h)
		y += h
	}
}
