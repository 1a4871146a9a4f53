package widgets

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget        = (*CornerPicker)(nil)
	_ fyne.Focusable     = (*CornerPicker)(nil)
	_ fyne.Tabbable      = (*CornerPicker)(nil)
	_ fyne.Draggable     = (*CornerPicker)(nil)
	_ desktop.Mouseable  = (*CornerPicker)(nil)
	_ desktop.Hoverable  = (*CornerPicker)(nil)
	_ desktop.Cursorable = (*CornerPicker)(nil)
)

// CornerPicker shows a picture and on it the four corners of something that is
// really a rectangle. Each corner is dragged, or selected with the Tab key and moved
// by the arrow keys, a pixel of the picture at a time, ten with Shift held.
type CornerPicker struct {
	widget.BaseWidget

	// OnChanged follows the corners: upper left, upper right, lower right, lower
	// left, in pixels of the picture.
	OnChanged func([4]layout.PicturePoint)

	img      *image.RGBA
	w, h     float64 // of the picture, in its own pixels
	corners  [4]layout.PicturePoint
	selected int // -1: none
	hovered  int // -1: none
	holding  bool
	offset   fyne.Delta // of the corner from where the pointer took it
	focused  bool
	view     cornerView
	held     func() fyne.KeyModifier
	names    [4]string // written beside the corners
}

// cornerView is where the picture lies in the widget.
type cornerView struct {
	x, y  float32
	scale float64 // the toolkit's pixels to one of the picture
}

// NewCornerPicker shows an image of a picture that is w x h pixels large.
func NewCornerPicker(img *image.RGBA, w, h int) *CornerPicker {
	c := &CornerPicker{img: img, w: float64(w), h: float64(h), selected: -1, hovered: -1, held: heldModifiers}
	c.ExtendBaseWidget(c)
	return c
}

// SetCorners shows corners.
func (c *CornerPicker) SetCorners(corners [4]layout.PicturePoint) {
	c.corners = corners
	c.Refresh()
}

// SetNames writes a name beside each corner, for something that may lie any way round in
// the picture.
func (c *CornerPicker) SetNames(names [4]string) {
	c.names = names
	c.Refresh()
}

// Corners are the corners as they are.
func (c *CornerPicker) Corners() [4]layout.PicturePoint { return c.corners }

const (
	cornerPad   = 14 // room round the picture for half a handle
	cornerHalf  = 7  // half a handle
	cornerReach = 16
)

func (c *CornerPicker) place(size fyne.Size) cornerView {
	w, h := float64(size.Width-2*cornerPad), float64(size.Height-2*cornerPad)
	if w <= 0 || h <= 0 || c.w <= 0 || c.h <= 0 {
		return cornerView{}
	}
	scale := min(w/c.w, h/c.h)
	return cornerView{
		x:     cornerPad + float32(w-c.w*scale)/2,
		y:     cornerPad + float32(h-c.h*scale)/2,
		scale: scale,
	}
}

func (v cornerView) at(p layout.PicturePoint) fyne.Position {
	return fyne.NewPos(v.x+float32(p.X*v.scale), v.y+float32(p.Y*v.scale))
}

func (c *CornerPicker) cornerAt(pos fyne.Position) int {
	nearest, found := float64(cornerReach), -1
	for i, p := range c.corners {
		at := c.view.at(p)
		if d := math.Hypot(float64(at.X-pos.X), float64(at.Y-pos.Y)); d < nearest {
			nearest, found = d, i
		}
	}
	return found
}

// move puts the selected corner somewhere on the picture.
func (c *CornerPicker) move(to layout.PicturePoint) {
	to = layout.PicturePoint{X: min(max(to.X, 0), c.w), Y: min(max(to.Y, 0), c.h)}
	if c.corners[c.selected] == to {
		return
	}
	c.corners[c.selected] = to
	c.Refresh()
	if c.OnChanged != nil {
		c.OnChanged(c.corners)
	}
}

// MouseDown takes hold of a corner.
func (c *CornerPicker) MouseDown(ev *desktop.MouseEvent) {
	takeFocus(c)
	if ev.Button != desktop.MouseButtonPrimary {
		return
	}
	c.selected = c.cornerAt(ev.Position)
	if c.holding = c.selected >= 0; c.holding {
		at := c.view.at(c.corners[c.selected])
		c.offset = fyne.NewDelta(at.X-ev.Position.X, at.Y-ev.Position.Y)
	}
	c.Refresh()
}

// MouseUp lets go.
func (c *CornerPicker) MouseUp(*desktop.MouseEvent) { c.letGo() }

// Dragged moves the corner that is held, to tenths of a pixel.
func (c *CornerPicker) Dragged(ev *fyne.DragEvent) {
	if !c.holding || c.view.scale == 0 {
		return
	}
	pixel := func(v, from float32) float64 { return math.Round(10*float64(v-from)/c.view.scale) / 10 }
	c.move(layout.PicturePoint{
		X: pixel(ev.Position.X+c.offset.DX, c.view.x),
		Y: pixel(ev.Position.Y+c.offset.DY, c.view.y),
	})
}

// DragEnd lets go.
func (c *CornerPicker) DragEnd() { c.letGo() }

func (c *CornerPicker) letGo() {
	if c.holding {
		c.holding = false
		c.Refresh()
	}
}

// MouseIn starts to follow the pointer.
func (c *CornerPicker) MouseIn(ev *desktop.MouseEvent) { c.MouseMoved(ev) }

// MouseMoved shows which corner a press would take hold of.
func (c *CornerPicker) MouseMoved(ev *desktop.MouseEvent) { c.hover(c.cornerAt(ev.Position)) }

