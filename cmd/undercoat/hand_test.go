package main

import (
	"math"
	"os/exec"
	"strconv"
	"strings"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
	"undercoat/ui/widgets"
)

// xdo sends real pointer and key events to the window.
func (d *desk) xdo(args ...string) {
	d.t.Helper()
	out, err := exec.Command("xdotool", args...).CombinedOutput()
	require.NoError(d.t, err, "xdotool %s: %s", strings.Join(args, " "), out)
}

// spot is a place in the window in pixels of the screen.
type spot struct{ x, y int }

// move is the events that bring the pointer to a place. They need no waiting for:
// the display hands all events on in their order.
func move(s spot) []string { return []string{"mousemove", strconv.Itoa(s.x), strconv.Itoa(s.y)} }

func (d *desk) click(s spot) {
	d.t.Helper()
	d.xdo(append(move(s), "click", "1")...)
}

// drag presses at from and lets go at to, in steps as a hand does.
func (d *desk) drag(from, to spot) {
	d.t.Helper()
	const steps = 8
	d.xdo(append(move(from), "mousedown", "1")...)
	for i := 1; i <= steps; i++ {
		d.xdo(move(spot{from.x + (to.x-from.x)*i/steps, from.y + (to.y-from.y)*i/steps})...)
	}
	d.xdo("mouseup", "1")
}

// walk calls visit for everything that is on show, with its place in the window.
func walk(o fyne.CanvasObject, visit func(fyne.CanvasObject)) {
	if !o.Visible() {
		return
	}
	visit(o)
	switch o := o.(type) {
	case *fyne.Container:
		for _, inner := range o.Objects {
			walk(inner, visit)
		}
	case fyne.Widget:
		for _, inner := range test.WidgetRenderer(o).Objects() {
			walk(inner, visit)
		}
	}
}

// middle is where an object's middle is on the screen.
func (d *desk) middle(o fyne.CanvasObject) spot {
	at, size := fyne.CurrentApp().Driver().AbsolutePositionForObject(o), o.Size()
	return d.onScreen(at.AddXY(size.Width/2, size.Height/2))
}

// onScreen is where a place in the window is on the screen.
func (d *desk) onScreen(at fyne.Position) spot {
	scale := d.win.Canvas().Scale()
	return spot{d.corner.x + int(at.X*scale), d.corner.y + int(at.Y*scale)}
}

// onPanel is where a point of the panel is on the screen, when the whole panel is
// shown in the middle of the easel. The rulers take 44 pixels at the left and 18
// at the top.
func (d *desk) onPanel(p layout.Point) spot {
	var s spot
	fyne.DoAndWait(func() {
		easel := d.b.Easel()
		at, size, scale := fyne.CurrentApp().Driver().AbsolutePositionForObject(easel), easel.Size(), d.win.Canvas().Scale()
		perMM := float32(easel.View().PixelsPerMM) / scale
		s = d.onScreen(at.AddXY(44+(size.Width-44)/2+float32(p.X)*perMM, 18+(size.Height-18)/2-float32(p.Y)*perMM))
	})
	return s
}

// findCorner notes where on the screen the window's upper left corner is.
func (d *desk) findCorner() {
	d.t.Helper()
	out, err := search(time.Minute, "--onlyvisible", "--name", "Undercoat", "getwindowgeometry", "--shell")
	require.NoError(d.t, err)
	for _, line := range strings.Fields(out) {
		if v, ok := strings.CutPrefix(line, "X="); ok {
			d.corner.x, err = strconv.Atoi(v)
			require.NoError(d.t, err)
		}
		if v, ok := strings.CutPrefix(line, "Y="); ok {
			d.corner.y, err = strconv.Atoi(v)
			require.NoError(d.t, err)
		}
	}
}

// find gives the middle of the topmost object on show that match accepts.
func (d *desk) find(what string, match func(fyne.CanvasObject) bool) spot {
	d.t.Helper()
	found := spot{y: math.MaxInt}
	fyne.DoAndWait(func() {
		look := func(o fyne.CanvasObject) {
			if match(o) {
				if at := d.middle(o); at.y < found.y {
					found = at
				}
			}
		}
		walk(d.win.Content(), look)
		for _, over := range d.win.Canvas().Overlays().List() {
			walk(over, look)
		}
	})
	require.Less(d.t, found.y, math.MaxInt, "%s is not in the window", what)
	return found
}

// shows tells whether a text stands somewhere in the window; call it on the main
// goroutine.
func (d *desk) shows(text string) bool {
	found := false
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if t, ok := o.(*canvas.Text); ok && strings.Contains(t.Text, text) {
			found = true
		}
	})
	return found
}

// easelMiddle is the middle of the easel on the screen.
func (d *desk) easelMiddle() spot {
	var s spot
	fyne.DoAndWait(func() { s = d.middle(d.b.Easel()) })
	return s
}

// drawer is where the heading of a drawer is, once it is scrolled to.
func (d *desk) drawer(nth int) spot {
	var s spot
	fyne.DoAndWait(func() { d.b.Reveal(d.b.Drawers()[nth]) })
	d.painted()
	fyne.DoAndWait(func() {
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(d.b.Drawers()[nth])
		s = d.onScreen(at.AddXY(60, 14))
	})
	return s
}

// closeNotice presses the button at the notice's right end.
func (d *desk) closeNotice() {
	d.t.Helper()
	d.painted()
	var end spot
	d.find("notice", func(o fyne.CanvasObject) bool {
		n, ok := o.(*widgets.Notice)
		if ok {
			at := fyne.CurrentApp().Driver().AbsolutePositionForObject(n)
			end = d.onScreen(at.AddXY(n.Size().Width-18, n.Size().Height/2))
		}
		return ok
	})
	d.click(end)
	d.until("no notice", func() bool { return !d.noticed() })
}

// noticed tells whether the notice bar is in the window; call it on the main
// goroutine.
func (d *desk) noticed() bool {
	found := false
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if _, ok := o.(*widgets.Notice); ok {
			found = true
		}
	})
	return found
}

// button finds a button by its label.
func (d *desk) button(label string) spot {
	d.t.Helper()
	return d.find("button "+label, func(o fyne.CanvasObject) bool {
		b, ok := o.(*widget.Button)
		return ok && b.Text == label
	})
}

// line finds the line to type into that stands behind a name.
func (d *desk) line(name string) spot {
	d.t.Helper()
	named := func(o fyne.CanvasObject) bool {
		t, ok := o.(*canvas.Text)
		return ok && t.Text == name
	}
	d.reveal(named)
	label := d.find("name "+name, named)
	return d.find("line "+name, func(o fyne.CanvasObject) bool {
		_, typing := o.(fyne.Shortcutable) // only lines of text take shortcuts
		return typing && math.Abs(float64(d.middle(o).y-label.y)) < 10
	})
}

// reveal scrolls the drawers to the first thing in them that match accepts, if there is
// one.
func (d *desk) reveal(match func(fyne.CanvasObject) bool) {
	fyne.DoAndWait(func() {
		var found fyne.CanvasObject
		for _, drawer := range d.b.Drawers() {
			walk(drawer, func(o fyne.CanvasObject) {
				if found == nil && match(o) {
					found = o
				}
			})
		}
		if found != nil {
			d.b.Reveal(found)
		}
	})
	d.painted()
}

// enter puts a text into a line, in place of what stands there.
func (d *desk) enter(line spot, text string) {
	d.t.Helper()
	d.click(line)
	d.xdo("key", "ctrl+a")
	d.xdo("type", "--delay", "5", text)
	d.xdo("key", "Return")
}
