package bench

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// place is where a point of the panel is shown on the easel. The rulers take 44
// pixels at the left and 18 at the top, and a panel that is shown whole stands in
// the middle of the rest.
func (d *desk) place(p layout.Point) fyne.Position {
	d.t.Helper()
	const left, top = 44, 18
	size := d.easel.Size()
	seen := d.easel.View()
	require.Equal(d.t, layout.Point{}, seen.Area.Centre, "the whole panel is shown")
	return fyne.NewPos(
		left+(size.Width-left)/2+float32(float64(p.X)*seen.PixelsPerMM),
		top+(size.Height-top)/2-float32(float64(p.Y)*seen.PixelsPerMM))
}

// drag takes hold of the panel at a point and lets go at another.
func (d *desk) drag(from, to layout.Point) {
	d.t.Helper()
	const steps = 8
	at, end := d.place(from), d.place(to)
	press := func(p fyne.Position) *desktop.MouseEvent {
		return &desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: desktop.MouseButtonPrimary}
	}
	d.easel.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: at}})
	d.easel.MouseDown(press(at))
	for i := 1; i <= steps; i++ {
		share := float32(i) / steps
		p := fyne.NewPos(at.X+(end.X-at.X)*share, at.Y+(end.Y-at.Y)*share)
		d.easel.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: p}})
		d.loop.turn()
	}
	d.easel.MouseUp(press(end))
	d.easel.DragEnd()
	d.loop.turn()
}

func TestDraggingABorderIsOneStep(t *testing.T) {
	d := newDesk(t)
	before := d.s.Document()
	require.Equal(t, layout.Even(6), before.Border)
	d.drag(layout.Point{X: -24, Y: 10}, layout.Point{X: -15, Y: 10})
	require.Equal(t, layout.Border{Left: 15, Right: 6, Top: 6, Bottom: 6}, d.s.Document().Border)
	require.Equal(t, "15, 6, 6, 6 mm", d.field("Border").Text(), "its typed twin follows")
	d.drag(layout.Point{Y: 34}, layout.Point{Y: 30})
	require.Equal(t, layout.MM(10), d.s.Document().Border.Top)

	undo, _ := d.s.StepNames()
	require.Equal(t, "border", undo)
	require.True(t, d.s.Undo())
	require.Equal(t, layout.Border{Left: 15, Right: 6, Top: 6, Bottom: 6}, d.s.Document().Border)
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())
	require.False(t, d.s.Undo())
}

// closer crops the picture to half its width, about the middle.
func (d *desk) closer() {
	d.t.Helper()
	require.NoError(d.t, d.s.Edit("crop", "", func(doc *job.Document) error {
		w, h := d.s.PictureSize()
		doc.Picture.Crop = doc.Picture.Crop.Zoomed(2, float64(w)/2, float64(h)/2, w, h)
		return nil
	}))
	d.loop.turn()
}

// What is under the hand stays under the hand: the picture goes right and up with
// it, so the crop goes left and, its y running down, down.
func TestDraggingThePictureIsOneStep(t *testing.T) {
	d := newDesk(t)
	d.closer()
	before := d.s.Document().Picture.Crop
	perMM := before.W / float64(60-2*6)
	d.drag(layout.Point{X: 2, Y: 3}, layout.Point{X: 6, Y: 10})
	after := d.s.Document().Picture.Crop
	require.InDelta(t, before.X-4*perMM, after.X, 1e-3*perMM)
	require.InDelta(t, before.Y+7*perMM, after.Y, 1e-3*perMM)
	require.Equal(t, before.W, after.W)

	d.drag(layout.Point{}, layout.Point{X: 500})
	require.Zero(t, d.s.Document().Picture.Crop.X, "the crop stays in the picture")
	require.True(t, d.s.Undo())
	require.Equal(t, after, d.s.Document().Picture.Crop)
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document().Picture.Crop)
}

func (d *desk) wheel(at layout.Point, up float32) {
	d.t.Helper()
	d.easel.Scrolled(&fyne.ScrollEvent{PointEvent: fyne.PointEvent{Position: d.place(at)}, Scrolled: fyne.NewDelta(0, up)})
	d.loop.turn()
}

func (d *desk) hover(at layout.Point) {
	d.t.Helper()
	d.easel.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: d.place(at)}})
	d.loop.turn()
}

