package widgets

import (
	"fmt"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/picture"
	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget        = (*CurveEditor)(nil)
	_ fyne.Focusable     = (*CurveEditor)(nil)
	_ fyne.Tabbable      = (*CurveEditor)(nil)
	_ fyne.Draggable     = (*CurveEditor)(nil)
	_ desktop.Keyable    = (*CurveEditor)(nil)
	_ desktop.Mouseable  = (*CurveEditor)(nil)
	_ desktop.Hoverable  = (*CurveEditor)(nil)
	_ desktop.Cursorable = (*CurveEditor)(nil)
)

// CurveEditor shows a curve from lightness to lightness, L* 0..100 both, darkness
// at the left and at the foot. A click adds a point and a drag moves one. The Tab
// key goes from point to point; arrow keys move the selected one by a unit, ten
// with Shift held; Delete takes it out, and Space adds one after it.
type CurveEditor struct {
	widget.BaseWidget

	// OnChanged follows the curve while a point is moved, and OnChangeEnded comes
	// once it is let go.
	OnChanged     func(picture.Curve)
	OnChangeEnded func()

	curve    picture.Curve
	shares   []float64
	selected int // -1: none
	hovered  int // -1: none
	holding  bool
	changing bool // OnChangeEnded is still to come
	focused  bool
	size     fyne.Size
	held     func() fyne.KeyModifier
}

// NewCurveEditor is an editor with no curve.
func NewCurveEditor() *CurveEditor {
	c := &CurveEditor{selected: -1, hovered: -1, held: heldModifiers}
	c.ExtendBaseWidget(c)
	return c
}

// SetCurve shows a curve.
func (c *CurveEditor) SetCurve(curve picture.Curve) {
	if c.curve == curve {
		return
	}
	c.curve = curve
	if n := len(curve.Points()); c.selected >= n {
		c.selected = -1
	}
	c.hovered = -1
	c.Refresh()
}

// SetHistogram shows behind the curve how much of the picture it is given of each
// lightness, in equal bins from black to white; nil shows nothing.
func (c *CurveEditor) SetHistogram(shares []float64) {
	if !slices.Equal(c.shares, shares) {
		c.shares = shares
		c.Refresh()
	}
}

// Curve is the curve on show.
func (c *CurveEditor) Curve() picture.Curve { return c.curve }

const (
	curveWide, curveTall = 200, 180
	curvePad             = 8 // room for half a point at the edges
	curvePoint           = 5 // half a point's width
	curveReach           = 10
)

// at is where a place on the curve is shown.
func (c *CurveEditor) at(p picture.CurvePoint) fyne.Position {
	w, h := c.size.Width-2*curvePad, c.size.Height-2*curvePad
	return fyne.NewPos(curvePad+w*float32(p.From/100), curvePad+h*float32(1-p.To/100))
}

// under is the place on the curve that is shown somewhere.
func (c *CurveEditor) under(pos fyne.Position) picture.CurvePoint {
	w, h := c.size.Width-2*curvePad, c.size.Height-2*curvePad
	if w <= 0 || h <= 0 {
		return picture.CurvePoint{}
	}
	share := func(v float32) float64 { return math.Round(1000*math.Min(1, math.Max(0, float64(v)))) / 10 }
	return picture.CurvePoint{From: share((pos.X - curvePad) / w), To: share(1 - (pos.Y-curvePad)/h)}
}

// pointAt is the point near a place; -1 where there is none.
func (c *CurveEditor) pointAt(pos fyne.Position) int {
	nearest, found := float32(curveReach), -1
	for i, p := range c.curve.Points() {
		at := c.at(p)
		if d := float32(math.Hypot(float64(at.X-pos.X), float64(at.Y-pos.Y))); d < nearest {
			nearest, found = d, i
		}
	}
	return found
}

func (c *CurveEditor) change(curve picture.Curve) {
	if curve == c.curve {
		return
	}
	c.curve, c.changing = curve, true
	c.Refresh()
	if c.OnChanged != nil {
		c.OnChanged(curve)
	}
}

