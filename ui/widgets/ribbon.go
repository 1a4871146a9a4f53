package widgets

import (
	"image"
	"math"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"
)

var (
	_ fyne.Widget        = (*DepthRibbon)(nil)
	_ fyne.Focusable     = (*DepthRibbon)(nil)
	_ fyne.Draggable     = (*DepthRibbon)(nil)
	_ desktop.Keyable    = (*DepthRibbon)(nil)
	_ desktop.Mouseable  = (*DepthRibbon)(nil)
	_ desktop.Hoverable  = (*DepthRibbon)(nil)
	_ desktop.Cursorable = (*DepthRibbon)(nil)
)

// BreakThrough is the dose at which a coat gives way.
type BreakThrough struct {
	Coat     string
	DoseJCM2 float64 // half the area has lost the coat; +Inf if it never does
	// LowJCM2 and HighJCM2 are the ends of what the dose may be with 95 %
	// confidence; both 0 where that is unknown.
	LowJCM2, HighJCM2 float64
}

// DepthRibbon shows what comes out at every dose from none to full: the look,
// where each coat gives way, how much of the picture falls where, and from
// where the ground scorches. The setting is a marker that is dragged or moved with
// the left and right arrow keys, ten steps at a time with Shift held.
type DepthRibbon struct {
	widget.BaseWidget

	// OnDose follows the marker while it is moved, and OnDoseEnded comes once
	// it is let go. The dose is that of an even solid field, J/cm2.
	OnDose      func(doseJCM2 float64)
	OnDoseEnded func(doseJCM2 float64)
	// OnHover tells the dose under the pointer; false when the pointer leaves.
	OnHover func(doseJCM2 float64, inside bool)
	// OnRune takes the letters that are typed.
	OnRune func(r rune)
	// OnKey takes the keys that move nothing.
	OnKey func(*fyne.KeyEvent)
	// Describe says in a few words what shows at a dose, for the readout.
	Describe func(doseJCM2 float64) string

	looks        *image.RGBA
	fullJCM2     float64
	breaks       []BreakThrough
	histogram    []float64
	steps        []float64
	scorchJCM2   float64
	doseJCM2     float64
	uncalibrated bool

	pointerJCM2 float64
	over        bool // the pointer is on the ribbon
	onMarker    bool
	dragging    bool
	grabbed     float32 // from the pointer to the marker
	moved       bool
	nudged      bool
	focused     bool

	held func() fyne.KeyModifier
}

// NewDepthRibbon is a ribbon with nothing on it.
func NewDepthRibbon() *DepthRibbon {
	r := &DepthRibbon{held: heldModifiers}
	r.ExtendBaseWidget(r)
	return r
}

// SetLooks shows the looks from no dose, at the image's left, to fullJCM2 at its
// right. Only the image's width matters; a row is enough.
func (r *DepthRibbon) SetLooks(img *image.RGBA, fullJCM2 float64) {
	r.looks, r.fullJCM2 = img, fullJCM2
	r.Refresh()
}

// SetBreakThroughs shows where the coats give way, from the top coat down.
func (r *DepthRibbon) SetBreakThroughs(breaks []BreakThrough) {
	r.breaks = breaks
	r.Refresh()
}

// SetHistogram shows the share of the picture in equal bins from no dose to full.
// The first bin is what stays untouched; where it is by far the largest it is
// cut off, so that the others can be told apart.
func (r *DepthRibbon) SetHistogram(shares []float64) {
	r.histogram = shares
	r.Refresh()
}

// SetSteps marks the doses that the dots of each raster reach where several are burned
// one after another.
func (r *DepthRibbon) SetSteps(dosesJCM2 []float64) {
	if !slices.Equal(r.steps, dosesJCM2) {
		r.steps = dosesJCM2
		r.Refresh()
	}
}

// SetScorch hatches the ribbon from a dose on; 0 or +Inf hatches nothing.
func (r *DepthRibbon) SetScorch(doseJCM2 float64) {
	r.scorchJCM2 = doseJCM2
	r.Refresh()
}

// SetDose puts the marker at a dose.
func (r *DepthRibbon) SetDose(doseJCM2 float64) {
	if r.doseJCM2 != doseJCM2 {
		r.doseJCM2 = doseJCM2
		r.Refresh()
	}
}

// Dose is where the marker stands.
func (r *DepthRibbon) Dose() float64 { return r.doseJCM2 }

// Full is the dose at the ribbon's right end.
func (r *DepthRibbon) Full() float64 { return r.fullJCM2 }

// SetUncalibrated shows the notice that the stack's curve was not measured.
func (r *DepthRibbon) SetUncalibrated(uncalibrated bool) {
	if r.uncalibrated != uncalibrated {
		r.uncalibrated = uncalibrated
		r.Refresh()
	}
}

