package widgets

import (
	"math"
	"slices"

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
	_ fyne.Draggable    = (*CoatRow)(nil)
	_ desktop.Keyable   = (*CoatRow)(nil)
	_ fyne.Widget       = (*StackPicture)(nil)
)

// CoatRow shows a layer of the stack: a swatch of its paint, its name, and its
// thickness or, for the ground, that it is the ground. It can be picked by a
// click, Space or Enter once OnTapped is set.
type CoatRow struct {
	pressable

	coatLook
	ground bool

	// What a coat that can be moved tells: how far below its top the pointer is while
	// it is dragged, that it was let go, and that a key moves it by so many places.
	// They are set together; nil: it cannot be moved.
	dragged func(y float32)
	dropped func()
	nudged  func(places int)
	held    func() fyne.KeyModifier
}

// coatLook is what a row shows.
type coatLook struct {
	layer   Layer
	chosen  bool
	lifted  bool // by a hand that moves it
	movable bool // or, of the ground, the coats above it
}

// NewCoatRow is a row for a coat.
func NewCoatRow(l Layer) *CoatRow {
	r := &CoatRow{coatLook: coatLook{layer: l}, held: heldModifiers}
	r.ExtendBaseWidget(r)
	return r
}

// NewGroundRow is a row for the ground.
func NewGroundRow(l Layer) *CoatRow {
	r := &CoatRow{coatLook: coatLook{layer: l}, ground: true, held: heldModifiers}
	r.ExtendBaseWidget(r)
	return r
}

// SetLayer shows another layer.
func (r *CoatRow) SetLayer(l Layer) {
	look := r.coatLook
	look.layer = l
	r.setLook(look)
}

func (r *CoatRow) setLook(look coatLook) {
	if r.coatLook != look {
		r.coatLook = look
		r.Refresh()
	}
}

// Dragged moves the coat among the others.
func (r *CoatRow) Dragged(ev *fyne.DragEvent) {
	if r.dragged != nil {
		r.dragged(ev.Position.Y)
	}
}

// DragEnd leaves the coat where it was dragged to.
func (r *CoatRow) DragEnd() {
	if r.dropped != nil {
		r.dropped()
	}
}

// KeyDown moves the coat by a place, with Alt and an arrow key. The toolkit keeps keys
// with Alt from TypedKey.
func (r *CoatRow) KeyDown(ev *fyne.KeyEvent) {
	_, up, _ := arrowOf(ev.Name)
	if r.nudged != nil && up != 0 && r.held() == fyne.KeyModifierAlt {
		r.nudged(-up)
	}
}

// KeyUp does nothing.
func (r *CoatRow) KeyUp(*fyne.KeyEvent) {}

// CreateRenderer is called by the toolkit.
func (r *CoatRow) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(r, r.minSize, r.paint)
}

const coatRowHeight = 26

func (r *CoatRow) minSize() fyne.Size { return fyne.NewSize(140, coatRowHeight) }