// MouseOut ends what MouseIn began.
func (c *CornerPicker) MouseOut() { c.hover(-1) }

func (c *CornerPicker) hover(corner int) {
	if c.hovered != corner {
		c.hovered = corner
		c.Refresh()
	}
}

// Cursor shows that a corner can be moved.
func (c *CornerPicker) Cursor() desktop.Cursor {
	if c.hovered >= 0 || c.holding {
		return moveCursor
	}
	return desktop.DefaultCursor
}

// FocusGained draws the focus ring.
func (c *CornerPicker) FocusGained() {
	c.focused = true
	c.Refresh()
}

// FocusLost takes the focus ring away.
func (c *CornerPicker) FocusLost() {
	c.focused, c.selected = false, -1
	c.Refresh()
}

// AcceptsTab keeps the Tab key while there is a corner left to go to.
func (c *CornerPicker) AcceptsTab() bool {
	_, more := tabTo(c.selected, len(c.corners), c.held())
	return more
}

// TypedRune does nothing.
func (c *CornerPicker) TypedRune(rune) {}

// TypedKey selects and moves corners.
func (c *CornerPicker) TypedKey(ev *fyne.KeyEvent) {
	if right, up, ok := arrowOf(ev.Name); ok && c.selected >= 0 {
		step, p := float64(times(c.held())), c.corners[c.selected]
		c.move(layout.PicturePoint{X: p.X + step*float64(right), Y: p.Y - step*float64(up)})
		return
	}
	if ev.Name == fyne.KeyTab {
		if next, ok := tabTo(c.selected, len(c.corners), c.held()); ok {
			c.selected = next
			c.Refresh()
		}
	}
}

// CreateRenderer is called by the toolkit.
func (c *CornerPicker) CreateRenderer() fyne.WidgetRenderer {
	r := &cornersRenderer{picker: c, surround: &canvas.Rectangle{}, image: canvas.NewImageFromImage(c.img), brush: newBrush()}
	r.image.FillMode = canvas.ImageFillStretch
	r.brush.begin(c)
	return r
}

type cornersRenderer struct {
	picker   *CornerPicker
	surround *canvas.Rectangle
	image    *canvas.Image
	brush    *brush
	size     fyne.Size
}

func (r *cornersRenderer) MinSize() fyne.Size { return fyne.NewSize(320, 240) }

func (r *cornersRenderer) Layout(size fyne.Size) {
	r.size = size
	c := r.picker
	c.view = c.place(size)
	r.surround.Resize(size)
	place(r.image, c.view.x, c.view.y, float32(c.w*c.view.scale), float32(c.h*c.view.scale))
	r.brush.layer.Resize(size)
	r.paint()
}

func (r *cornersRenderer) paint() {
	c, b := r.picker, r.brush
	b.begin(c)
	r.surround.FillColor = b.colour(house.Surround)
	if c.view.scale == 0 {
		return
	}
	for _, stroke := range []struct {
		width float32
		name  fyne.ThemeColorName
	}{{3, house.LineShade}, {1, house.Line}} {
		for i := range c.corners {
			p, q := c.view.at(c.corners[i]), c.view.at(c.corners[(i+1)%4])
			b.line(p.X, p.Y, q.X, q.Y, stroke.width, b.colour(stroke.name))
		}
	}
	for i, p := range c.corners {
		r.paintHandle(i, c.view.at(p))
	}
	for i := range c.corners {
		r.paintLabel(i)
	}
	if c.focused {
		b.frame(0, 0, r.size.Width, r.size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

func (r *cornersRenderer) paintHandle(i int, at fyne.Position) {
	c, b := r.picker, r.brush
	half := float32(cornerHalf)
	fill, rim := b.colour(house.Line), b.colour(house.LineShade)
	if i == c.selected {
		half += 2
		fill, rim = b.colour(theme.ColorNamePrimary), b.colour(theme.ColorNameForegroundOnPrimary)
	} else if i == c.hovered && !c.holding {
		half++
	}
	// A ring, so that the corner itself stays in sight.
	b.plate(at.X-half, at.Y-half, at.X+half, at.Y+half, half, color.Transparent, rim, 4)
	b.plate(at.X-half+1, at.Y-half+1, at.X+half-1, at.Y+half-1, half-1, color.Transparent, fill, 2)
}

// paintLabel writes a corner's name beside it, and where it is if it is selected, towards
// the middle of the picture.
func (r *cornersRenderer) paintLabel(i int) {
	c, b := r.picker, r.brush
	p, text := c.corners[i], c.names[i]
	if i == c.selected {
		text = strings.TrimPrefix(fmt.Sprintf("%s  %.5g, %.5g px", text, p.X, p.Y), "  ")
	}
	if text == "" {
		return
	}
	at := c.view.at(p)
	size := b.size(theme.SizeNameCaptionText)
	m := measure(text, size, fyne.TextStyle{})
	const padX, padY, gap = 6, 2, 12
	w, h := m.Width+2*padX, m.Height+2*padY
	x, y := at.X+gap, at.Y+gap
	if p.X > c.w/2 {
		x = at.X - gap - w
	}
	if p.Y > c.h/2 {
		y = at.Y - gap - h
	}
	b.chip(text, x, y, w, h, size)
}

func (r *cornersRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.surround, r.image, r.brush.layer}
}

// Refresh draws the corners anew and leaves the image alone.
func (r *cornersRenderer) Refresh() {
	r.paint()
	canvas.Refresh(r.brush.layer)
}

func (r *cornersRenderer) Destroy() {}