// MouseDown takes hold of the marker. A press elsewhere moves nothing: a setting
// is too dear for a stray click.
func (r *DepthRibbon) MouseDown(ev *desktop.MouseEvent) {
	if c := fyne.CurrentApp().Driver().CanvasForObject(r); c != nil {
		c.Focus(r)
	}
	if ev.Button != desktop.MouseButtonPrimary || !r.markerAt(ev.Position.X) {
		return
	}
	r.dragging, r.moved = true, false
	r.grabbed = r.axis().at(r.shownDose()) - ev.Position.X
	r.Refresh()
}

// MouseUp lets go of the marker.
func (r *DepthRibbon) MouseUp(ev *desktop.MouseEvent) {
	if ev.Button == desktop.MouseButtonPrimary {
		r.letGo()
	}
}

// Dragged moves the marker.
func (r *DepthRibbon) Dragged(ev *fyne.DragEvent) {
	r.point(ev.Position.X, true)
	if !r.dragging {
		return
	}
	a := r.axis()
	step := roundStep(r.fullJCM2 / float64(max(1, a.x1-a.x0)))
	if r.change(math.Round(a.value(ev.Position.X+r.grabbed)/step) * step) {
		r.moved = true
	}
}

// DragEnd lets go of the marker.
func (r *DepthRibbon) DragEnd() { r.letGo() }

func (r *DepthRibbon) letGo() {
	ended := r.dragging && r.moved
	r.dragging, r.moved = false, false
	r.Refresh()
	if ended {
		r.ended()
	}
}

// change takes a dose from the hand; false if it is the same as before.
func (r *DepthRibbon) change(doseJCM2 float64) bool {
	doseJCM2 = min(max(doseJCM2, 0), r.fullJCM2)
	if doseJCM2 == r.doseJCM2 {
		return false
	}
	r.doseJCM2 = doseJCM2
	r.Refresh()
	if r.OnDose != nil {
		r.OnDose(doseJCM2)
	}
	return true
}

func (r *DepthRibbon) ended() {
	if r.OnDoseEnded != nil {
		r.OnDoseEnded(r.doseJCM2)
	}
}

// MouseIn starts to follow the pointer.
func (r *DepthRibbon) MouseIn(ev *desktop.MouseEvent) { r.point(ev.Position.X, true) }

// MouseMoved follows the pointer.
func (r *DepthRibbon) MouseMoved(ev *desktop.MouseEvent) { r.point(ev.Position.X, true) }

// MouseOut stops following the pointer.
func (r *DepthRibbon) MouseOut() { r.point(0, false) }

func (r *DepthRibbon) point(x float32, over bool) {
	a := r.axis()
	r.over = over && r.fullJCM2 > 0 && x >= a.x0 && x <= a.x1
	r.onMarker = over && r.markerAt(x)
	if r.over {
		r.pointerJCM2 = a.value(x)
	}
	r.Refresh()
	if r.OnHover != nil {
		r.OnHover(r.pointerJCM2, r.over)
	}
}

// Cursor shows where the marker can be taken hold of.
func (r *DepthRibbon) Cursor() desktop.Cursor {
	if r.dragging || r.onMarker {
		return desktop.HResizeCursor
	}
	return desktop.DefaultCursor
}

// FocusGained draws the focus ring.
func (r *DepthRibbon) FocusGained() {
	r.focused = true
	r.Refresh()
}

// FocusLost ends what the keys were doing.
func (r *DepthRibbon) FocusLost() {
	r.focused = false
	r.endNudge()
	r.Refresh()
}

// TypedRune hands a letter on: the ribbon has no use for any.
func (r *DepthRibbon) TypedRune(letter rune) {
	if r.OnRune != nil {
		r.OnRune(letter)
	}
}

// TypedKey moves the marker by a two-hundredth of the ribbon, rounded.
func (r *DepthRibbon) TypedKey(ev *fyne.KeyEvent) {
	direction := map[fyne.KeyName]float64{fyne.KeyLeft: -1, fyne.KeyRight: 1}[ev.Name]
	if direction == 0 || !(r.fullJCM2 > 0) {
		if r.OnKey != nil {
			r.OnKey(ev)
		}
		return
	}
	step := roundStep(r.fullJCM2 / 200)
	if r.held()&fyne.KeyModifierShift != 0 {
		step *= 10
	}
	if r.change(math.Round((r.doseJCM2+direction*step)/step*10) / 10 * step) {
		r.nudged = true
	}
}

// KeyDown does nothing; the toolkit asks for it along with KeyUp.
func (r *DepthRibbon) KeyDown(*fyne.KeyEvent) {}

// KeyUp ends a move with the arrow keys.
func (r *DepthRibbon) KeyUp(ev *fyne.KeyEvent) {
	if ev.Name == fyne.KeyLeft || ev.Name == fyne.KeyRight {
		r.endNudge()
	}
}

func (r *DepthRibbon) endNudge() {
	ended := r.nudged
	r.nudged = false
	if ended {
		r.ended()
	}
}

// CreateRenderer is called by the toolkit.
func (r *DepthRibbon) CreateRenderer() fyne.WidgetRenderer { return newRibbonRenderer(r) }