// under is the picture's pixel at a point of the panel.
func (d *desk) under(p layout.Point) (x, y float64) {
	d.t.Helper()
	doc := d.s.Document()
	area, err := doc.Panel.PictureArea(doc.Border)
	require.NoError(d.t, err)
	c := doc.Picture.Crop
	return c.X + c.W*(0.5+float64((p.X-area.Centre.X)/area.Size.W)), c.Y + c.H*(0.5-float64((p.Y-area.Centre.Y)/area.Size.H))
}

func TestTheWheelWithCtrlEnlargesThePictureAboutThePointer(t *testing.T) {
	d := newDesk(t)
	d.closer()
	before := d.s.Document()
	keyboard = fyne.KeyModifierControl
	at := layout.Point{X: 9, Y: -12}
	d.hover(at)
	x, y := d.under(at)
	for range 4 {
		d.wheel(at, 10)
	}
	zoomed := d.s.Document()
	require.Less(t, zoomed.Picture.Crop.W, before.Picture.Crop.W)
	gotX, gotY := d.under(at)
	require.InDelta(t, x, gotX, 0.05)
	require.InDelta(t, y, gotY, 0.05)

	// A row of turns is a step; after the pointer went elsewhere the next begins.
	d.hover(layout.Point{X: -9, Y: 20})
	d.wheel(layout.Point{X: -9, Y: 20}, -10)
	require.Greater(t, d.s.Document().Picture.Crop.W, zoomed.Picture.Crop.W)
	require.True(t, d.s.Undo())
	require.Equal(t, zoomed, d.s.Document())
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())
}

func TestAnotherEditEndsARowOfTurns(t *testing.T) {
	d := newDesk(t)
	d.closer()
	keyboard = fyne.KeyModifierControl
	at := layout.Point{X: 3, Y: 4}
	d.hover(at)
	d.wheel(at, 10)
	first := d.s.Document().Picture.Crop
	d.enter("Edge depth", "7")
	d.wheel(at, 10)
	require.True(t, d.s.Undo())
	require.Equal(t, first, d.s.Document().Picture.Crop)
	require.Equal(t, layout.MM(7), d.s.Document().Panel.EdgeDepth)
}

// A guess never looks like a promise.
func TestAnUncalibratedProofSaysSoOnTheEasel(t *testing.T) {
	d := newDesk(t)
	const guess = "uncalibrated, colours and depth are a guess"
	require.Equal(t, guess, d.easel.Caution(), "from the start")
	for _, view := range []session.View{session.PictureView, session.DotsView} {
		d.Show(view)
		require.Empty(t, d.easel.Caution(), "the view is none of the paint's")
	}
	d.Show(session.ProofView)
	require.Equal(t, guess, d.easel.Caution())

	require.NoError(t, d.s.Edit("curve", "", func(doc *job.Document) error {
		doc.Stack.Curve.Calibrated = true
		return nil
	}))
	d.loop.turn()
	require.Empty(t, d.easel.Caution())
	d.undo()
	d.loop.turn()
	require.Equal(t, guess, d.easel.Caution())
}

func TestEveryViewComesToRest(t *testing.T) {
	d := newDesk(t)
	for _, view := range []session.View{session.DotsView, session.PictureView, session.ProofView} {
		for name, zoom := range map[string]func(){"whole": d.easel.Fit, "close": func() { d.easel.ZoomBy(6) }} {
			d.Show(view)
			zoom()
			d.settle()
			require.Empty(t, d.status.follows, "%d %s", view, name)
			require.Equal(t, name == "close", d.detail != nil, "%d %s", view, name)
			if d.detail != nil {
				require.Equal(t, view != session.PictureView, d.detail.Exact)
				require.Equal(t, view, d.detail.Frame.View)
			}
		}
	}
}

func TestThePointersPlaceIsMeasuredFromTheCentre(t *testing.T) {
	require.Equal(t, "\u22123.5 mm", signed(layout.Millimetre, -3.5))
	require.Equal(t, "1 in", signed(layout.Inches, 25.4))
	require.Equal(t, "0 %", percent(0.004))
	require.Equal(t, "\u221225 %", percent(-0.25))
	require.Equal(t, "+100 %", percent(1))
}