func (r *CoatRow) paint(b *brush, size fyne.Size) {
	const swatchWide = 34
	pad := float32(4)
	if r.chosen {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameSelection), b.colour(theme.ColorNameSelection), 0)
	} else if r.hovered && !r.Disabled() {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameHover), b.colour(theme.ColorNameHover), 0)
	}
	left := pad
	if r.movable {
		left += gripWide
		if !r.ground {
			r.paintGrip(b, pad+1, size.Height)
		}
	}
	b.plate(left, pad, left+swatchWide, size.Height-pad, 2, r.layer.Colour, b.colour(theme.ColorNameInputBorder), 1)

	text := b.size(theme.SizeNameText)
	more := depthText(r.layer.ThicknessUM)
	if r.ground {
		more = lang.X("core.ground", "ground")
	}
	m := measure(more, text, fyne.TextStyle{})
	y := (size.Height - m.Height) / 2
	right := size.Width - pad - m.Width
	left += swatchWide + 8
	b.text(elide(r.layer.Name, text, fyne.TextStyle{}, right-8-left), left, y, text, fyne.TextStyle{}, b.colour(theme.ColorNameForeground))
	second := b.colour(house.Quiet)
	if r.chosen {
		second = b.colour(theme.ColorNameForeground) // quiet ink is too faint on the selection
	}
	b.text(more, right, y, text, fyne.TextStyle{}, second)
	if r.focused || r.lifted {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

// gripWide is the room that the grip takes at the left of a coat that can be moved.
const gripWide = 10

// paintGrip draws what says that the coat can be taken by the hand.
func (r *CoatRow) paintGrip(b *brush, x, tall float32) {
	ink := b.colour(house.Quiet)
	if r.chosen {
		ink = b.colour(theme.ColorNameForeground)
	}
	for row := float32(-1); row <= 1; row++ {
		for _, dx := range []float32{0, 4} {
			y := tall/2 + 5*row
			b.plate(x+dx, y-1, x+dx+2, y+1, 1, ink, ink, 0)
		}
	}
}

// StackPicture lists the coats from the top down and the ground below them.
type StackPicture struct {
	widget.BaseWidget

	// OnPicked tells which layer was picked: a coat's place from the top, or
	// the number of coats for the ground. Without it nothing can be picked.
	OnPicked func(layer int)
	// OnMoved tells that a coat was moved from one place from the top to another, by
	// dragging it or by Alt and an arrow key. Without it none can be moved.
	OnMoved func(from, to int)

	rows   []*CoatRow
	coats  []Layer
	column *fyne.Container
	chosen int
	from   int // of the coat that is dragged; -1: none
	to     int // where it would be put
}

// NewStackPicture is a picture without a stack.
func NewStackPicture() *StackPicture {
	s := &StackPicture{column: container.New(tightColumn{}), chosen: -1, from: -1}
	s.ExtendBaseWidget(s)
	return s
}

// SetStack shows another stack. Rows stay what they are as long as the number of
// layers does, so that a focused row keeps its focus.
func (s *StackPicture) SetStack(coats []Layer, ground Layer) {
	if len(s.rows) != len(coats)+1 {
		s.from = -1 // what was dragged is gone
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
	s.coats = slices.Clone(coats)
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

// drag shows the coats as they would lie with one of them put where the pointer is, y
// below the top of its row.
func (s *StackPicture) drag(coat int, y float32) {
	row := float64(s.rows[coat].Size().Height)
	if row <= 0 {
		return
	}
	to := coat + int(math.Floor(float64(y)/row))
	s.from, s.to = coat, min(max(to, 0), len(s.coats)-1)
	s.Refresh()
}

func (s *StackPicture) drop() {
	from, to := s.from, s.to
	s.from = -1
	if from >= 0 && from != to {
		s.OnMoved(from, to)
	}
	s.Refresh()
}

// nudge moves a coat by some places, and the keyboard goes with it.
func (s *StackPicture) nudge(coat, places int) {
	to := coat + places
	if to < 0 || to >= len(s.coats) {
		return
	}
	s.OnMoved(coat, to)
	takeFocus(s.rows[to])
}

// shown are the coats in the order on show, and the place of the one that is being
// edited or, while one is dragged, of that.
func (s *StackPicture) shown() (coats []Layer, chosen int) {
	if s.from < 0 {
		return s.coats, s.chosen
	}
	coats = slices.Clone(s.coats)
	moved := coats[s.from]
	return slices.Insert(slices.Delete(coats, s.from, s.from+1), s.to, moved), s.to
}

// Refresh hands the rows what they need to be shown, picked and moved.
func (s *StackPicture) Refresh() {
	coats, chosen := s.shown()
	movable := s.OnMoved != nil && len(coats) > 1
	for i, row := range s.rows {
		row.OnTapped, row.dragged, row.dropped, row.nudged = nil, nil, nil, nil
		if s.OnPicked != nil {
			row.OnTapped = func() { s.picked(i) }
		}
		look := coatLook{row.layer, i == chosen, false, movable}
		if i < len(coats) {
			look.layer, look.lifted = coats[i], s.from >= 0 && i == s.to
		}
		if movable && i < len(coats) {
			row.dragged, row.dropped = func(y float32) { s.drag(i, y) }, s.drop
			row.nudged = func(places int) { s.nudge(i, places) }
		}
		row.setLook(look)
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
