package widgets

import (
	"fmt"
	"image"
	"image/color"
	"math"
	"slices"
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
	_ fyne.Widget        = (*PointPicker)(nil)
	_ fyne.Focusable     = (*PointPicker)(nil)
	_ fyne.Tabbable      = (*PointPicker)(nil)
	_ fyne.Draggable     = (*PointPicker)(nil)
	_ desktop.Mouseable  = (*PointPicker)(nil)
	_ desktop.Hoverable  = (*PointPicker)(nil)
	_ desktop.Cursorable = (*PointPicker)(nil)
)

// PointPicker shows a picture and on it points, some of which are joined by lines. Each
// point is dragged, or selected with the Tab key and moved by the arrow keys, a pixel of
// the picture at a time, ten with Shift held.
type PointPicker struct {
	widget.BaseWidget

	self     focusable // what stands in the window
	img      *image.RGBA
	w, h     float64 // of the picture, in its own pixels
	points   []layout.PicturePoint
	names    []string // written beside the points; may be empty
	lines    [][2]int // which points are joined
	shape    []layout.PicturePoint
	changed  func()
	selected int // -1: none
	hovered  int // -1: none
	holding  bool
	offset   fyne.Delta // of the point from where the pointer took it
	focused  bool
	view     cornerView
	held     func() fyne.KeyModifier
}

// NewPointPicker shows an image of a picture that is w x h pixels large. changed, which
// may be nil, follows the points.
func NewPointPicker(img *image.RGBA, w, h int, changed func()) *PointPicker {
	c := &PointPicker{}
	c.begin(c, img, w, h)
	c.changed = changed
	c.ExtendBaseWidget(c)
	return c
}

func (c *PointPicker) begin(self focusable, img *image.RGBA, w, h int) {
	c.self, c.img, c.w, c.h = self, img, float64(w), float64(h)
	c.selected, c.hovered, c.held = -1, -1, heldModifiers
}

// SetPoints shows points with their names, in pixels of the picture, and lines between
// some of them.
func (c *PointPicker) SetPoints(points []layout.PicturePoint, names []string, lines [][2]int) {
	c.points, c.names, c.lines = slices.Clone(points), slices.Clone(names), slices.Clone(lines)
	c.selected, c.hovered, c.holding = -1, -1, false
	c.Refresh()
}

// Points are the points as they are.
func (c *PointPicker) Points() []layout.PicturePoint { return slices.Clone(c.points) }

// SetShape draws a closed outline that follows from the points; nil draws none.
func (c *PointPicker) SetShape(outline []layout.PicturePoint) {
	c.shape = slices.Clone(outline)
	c.Refresh()
}

// CornerPicker shows a picture and on it the four corners of something that is
// really a rectangle, which are moved like those of a [PointPicker].
type CornerPicker struct {
	PointPicker

	// OnChanged follows the corners: upper left, upper right, lower right, lower
	// left, in pixels of the picture.
	OnChanged func([4]layout.PicturePoint)
}

// NewCornerPicker shows an image of a picture that is w x h pixels large.
func NewCornerPicker(img *image.RGBA, w, h int) *CornerPicker {
	c := &CornerPicker{}
	c.begin(c, img, w, h)
	c.points, c.names = make([]layout.PicturePoint, 4), make([]string, 4)
	c.lines = [][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 0}}
	c.changed = func() {
		if c.OnChanged != nil {
			c.OnChanged(c.Corners())
		}
	}
	c.ExtendBaseWidget(c)
	return c
}

// SetCorners shows corners.
func (c *CornerPicker) SetCorners(corners [4]layout.PicturePoint) {
	copy(c.points, corners[:])
	c.Refresh()
}

// SetNames writes a name beside each corner, for something that may lie any way round in
// the picture.
func (c *CornerPicker) SetNames(names [4]string) {
	copy(c.names, names[:])
	c.Refresh()
}

// Corners are the corners as they are.
func (c *CornerPicker) Corners() [4]layout.PicturePoint { return [4]layout.PicturePoint(c.points) }

// cornerView is where the picture lies in the widget.
type cornerView struct {
	x, y  float32
	scale float64 // the toolkit's pixels to one of the picture
}

const (
	cornerPad   = 14 // room round the picture for half a handle
	cornerHalf  = 7  // half a handle
	cornerReach = 16
)

