package main

import (
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

func TestAMakersWayThroughTheWindow(t *testing.T) {
	d := openDesk(t)
	s := d.b.Session()
	require.Equal(t, layout.Even(6), s.Document().Border)

	// Open a drawer and type a pitch; a coarse one makes the rest of the way short.
	d.click(d.drawer(burnNth))
	d.until("an open drawer", func() bool { return d.b.Drawers()[burnNth].IsOpen() })
	d.painted()
	d.enter(d.line("Pitch"), "0.25 mm")
	d.until("a pitch of 0.25 mm", func() bool { return s.Document().Setting.Pitch == 0.25 })

	// Type a border.
	d.enter(d.line("Border"), "12")
	d.until("a border of 12 mm", func() bool { return s.Document().Border == layout.Even(12) })

	// What cannot be is refused, and the window goes on.
	d.enter(d.line("Border"), "200")
	d.until("a refusal beside the line", func() bool { return d.shows("leave nothing") })
	require.Equal(t, layout.Even(12), s.Document().Border)
	d.xdo("key", "Escape")

	// Drag the border's left edge.
	d.settle(func() {})
	left := d.onPanel(layout.Point{X: -150 + 12, Y: 40})
	d.drag(left, spot{left.x + 30, left.y})
	d.until("a wider border at the left", func() bool {
		b := s.Document().Border
		return b.Left > 20 && b.Right == 12 && b.Top == 12 && b.Bottom == 12
	})
	d.xdo("key", "ctrl+z")
	d.until("an even border again", func() bool { return s.Document().Border == layout.Even(12) })

	// Zoom the picture in and drag the crop.
	var err error
	fyne.DoAndWait(func() {
		err = s.Edit("crop", "", func(doc *job.Document) error {
			w, h := s.PictureSize()
			doc.Picture.Crop = doc.Picture.Crop.Zoomed(2, float64(w)/2, float64(h)/2, w, h)
			return nil
		})
	})
	require.NoError(t, err)
	before := s.Document().Picture.Crop
	middle := d.easelMiddle()
	d.drag(middle, spot{middle.x + 60, middle.y + 40})
	d.until("a moved crop", func() bool {
		c := s.Document().Picture.Crop
		return c.X < before.X && c.Y < before.Y && c.W == before.W
	})
	undo, _ := s.StepNames()
	require.Equal(t, "crop", undo)

	// Switch through the views; each comes to rest.
	for _, view := range []string{"Picture", "Dots", "Proof"} {
		d.click(d.button(view))
		d.settle(func() {})
	}

	// Undo by key takes the drag back as one step.
	d.click(middle)
	d.xdo("key", "ctrl+z")
	d.until("the crop as before", func() bool { return s.Document().Picture.Crop == before })

	// Hand off.
	dir := t.TempDir()
	var ended <-chan struct{}
	fyne.DoAndWait(func() { ended = d.b.HandOffTo(dir) })
	<-ended
	d.until("word of the hand-off", func() bool { return d.shows("Handed off") })
	for _, name := range []string{job.RasterFile, job.PlacementTextFile, job.PlacementJSONFile, job.ProofFile} {
		require.FileExists(t, filepath.Join(dir, s.Document().Name, name))
	}
}

func TestALineOfLetteringIsAddedAndMoved(t *testing.T) {
	d := openDesk(t)
	s := d.b.Session()
	d.click(d.drawer(letteringNth))
	d.until("an open drawer", func() bool { return d.b.Drawers()[letteringNth].IsOpen() })
	d.painted()
	d.click(d.button("Add a line"))
	d.until("a line", func() bool { return len(s.Document().Lettering) == 1 })
	d.painted()
	d.enter(d.line("Cap height"), "12")
	d.until("its height", func() bool { return s.Document().Lettering[0].CapHeight == 12 })
	d.settle(func() {})

	at := s.Document().Lettering[0].At
	from := d.onPanel(layout.Point{X: at.X, Y: at.Y + 4})
	d.drag(from, spot{from.x + 40, from.y - 60})
	d.until("a line elsewhere", func() bool {
		now := s.Document().Lettering[0].At
		return now.X > at.X+10 && now.Y > at.Y+15
	})
	d.xdo("key", "ctrl+z")
	d.until("the line where it was", func() bool { return s.Document().Lettering[0].At == at })
}

// Drawers that are opened and closed never lie on top of each other.
func TestDrawersMakeRoomForEachOther(t *testing.T) {
	d := openDesk(t)
	drawers := d.b.Drawers()
	for _, nth := range []int{0, 4, 4, 0, 1, 1, 3, 0, 0, 3} {
		open := drawers[nth].IsOpen()
		d.click(d.drawer(nth))
		d.until("a drawer opened or closed", func() bool { return drawers[nth].IsOpen() != open })
		d.painted()
		var gaps []float32 // above each drawer but the first
		fyne.DoAndWait(func() {
			for i, drawer := range drawers[1:] {
				above := drawers[i]
				gaps = append(gaps, drawer.Position().Y-above.Position().Y-above.MinSize().Height)
			}
		})
		for i, gap := range gaps {
			require.GreaterOrEqual(t, gap, float32(0), "drawer %d", i+1)
		}
	}
}