func (c *CurveEditor) endChange() {
	c.holding = false
	if !c.changing {
		return
	}
	c.changing = false
	if c.OnChangeEnded != nil {
		c.OnChangeEnded()
	}
}

// add puts a point in and selects it. A curve that is full stays as it is.
func (c *CurveEditor) add(p picture.CurvePoint) bool {
	curve, i, err := c.curve.With(p)
	if err != nil {
		return false
	}
	c.selected = i
	c.change(curve)
	return true
}

// MouseDown takes hold of a point, or adds one.
func (c *CurveEditor) MouseDown(ev *desktop.MouseEvent) {
	takeFocus(c)
	c.endChange()
	if ev.Button != desktop.MouseButtonPrimary {
		return
	}
	if c.selected = c.pointAt(ev.Position); c.selected >= 0 {
		c.holding = true
	} else {
		c.holding = c.add(c.under(ev.Position))
	}
	c.Refresh()
}

// MouseUp lets go.
func (c *CurveEditor) MouseUp(*desktop.MouseEvent) { c.endChange() }

// Dragged moves the point that is held.
func (c *CurveEditor) Dragged(ev *fyne.DragEvent) {
	if c.holding {
		c.change(c.curve.Moved(c.selected, c.under(ev.Position)))
	}
}

// DragEnd lets go.
func (c *CurveEditor) DragEnd() { c.endChange() }

// MouseIn starts to follow the pointer.
func (c *CurveEditor) MouseIn(ev *desktop.MouseEvent) { c.MouseMoved(ev) }

// MouseMoved shows which point a press would take hold of.
func (c *CurveEditor) MouseMoved(ev *desktop.MouseEvent) { c.hover(c.pointAt(ev.Position)) }

// MouseOut ends what MouseIn began.
func (c *CurveEditor) MouseOut() { c.hover(-1) }

func (c *CurveEditor) hover(point int) {
	if c.hovered != point {
		c.hovered = point
		c.Refresh()
	}
}

// Cursor tells adding from moving.
func (c *CurveEditor) Cursor() desktop.Cursor {
	if c.hovered >= 0 || c.holding {
		return moveCursor
	}
	return desktop.CrosshairCursor
}

// FocusGained draws the focus ring.
func (c *CurveEditor) FocusGained() {
	c.focused = true
	c.Refresh()
}

// FocusLost ends what the keys were doing.
func (c *CurveEditor) FocusLost() {
	c.endChange()
	c.focused, c.selected = false, -1
	c.Refresh()
}

// AcceptsTab keeps the Tab key while there is a point left to go to.
func (c *CurveEditor) AcceptsTab() bool {
	_, more := tabTo(c.selected, len(c.curve.Points()), c.held())
	return more
}

// TypedRune does nothing.
func (c *CurveEditor) TypedRune(rune) {}

// TypedKey selects, moves, adds and takes out points.
func (c *CurveEditor) TypedKey(ev *fyne.KeyEvent) {
	if right, up, ok := arrowOf(ev.Name); ok {
		c.nudge(right, up)
		return
	}
	switch ev.Name {
	case fyne.KeyTab:
		if next, ok := tabTo(c.selected, len(c.curve.Points()), c.held()); ok {
			c.endChange()
			c.selected = next
		}
	case fyne.KeyEscape:
		c.endChange()
		c.selected = -1
	case fyne.KeyDelete, fyne.KeyBackspace:
		c.remove()
	case fyne.KeySpace, fyne.KeyInsert:
		c.addAfter()
	}
	c.Refresh()
}

func (c *CurveEditor) nudge(right, up int) {
	points := c.curve.Points()
	if c.selected < 0 || c.selected >= len(points) {
		return
	}
	step, p := float64(times(c.held())), points[c.selected]
	c.change(c.curve.Moved(c.selected, picture.CurvePoint{From: p.From + step*float64(right), To: p.To + step*float64(up)}))
}

func (c *CurveEditor) remove() {
	if c.selected < 0 {
		return
	}
	curve := c.curve.Without(c.selected)
	c.selected = min(c.selected, len(curve.Points())-1)
	c.change(curve)
	c.endChange()
}

