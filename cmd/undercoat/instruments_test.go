package main

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
	"undercoat/ui/widgets"
)

// ribbon is the depth ribbon; call it on the main goroutine.
func (d *desk) ribbon() (r *widgets.DepthRibbon) {
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if w, ok := o.(*widgets.DepthRibbon); ok {
			r = w
		}
	})
	return r
}

// onRibbon is where a dose is shown on the depth ribbon, which leaves 14 pixels free on
// either side.
func (d *desk) onRibbon(share func(r *widgets.DepthRibbon) float64) spot {
	var s spot
	fyne.DoAndWait(func() {
		r := d.ribbon()
		at := fyne.CurrentApp().Driver().AbsolutePositionForObject(r)
		x := 14 + (r.Size().Width-28)*float32(share(r)/r.Full())
		s = d.onScreen(at.AddXY(x, r.Size().Height-45))
	})
	return s
}

func TestTheMarkerIsDraggedAndTakenBack(t *testing.T) {
	d := openDesk(t)
	s := d.b.Session()
	before := s.Document().Setting.PowerPercent
	from := d.onRibbon((*widgets.DepthRibbon).Dose)
	to := d.onRibbon(func(r *widgets.DepthRibbon) float64 { return r.Dose() / 2 })
	d.drag(from, to)
	d.until("half the power", func() bool {
		p := s.Document().Setting.PowerPercent
		return p > before*0.48 && p < before*0.52
	})
	d.settle(func() {})
	undo, _ := s.StepNames()
	require.Equal(t, "power", undo)

	// The ribbon has the focus now: a key moves the marker on.
	half := s.Document().Setting.PowerPercent
	d.xdo("key", "Right")
	d.until("a little more", func() bool { return s.Document().Setting.PowerPercent > half })
	d.xdo("key", "ctrl+z")
	d.until("half the power", func() bool { return s.Document().Setting.PowerPercent == half })
	d.xdo("key", "ctrl+z")
	d.until("the power as it was", func() bool { return s.Document().Setting.PowerPercent == before })
	undo, _ = s.StepNames()
	require.Empty(t, undo)
}

func TestTwoPowersAreComparedAcrossALine(t *testing.T) {
	d := openDesk(t)
	easel := d.b.Easel()
	d.click(d.easelMiddle())
	d.xdo("key", "ctrl+k")
	d.until("two pictures", func() bool { return easel.Compared() == [2]string{"60 % power", "75 % power"} })
	d.settle(func() {})

	// The line is in the middle; drag it to the right by its handle.
	at := d.onPanel(layout.Point{})
	d.drag(at, spot{at.x + 80, at.y})
	d.until("the line further right", func() bool { return easel.Split() > 0.6 })
	d.click(d.button("End comparing"))
	d.until("one picture", func() bool { return easel.Compared() == [2]string{} })
	undo, _ := d.b.Session().StepNames()
	require.Empty(t, undo, "comparing changes nothing")
}

func TestAPowerIsPickedFromTheStrip(t *testing.T) {
	d := openDesk(t)
	d.click(d.button("Powers"))
	d.until("five cards", func() bool { return d.cards() == 5 })
	d.painted()
	d.click(d.find("card", func(o fyne.CanvasObject) bool {
		c, ok := o.(*widgets.Card)
		return ok && c.Title() == "49.2 %"
	}))
	d.until("its power", func() bool { return d.b.Session().Document().Setting.PowerPercent == 49.2 })
	d.click(d.button("Proof"))
	d.until("the easel", func() bool { return d.b.Easel().Visible() })
}

func TestAPlaceIsPinnedAndTheKeysAreListed(t *testing.T) {
	d := openDesk(t)
	d.click(d.onPanel(layout.Point{X: 40, Y: 80}))
	d.until("a second core", func() bool { return d.labelled("Pinned") })
	d.xdo("key", "question")
	d.until("the list of keys", func() bool { return d.win.Canvas().Overlays().Top() != nil })
	d.painted()
	d.click(d.find("Close", func(o fyne.CanvasObject) bool {
		b, ok := o.(*widget.Button)
		return ok && b.Text == "Close"
	}))
	d.until("no list", func() bool { return d.win.Canvas().Overlays().Top() == nil })
}
