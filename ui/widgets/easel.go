package widgets

import (
	"image"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

var (
	_ fyne.Widget        = (*Easel)(nil)
	_ fyne.Focusable     = (*Easel)(nil)
	_ fyne.Tabbable      = (*Easel)(nil)
	_ fyne.Draggable     = (*Easel)(nil)
	_ fyne.Scrollable    = (*Easel)(nil)
	_ desktop.Keyable    = (*Easel)(nil)
	_ desktop.Mouseable  = (*Easel)(nil)
	_ desktop.Hoverable  = (*Easel)(nil)
	_ desktop.Cursorable = (*Easel)(nil)
)

// EaselMode is what the hand does on the easel.
type EaselMode uint8

const (
	// Arrange shows the border's handles; dragging the picture moves its crop.
	Arrange EaselMode = iota
	// Inspect shows the panel as it will be; dragging moves the view.
	Inspect
	// Level has a line drawn along something that shall lie level or upright.
	Level
)

// EaselView is the part of the panel that can be seen.
type EaselView struct {
	Area        layout.Area // the visible part of the panel, from its centre
	W, H        int         // the device pixels it takes
	PixelsPerMM float64     // device pixels to a millimetre
}

// Easel shows the panel to scale on a neutral surround, with rulers from its
// centre. The border's edges and the crop are moved by hand or with the arrow
// keys, the Tab key going from one handle to the next and then on to the next
// widget. The wheel zooms about the pointer, from half the size of the whole
// panel to single dots; + and - zoom about the middle, 0 shows the whole panel
// and 1 a dot to a pixel. Dragging beside the picture, with the middle or the
// secondary button, or with Space or Ctrl held, moves the view.
type Easel struct {
	widget.BaseWidget

	// OnBorderChanged follows a border's edge that is being moved, and
	// OnBorderChangeEnded comes once it is let go. With Shift held all four
	// sides become alike.
	OnBorderChanged     func(layout.Border)
	OnBorderChangeEnded func(layout.Border)
	// OnCropMoved tells by how much the picture was moved on the panel since
	// the last call, y up: the crop goes the other way over the picture.
	OnCropMoved     func(dx, dy layout.MM)
	OnCropMoveEnded func()
	// OnCropZoomed tells that the picture shall become larger on the panel by
	// a factor, with the point at the pointer staying where it is. It comes of
	// the wheel with Ctrl or Alt held.
	OnCropZoomed func(factor float64, at layout.Point)
	// OnCropZoomEnded comes after the last turn of the wheel in a row: once the
	// pointer goes elsewhere or the hand does something else.
	OnCropZoomEnded func()
	// OnLevelDrawn tells a line that was drawn in the mode Level, and
	// OnLevelDropped that none will be: Escape was pressed.
	OnLevelDrawn   func(from, to layout.Point)
	OnLevelDropped func()
	// OnLinePicked tells that the hand went to a line of lettering, OnLineMoved by
	// how much that line was moved since the last call, y up, and OnLineMoveEnded
	// that it was let go.
	OnLinePicked    func(line int)
	OnLineMoved     func(line int, dx, dy layout.MM)
	OnLineMoveEnded func()
	// OnSplitMoved tells where the line between the two compared pictures went,
	// as a share of the picture area's width from the left.
	OnSplitMoved func(share float64)
	// OnPointed tells the point of the panel that was clicked on, or that Enter was
	// pressed over: nothing was dragged.
	OnPointed func(p layout.Point)
	// OnRune takes the letters that the easel has no use for.
	OnRune func(r rune)
	// OnKey takes the keys that the easel has no use for.
	OnKey func(*fyne.KeyEvent)
	// OnHover tells the point under the pointer, and whether that is on the panel;
	// it comes with false when the pointer leaves.
	OnHover func(p layout.Point, inside bool)
	// OnViewChanged tells what can be seen now, so that a sharper picture of
	// just that can be handed to SetDetail.
	OnViewChanged func(EaselView)

	panel   layout.Panel
	topCoat colour.Stored
	border  layout.Border
	unit    layout.Unit
	pitch   layout.MM
	mode    EaselMode

	picture, detail    placed
	other, otherDetail placed
	split              float64
	names              [2]string
	caution            string
	level              [2]layout.Point // the ends of the line that is being drawn
	lines              [][4]layout.Point
	pin                *layout.Point // where a core is pinned; nil: nowhere
	line               int           // of them, that the hand went to last; -1: none

	view  viewport
	whole bool // the whole panel is shown, also when the easel is resized
	told  EaselView

	grip     grip
	selected part
	hovered  part
	pointer  fyne.Position // in the viewport
	over     bool          // the pointer is on the easel
	focused  bool
	space    bool
	nudging  part
	zooming  bool          // the wheel is zooming the crop
	zoomedAt fyne.Position // where the pointer was when it began

	// held is the modifiers that are down now: neither drags nor the wheel
	// bring theirs along.
	held func() fyne.KeyModifier
}

// placed is an image and the area of the panel it covers.
type placed struct {
	img  *image.RGBA
	area layout.Area
}

// NewEasel is an easel without a panel.
func NewEasel() *Easel {
	e := &Easel{whole: true, split: 0.5, line: -1, held: heldModifiers}
	e.ExtendBaseWidget(e)
	return e
}

func heldModifiers() fyne.KeyModifier {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok {
		return d.CurrentKeyModifiers()
	}
	return 0
}

// SetPanel shows a panel, all in the colour of its top coat.
func (e *Easel) SetPanel(panel layout.Panel, topCoat colour.Stored) {
	resized := panel.Size != e.panel.Size
	e.panel, e.topCoat = panel, topCoat
	if resized {
		e.show(e.settled(e.view.kept(panel.Size)))
		return
	}
	e.Refresh()
}

// SetBorder sets the border round the picture area.
func (e *Easel) SetBorder(border layout.Border) {
	if e.border != border {
		e.border = border
		e.Refresh()
	}
}

// SetUnit sets the unit of the rulers and of the readouts on the handles.
func (e *Easel) SetUnit(unit layout.Unit) {
	if e.unit != unit {
		e.unit = unit
		e.Refresh()
	}
}

// SetPitch sets the size of a dot: how far the easel zooms in and how far an
// arrow key moves the crop.
func (e *Easel) SetPitch(pitch layout.MM) {
	if e.pitch != pitch {
		e.pitch = pitch
		e.show(e.settled(e.view))
	}
}

// SetCaution lays a caution over the upper edge of what is shown; an empty text
// takes it away.
func (e *Easel) SetCaution(text string) {
	if e.caution != text {
		e.caution = text
		e.Refresh()
	}
}

// Caution is the caution on show.
func (e *Easel) Caution() string { return e.caution }

// SetMode says what the hand does.
func (e *Easel) SetMode(mode EaselMode) {
	if e.mode != mode {
		e.mode, e.selected = mode, nothing
		e.Refresh()
	}
}

// SetLines shows frames round lines of lettering, by which they are moved: upper
// left, upper right, lower right and lower left of each, as it is read. One of them,
// or none for -1, is the one that is being worked on. Later lines lie over earlier
// ones.
func (e *Easel) SetLines(frames [][4]layout.Point, chosen int) {
	if slices.Equal(e.lines, frames) && e.line == chosen {
		return
	}
	e.lines = slices.Clone(frames)
	if e.line = chosen; chosen >= len(frames) {
		e.line = -1
	}
	if e.line < 0 && e.selected == letterLine {
		e.selected = nothing
	}
	e.Refresh()
}

// Mode is what the hand does.
func (e *Easel) Mode() EaselMode { return e.mode }

// SetImage shows a picture that covers an area of the panel, as a rule the
// raster's. A nil image shows bare top coat. The detail goes, since it belonged
// to the picture before.
func (e *Easel) SetImage(img *image.RGBA, area layout.Area) {
	e.picture, e.detail = placed{img, area}, placed{}
	e.Refresh()
}

// SetDetail lays a sharper picture of a part over that of SetImage; a nil image
// takes it away.
func (e *Easel) SetDetail(img *image.RGBA, area layout.Area) {
	e.detail = placed{img, area}
	e.Refresh()
}

// SetOther compares: what is right of the split line comes from this picture
// instead. A nil image ends the comparison. left and right name the two.
func (e *Easel) SetOther(img *image.RGBA, area layout.Area, left, right string) {
	e.other, e.otherDetail, e.names = placed{img, area}, placed{}, [2]string{left, right}
	if img == nil && e.selected == splitLine {
		e.selected = nothing
	}
	e.Refresh()
}

// Compared is what the two compared pictures are called; empty while nothing is.
func (e *Easel) Compared() [2]string {
	if e.other.img == nil {
		return [2]string{}
	}
	return e.names
}

// SetOtherDetail lays a sharper picture of a part over that of SetOther; a nil image
// takes it away.
func (e *Easel) SetOtherDetail(img *image.RGBA, area layout.Area) {
	e.otherDetail = placed{img, area}
	e.Refresh()
}

// SetPin marks a point of the panel; nil takes the mark away.
func (e *Easel) SetPin(p *layout.Point) {
	if p != nil {
		at := *p
		p = &at
	}
	e.pin = p
	e.Refresh()
}

// SetSplit puts the split line at a share of the picture area's width, 0..1.
func (e *Easel) SetSplit(share float64) {
	if share >= 0 && share <= 1 && share != e.split {
		e.split = share
		e.Refresh()
	}
}

// Split is where the split line stands, as a share of the picture area's width.
func (e *Easel) Split() float64 { return e.split }

// View is what can be seen now.
func (e *Easel) View() EaselView { return e.told }

// area is the picture area; a border that leaves nothing has an empty one.
func (e *Easel) area() layout.Area {
	w := max(0, e.panel.Size.W-e.border.Left-e.border.Right)
	h := max(0, e.panel.Size.H-e.border.Top-e.border.Bottom)
	return layout.Area{
		Centre: layout.Point{X: (e.border.Left - e.border.Right) / 2, Y: (e.border.Bottom - e.border.Top) / 2},
		Size:   layout.Size{W: w, H: h},
	}
}

// MinSize leaves room for the rulers and a panel that can still be made out.
func (e *Easel) MinSize() fyne.Size {
	return fyne.NewSize(rulerLeft+160, rulerTop+120)
}

// CreateRenderer is called by the toolkit.
func (e *Easel) CreateRenderer() fyne.WidgetRenderer { return newEaselRenderer(e) }