// addAfter adds a point half way from the selected one to the next, or in the
// middle, on the curve as it runs.
func (c *CurveEditor) addAfter() {
	from, to := 0.0, 100.0
	if points := c.curve.Points(); c.selected >= 0 && c.selected+1 < len(points) {
		from, to = points[c.selected].From, points[c.selected+1].From
	}
	at := (from + to) / 2
	c.add(picture.CurvePoint{From: at, To: c.curve.At(at)})
	c.endChange()
}

// KeyDown does nothing: the release of a key is what ends a move.
func (c *CurveEditor) KeyDown(*fyne.KeyEvent) {}

// KeyUp ends a move with the arrow keys.
func (c *CurveEditor) KeyUp(ev *fyne.KeyEvent) {
	if _, _, ok := arrowOf(ev.Name); ok {
		c.endChange()
	}
}

// CreateRenderer is called by the toolkit.
func (c *CurveEditor) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(c, func() fyne.Size { return fyne.NewSize(curveWide, curveTall) }, c.paint)
}

func (c *CurveEditor) paint(b *brush, size fyne.Size) {
	c.size = size
	x0, y0, x1, y1 := float32(curvePad), float32(curvePad), size.Width-curvePad, size.Height-curvePad
	b.plate(x0, y0, x1, y1, 0, b.colour(theme.ColorNameInputBackground), b.colour(theme.ColorNameInputBorder), 1)
	b.shares(x0+1, y0+1, x1-1, y1-1, c.shares, commonest(c.shares), b.colour(house.BarBehind))
	grid := b.colour(theme.ColorNameSeparator)
	for i := 1; i < 4; i++ {
		x, y := x0+(x1-x0)*float32(i)/4, y0+(y1-y0)*float32(i)/4
		b.bar(x, y0+1, x+b.hair(), y1-1, grid)
		b.bar(x0+1, y, x1-1, y+b.hair(), grid)
	}
	b.line(x0, y1, x1, y0, 1, grid)
	c.paintCurve(b, x1-x0)
	for i, p := range c.curve.Points() {
		c.paintPoint(b, i, c.at(p))
	}
	c.paintReadout(b, x0, y0)
	if c.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

// commonest is the largest share between the ends, which what is cut off to black and to
// white would else dwarf, or at an end where there is nothing between.
func commonest(shares []float64) float64 {
	if len(shares) < 3 {
		return 0
	}
	if top := slices.Max(shares[1 : len(shares)-1]); top > 0 {
		return top
	}
	return slices.Max(shares)
}

func (c *CurveEditor) paintCurve(b *brush, width float32) {
	const piece = 3 // pixels
	ink := b.colour(theme.ColorNameForeground)
	n := max(1, int(width/piece))
	last := c.at(picture.CurvePoint{From: 0, To: c.curve.At(0)})
	for i := 1; i <= n; i++ {
		from := 100 * float64(i) / float64(n)
		next := c.at(picture.CurvePoint{From: from, To: c.curve.At(from)})
		b.line(last.X, last.Y, next.X, next.Y, 1.5, ink)
		last = next
	}
}

func (c *CurveEditor) paintPoint(b *brush, i int, at fyne.Position) {
	half := float32(curvePoint)
	fill, rim := b.colour(theme.ColorNameInputBackground), b.colour(theme.ColorNameForeground)
	if i == c.selected {
		fill, rim = b.colour(theme.ColorNamePrimary), b.colour(theme.ColorNameForegroundOnPrimary)
	} else if i == c.hovered {
		half++
	}
	b.plate(at.X-half, at.Y-half, at.X+half, at.Y+half, half, fill, rim, 1.5)
}

// paintReadout says where the selected point takes which lightness, in the corner
// that a rising curve leaves free.
func (c *CurveEditor) paintReadout(b *brush, x, y float32) {
	points := c.curve.Points()
	if c.selected < 0 || c.selected >= len(points) {
		return
	}
	p := points[c.selected]
	b.text(fmt.Sprintf("L* %.3g → %.3g", p.From, p.To), x+7, y+4, b.size(theme.SizeNameCaptionText), fyne.TextStyle{}, b.colour(house.Quiet))
}
