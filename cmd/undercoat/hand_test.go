package main

import (
	"fmt"
	"math"
	"os/exec"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

// xdo sends real pointer and key events to the window.
func (d *desk) xdo(args ...string) {
	d.t.Helper()
	out, err := exec.Command("xdotool", args...).CombinedOutput()
	require.NoError(d.t, err, "xdotool %s: %s", strings.Join(args, " "), out)
}

// spot is a place in the window in pixels of the screen.
type spot struct{ x, y int }

func (d *desk) move(s spot) {
	d.t.Helper()
	d.xdo("mousemove", "--sync", fmt.Sprint(s.x), fmt.Sprint(s.y))
}

func (d *desk) click(s spot) {
	d.t.Helper()
	d.move(s)
	d.xdo("click", "1")
}

// drag presses at from and lets go at to, in steps as a hand does.
func (d *desk) drag(from, to spot) {
	d.t.Helper()
	const steps = 8
	d.move(from)
	d.xdo("mousedown", "1")
	for i := 1; i <= steps; i++ {
		d.move(spot{from.x + (to.x-from.x)*i/steps, from.y + (to.y-from.y)*i/steps})
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
	scale := d.win.Canvas().Scale()
	return spot{int((at.X + size.Width/2) * scale), int((at.Y + size.Height/2) * scale)}
}

// find gives the middle of the topmost object on show that match accepts.
func (d *desk) find(what string, match func(fyne.CanvasObject) bool) spot {
	d.t.Helper()
	found := spot{y: math.MaxInt}
	fyne.DoAndWait(func() {
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if match(o) {
				if at := d.middle(o); at.y < found.y {
					found = at
				}
			}
		})
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
	label := d.find("name "+name, func(o fyne.CanvasObject) bool {
		t, ok := o.(*canvas.Text)
		return ok && t.Text == name
	})
	return d.find("line "+name, func(o fyne.CanvasObject) bool {
		_, typing := o.(fyne.Shortcutable) // only lines of text take shortcuts
		return typing && math.Abs(float64(d.middle(o).y-label.y)) < 10
	})
}

// enter puts a text into a line, in place of what stands there.
func (d *desk) enter(line spot, text string) {
	d.t.Helper()
	d.click(line)
	d.xdo("key", "ctrl+a")
	d.xdo("type", "--delay", "5", text)
	d.xdo("key", "Return")
}
