package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	toolkit "fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/bench"
	"undercoat/ui/session"
	"undercoat/ui/theme"
)

// The tests of this package drive a real window, with real pointer and key
// events, under a display of their own (xvfb-run in the Makefile). The toolkit
// wants the main goroutine, so the tests run beside it.
var (
	application fyne.App
	haveDisplay = os.Getenv("DISPLAY") != "" || runtime.GOOS != "linux"
)

func TestMain(m *testing.M) {
	if !haveDisplay {
		os.Exit(m.Run())
	}
	a, err := newApp()
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
	application = a
	code := make(chan int, 1)
	a.Lifecycle().SetOnStarted(func() {
		go func() {
			code <- m.Run()
			fyne.Do(a.Quit)
		}()
	})
	a.Run()
	os.Exit(<-code)
}

// desk is the open window and the hand that drives it.
type desk struct {
	t   *testing.T
	win fyne.Window
	b   *bench.Bench
}

func openDesk(t *testing.T) *desk {
	t.Helper()
	if !haveDisplay {
		t.Skip("no display: run the tests by make test, which brings one along")
	}
	for _, tool := range []string{"xdotool", "import"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed: run the tests by make test, which installs it", tool)
		}
	}
	d := &desk{t: t}
	fyne.DoAndWait(func() {
		var err error
		d.win, d.b, err = openWindow(application)
		require.NoError(t, err)
		d.win.Show()
	})
	d.settle(func() {})
	t.Cleanup(func() {
		fyne.DoAndWait(func() {
			d.win.SetCloseIntercept(nil)
			d.win.Close()
		})
		d.b.Close()
	})
	return d
}

// settle arranges something and waits until the easel shows what came of it.
func (d *desk) settle(arrange func()) { <-d.b.Settle(arrange) }

// shot writes what the window looks like into a file.
func (d *desk) shot(path string) {
	d.t.Helper()
	out, err := exec.Command("import", "-window", "root", path).CombinedOutput()
	require.NoError(d.t, err, string(out))
}

func TestScreenshots(t *testing.T) {
	dir := os.Getenv("UNDERCOAT_SCREENSHOTS")
	if dir == "" {
		t.Skip("UNDERCOAT_SCREENSHOTS names no folder: run make screenshots")
	}
	require.NoError(t, os.MkdirAll(dir, 0o777))
	d := openDesk(t)
	easel := d.b.Easel()
	for _, s := range []struct {
		name   string
		view   session.View
		drawer int
		zoom   func()
	}{
		{"picture", session.PictureView, 2, easel.Fit},
		{"dots", session.DotsView, 3, easel.Fit},
		{"dots-close", session.DotsView, 3, easel.ZoomToDots},
		{"proof", session.ProofView, 0, easel.Fit},
		{"proof-close", session.ProofView, 1, easel.ZoomToDots},
		{"hand-off", session.ProofView, 4, easel.Fit},
	} {
		for name, variant := range map[string]fyne.ThemeVariant{"light": toolkit.VariantLight, "dark": toolkit.VariantDark} {
			d.settle(func() {
				application.Settings().SetTheme(theme.Forced(variant))
				for i, drawer := range d.b.Drawers() {
					drawer.SetOpen(i == s.drawer)
				}
				s.zoom()
				d.b.Show(s.view)
			})
			d.painted()
			d.shot(filepath.Join(dir, s.name+"-"+name+".png"))
		}
	}
}

// painted waits until the toolkit has drawn what is arranged: it draws between
// two turns of its main loop.
func (d *desk) painted() {
	for range 3 {
		fyne.DoAndWait(func() {})
	}
}

// until looks at every turn of the toolkit's main loop, until look is content.
func (d *desk) until(what string, look func() bool) {
	d.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); { // a bound on a broken run
		met := false
		fyne.DoAndWait(func() { met = look() })
		if met {
			return
		}
	}
	failed := filepath.Join(os.TempDir(), "undercoat-window-test.png")
	d.shot(failed)
	d.t.Fatalf("%s did not come about: see %s", what, failed)
}

func TestAMakersWayThroughTheWindow(t *testing.T) {
	d := openDesk(t)
	s := d.b.Session()
	require.Equal(t, layout.Even(6), s.Document().Border)

	// Type a border.
	d.enter(d.line("Border"), "12")
	d.until("a border of 12 mm", func() bool { return s.Document().Border == layout.Even(12) })

	// What cannot be is refused, and the window goes on.
	d.enter(d.line("Border"), "200")
	d.until("a refusal beside the line", func() bool { return d.shows("leave nothing") })
	require.Equal(t, layout.Even(12), s.Document().Border)
	d.xdo("key", "Escape")

	// Zoom the picture in and drag the crop.
	fyne.DoAndWait(func() {
		require.NoError(t, s.Edit("crop", "", func(doc *job.Document) error {
			w, h := s.PictureSize()
			doc.Picture.Crop = doc.Picture.Crop.Zoomed(2, float64(w)/2, float64(h)/2, w, h)
			return nil
		}))
	})
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
