package main

import (
	"bytes"
	"image"
	"os"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// waited begins something beside the window and waits for its end.
func (d *desk) waited(begin func() <-chan struct{}) {
	d.t.Helper()
	var ended <-chan struct{}
	fyne.DoAndWait(func() { ended = begin() })
	require.NotNil(d.t, ended)
	<-ended
	d.painted()
}

// unfold opens one section of a drawer and closes the others.
func (d *desk) unfold(drawer int, title string) {
	d.t.Helper()
	fyne.DoAndWait(func() {
		outer := d.b.Drawers()[drawer]
		var wanted *widgets.Drawer
		walk(outer, func(o fyne.CanvasObject) {
			if s, ok := o.(*widgets.Drawer); ok && s != outer {
				s.SetOpen(false)
				if s.Title() == title {
					wanted = s
				}
			}
		})
		require.NotNil(d.t, wanted)
		wanted.SetOpen(true)
		d.b.Reveal(wanted)
	})
	d.painted()
}

func chartLaidOut(d *desk) func() {
	d.unfold(swatchesNth, "1. Chart")
	return func() {}
}

// burnedChart makes the chart and photographs it, burned into coats that give way sooner
// than the job thinks.
func burnedChart(d *desk, dir string) (photo string) {
	d.t.Helper()
	d.waited(func() <-chan struct{} { return d.b.MakeChart(dir) })
	found, err := filepath.Glob(filepath.Join(dir, "*", job.ChartFile))
	require.NoError(d.t, err)
	require.Len(d.t, found, 1)
	data, err := os.ReadFile(found[0])
	require.NoError(d.t, err)
	chart, err := swatch.ReadChart(data)
	require.NoError(d.t, err)
	stack := d.b.Session().Document().Stack
	for i := range stack.Curve.Points {
		stack.Curve.Points[i].DoseJCM2 *= 0.85
	}
	shot, err := simulate.Scene{
		Chart: chart, Machine: *chart.Machine, Stack: stack, Uneven: 0.02, W: 1600, H: 1200,
		Tilt: 10, Swing: -8, FallOff: 0.2, Cast: [3]float64{1.05, 1, 0.9}, Noise: 0.004, Seed: 3,
	}.Photo(d.t.Context())
	require.NoError(d.t, err)
	photo = filepath.Join(dir, "burned chart.jpg")
	require.NoError(d.t, os.WriteFile(photo, shot.JPEG, 0o600))
	return photo
}

func swatchesRead(d *desk) func() {
	photo := burnedChart(d, d.t.TempDir())
	d.waited(func() <-chan struct{} { return d.b.ReadSwatches(photo) })
	d.unfold(swatchesNth, "2. Photograph")
	var row *widgets.PickRow
	walk(d.win.Content(), func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.PickRow); ok && r.Label() != "burned chart.jpg" && row == nil {
			row = r
		}
	})
	require.NotNil(d.t, row)
	fyne.DoAndWait(row.OnTapped)
	d.painted()
	return func() {
		d.click(d.button("Remove"))
		if d.noticed() {
			d.closeNotice()
		}
	}
}

func swatchesFitted(d *desk) func() {
	strike := swatchesRead(d)
	d.waited(d.b.FitSwatches)
	d.unfold(swatchesNth, "3. Fit")
	fyne.DoAndWait(func() { d.b.Reveal(d.b.Drawers()[swatchesNth]) })
	d.click(d.button("Use this curve"))
	d.until("word of the curve", d.noticed)
	return func() {
		fyne.DoAndWait(func() { d.b.Session().Undo() })
		d.unfold(swatchesNth, "2. Photograph")
		strike()
	}
}

func chartCorners(d *desk) func() {
	dir := d.t.TempDir()
	burnedChart(d, dir)
	var photo bytes.Buffer
	require.NoError(d.t, export.WriteProof(&photo, panelProof(d, 1, 900), 0))
	path := filepath.Join(dir, "no chart.png")
	require.NoError(d.t, os.WriteFile(path, photo.Bytes(), 0o600))
	d.waited(func() <-chan struct{} { return d.b.ReadSwatches(path) })
	d.xdo("key", "Tab", "Tab")
	return func() {
		d.click(d.button("Leave it"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
		if d.noticed() {
			d.closeNotice()
		}
	}
}

// finishedPanel compares a panel that had a tenth more light than the job gives.
func finishedPanel(d *desk) func() {
	pickedPanel(d)
	fyne.DoAndWait(func() {
		walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
			if b, ok := o.(*widget.Button); ok && b.Text == "Compare" {
				b.OnTapped()
			}
		})
	})
	d.until("the comparison", func() bool {
		found := false
		if top := d.win.Canvas().Overlays().Top(); top != nil {
			walk(top, func(o fyne.CanvasObject) {
				b, ok := o.(*widget.Button)
				found = found || ok && b.Text == "Close"
			})
		}
		return found
	})
	return func() {
		d.click(d.button("Close"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	}
}

// pickedPanel asks for the corners of that panel, and has them already.
func pickedPanel(d *desk) func() {
	var photo bytes.Buffer
	img := panelProof(d, 1.1, 1200)
	require.NoError(d.t, export.WriteProof(&photo, img, 0))
	path := filepath.Join(d.t.TempDir(), "finished.png")
	require.NoError(d.t, os.WriteFile(path, photo.Bytes(), 0o600))
	d.waited(func() <-chan struct{} { return d.b.CompareWith(path) })
	fyne.DoAndWait(func() {
		w, h := float64(img.Rect.Dx()), float64(img.Rect.Dy())
		walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
			if p, ok := o.(*widgets.CornerPicker); ok {
				p.SetCorners([4]layout.PicturePoint{{}, {X: w}, {X: w, Y: h}, {Y: h}})
			}
		})
	})
	return func() {
		d.click(d.button("Leave it"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	}
}

// finishedKept shows the record of a finished panel.
func finishedKept(d *desk) func() {
	finishedPanel(d)
	d.click(d.button("Keep the record"))
	d.click(d.button("Close"))
	d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	d.unfold(handOffNth, "Finished panels")
	fyne.DoAndWait(func() {
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if r, ok := o.(*widgets.PickRow); ok {
				r.OnTapped()
			}
		})
	})
	return func() { fyne.DoAndWait(func() { d.b.Session().Undo() }) }
}

// panelProof is the finished panel at a factor of the job's dose.
func panelProof(d *desk, factor float64, long int) *image.RGBA {
	d.t.Helper()
	j, pic := d.b.Session().Job()
	v, err := j.Develop(d.t.Context(), pic)
	require.NoError(d.t, err)
	pl, err := j.Document.Placement()
	require.NoError(d.t, err)
	raster, err := v.Raster(d.t.Context(), pl)
	require.NoError(d.t, err)
	recipe := j.Document.Recipe()
	recipe.Machine.OpticalPowerW *= factor
	img, err := j.Document.PanelProof(d.t.Context(), recipe, raster, pl, long, nil)
	require.NoError(d.t, err)
	return img
}