func (c *PointPicker) place(size fyne.Size) cornerView {
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

func (c *PointPicker) cornerAt(pos fyne.Position) int {
	nearest, found := float64(cornerReach), -1
	for i, p := range c.points {
		at := c.view.at(p)
		if d := math.Hypot(float64(at.X-pos.X), float64(at.Y-pos.Y)); d < nearest {
			nearest, found = d, i
		}
	}
	return found
}

// move puts the selected corner somewhere on the picture.
func (c *PointPicker) move(to layout.PicturePoint) {
	to = layout.PicturePoint{X: min(max(to.X, 0), c.w), Y: min(max(to.Y, 0), c.h)}
	if c.points[c.selected] == to {
		return
	}
	c.points[c.selected] = to
	c.Refresh()
	if c.changed != nil {
		c.changed()
	}
}

// MouseDown takes hold of a corner.
func (c *PointPicker) MouseDown(ev *desktop.MouseEvent) {
	takeFocus(c.self)
	if ev.Button != desktop.MouseButtonPrimary {
		return
	}
	c.selected = c.cornerAt(ev.Position)
	if c.holding = c.selected >= 0; c.holding {
		at := c.view.at(c.points[c.selected])
		c.offset = fyne.NewDelta(at.X-ev.Position.X, at.Y-ev.Position.Y)
	}
	c.Refresh()
}

// MouseUp lets go.
func (c *PointPicker) MouseUp(*desktop.MouseEvent) { c.letGo() }

// Dragged moves the corner that is held, to tenths of a pixel.
func (c *PointPicker) Dragged(ev *fyne.DragEvent) {
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
func (c *PointPicker) DragEnd() { c.letGo() }

func (c *PointPicker) letGo() {
	if c.holding {
		c.holding = false
		c.Refresh()
	}
}

// MouseIn starts to follow the pointer.
func (c *PointPicker) MouseIn(ev *desktop.MouseEvent) { c.MouseMoved(ev) }

// MouseMoved shows which corner a press would take hold of.
func (c *PointPicker) MouseMoved(ev *desktop.MouseEvent) { c.hover(c.cornerAt(ev.Position)) }

// MouseOut ends what MouseIn began.
func (c *PointPicker) MouseOut() { c.hover(-1) }

func (c *PointPicker) hover(corner int) {
	if c.hovered != corner {
		c.hovered = corner
		c.Refresh()
	}
}

// Cursor shows that a corner can be moved.
func (c *PointPicker) Cursor() desktop.Cursor {
	if c.hovered >= 0 || c.holding {
		return moveCursor
	}
	return desktop.DefaultCursor
}

// FocusGained draws the focus ring.
func (c *PointPicker) FocusGained() {
	c.focused = true
	c.Refresh()
}

// FocusLost takes the focus ring away.
func (c *PointPicker) FocusLost() {
	c.focused, c.selected = false, -1
	c.Refresh()
}

// AcceptsTab keeps the Tab key while there is a corner left to go to.
func (c *PointPicker) AcceptsTab() bool {
	_, more := tabTo(c.selected, len(c.points), c.held())
	return more
}

// TypedRune does nothing.
func (c *PointPicker) TypedRune(rune) {}

// TypedKey selects and moves corners.
func (c *PointPicker) TypedKey(ev *fyne.KeyEvent) {
	if right, up, ok := arrowOf(ev.Name); ok && c.selected >= 0 {
		step, p := float64(times(c.held())), c.points[c.selected]
		c.move(layout.PicturePoint{X: p.X + step*float64(right), Y: p.Y - step*float64(up)})
		return
	}
	if ev.Name == fyne.KeyTab {
		if next, ok := tabTo(c.selected, len(c.points), c.held()); ok {
			c.selected = next
			c.Refresh()
		}
	}
}

// CreateRenderer is called by the toolkit.
func (c *PointPicker) CreateRenderer() fyne.WidgetRenderer {
	r := &cornersRenderer{picker: c, surround: &canvas.Rectangle{}, image: canvas.NewImageFromImage(c.img), brush: newBrush()}
	r.image.FillMode = canvas.ImageFillStretch
	r.brush.begin(c)
	return r
}

type cornersRenderer struct {
	picker   *PointPicker
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
		line := func(from, to layout.PicturePoint) {
			p, q := c.view.at(from), c.view.at(to)
			b.line(p.X, p.Y, q.X, q.Y, stroke.width, b.colour(stroke.name))
		}
		for _, l := range c.lines {
			line(c.points[l[0]], c.points[l[1]])
		}
		for i, p := range c.shape {
			line(p, c.shape[(i+1)%len(c.shape)])
		}
	}
	for i, p := range c.points {
		r.paintHandle(i, c.view.at(p))
	}
	for i := range c.points {
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
	p, text := c.points[i], ""
	if i < len(c.names) {
		text = c.names[i]
	}
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
