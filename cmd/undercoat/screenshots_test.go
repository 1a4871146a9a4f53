package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	toolkit "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/theme"
)

// scene is something to look at.
type scene struct {
	name   string
	view   session.View
	drawer int
	zoom   func()
	stage  func(d *desk) (strike func()) // by hand, once the rest is settled; may be nil
	moving bool                          // it does not come to rest
}

func scenes(d *desk) []scene {
	easel := d.b.Easel()
	return []scene{
		{"panel", session.ProofView, 0, easel.Fit, nil, false},
		{"coats-close", session.ProofView, 1, easel.ZoomToDots, nil, false},
		{"picture", session.PictureView, 2, easel.Fit, nil, false},
		{"burn-dots", session.DotsView, 3, easel.Fit, nil, false},
		{"burn-dots-close", session.DotsView, 3, easel.ZoomToDots, nil, false},
		{"hand-off", session.ProofView, 4, easel.Fit, nil, false},
		{"refused-value", session.ProofView, 0, easel.Fit, refusedValue, false},
		{"notice", session.ProofView, 0, easel.Fit, missingFile, false},
		{"hand-off-running", session.ProofView, 4, easel.Fit, runningHandOff, true},
		{"open", session.ProofView, 0, easel.Fit, question("ctrl+o"), false},
		{"save-as", session.ProofView, 0, easel.Fit, question("ctrl+shift+s"), false},
		{"unsaved", session.ProofView, 2, easel.Fit, unsaved, false},
	}
}

// refusedValue types a border that leaves nothing of the panel.
func refusedValue(d *desk) func() {
	d.enter(d.line("Border"), "160")
	return func() { d.xdo("key", "Escape") }
}

func missingFile(d *desk) func() {
	fyne.DoAndWait(func() { d.b.OpenPath("/no/such/harbour.jpg") })
	d.until("word of the file", func() bool { return d.shows("/no/such/harbour.jpg") })
	return d.closeNotice
}

func runningHandOff(d *desk) func() {
	var ended <-chan struct{}
	fyne.DoAndWait(func() { ended = d.b.HandOffTo(d.t.TempDir()) })
	d.until("some progress", func() bool {
		share := 0.0
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if bar, ok := o.(*widget.ProgressBar); ok {
				share = bar.Value
			}
		})
		return share > 0.2
	})
	return func() {
		d.click(d.button("Cancel"))
		<-ended
		d.until("word of how it ended", d.noticed)
		d.closeNotice()
	}
}

// question asks by a key of the menu; Escape puts it away.
func question(key string) func(d *desk) func() {
	return func(d *desk) func() {
		d.click(d.easelMiddle())
		d.xdo("key", key)
		d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
		return func() {
			d.click(spot{d.corner.x + 20, d.corner.y + 300}) // beside it: the focus goes
			d.xdo("key", "Escape")
			d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
		}
	}
}

func unsaved(d *desk) func() {
	var err error
	fyne.DoAndWait(func() {
		err = d.b.Session().Edit("mirror", "", func(doc *job.Document) error {
			doc.Picture.Mirror = true
			return nil
		})
		d.b.Quit()
	})
	require.NoError(d.t, err)
	d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
	return func() {
		d.click(d.button("Keep working"))
		fyne.DoAndWait(func() { d.b.Session().Undo() })
	}
}

// displaySize is the screen's in pixels.
func displaySize(t *testing.T) (w, h int) {
	t.Helper()
	out, err := exec.Command("xdotool", "getdisplaygeometry").Output()
	require.NoError(t, err)
	_, err = fmt.Sscan(string(out), &w, &h)
	require.NoError(t, err)
	return w, h
}

// window is what the display calls the window.
func (d *desk) window() string {
	d.t.Helper()
	out, err := exec.Command("xdotool", "search", "--onlyvisible", "--name", "Undercoat").Output()
	require.NoError(d.t, err)
	ids := strings.Fields(string(out))
	require.Len(d.t, ids, 1)
	return ids[0]
}

func TestScreenshots(t *testing.T) {
	dir := os.Getenv("UNDERCOAT_SCREENSHOTS")
	if dir == "" {
		t.Skip("UNDERCOAT_SCREENSHOTS names no folder: run make screenshots")
	}
	require.NoError(t, os.MkdirAll(dir, 0o777))
	d := openDesk(t)
	window := d.window()
	d.xdo("windowmove", window, "0", "0")
	d.findCorner()
	sizes := map[string]fyne.Size{"": fyne.NewSize(1280, 800)}
	if w, h := displaySize(t); w >= 1920 && h >= 1080 {
		sizes["-wide"] = fyne.NewSize(1920, 1080)
	}
	for suffix, size := range sizes {
		for name, variant := range map[string]fyne.ThemeVariant{"light": toolkit.VariantLight, "dark": toolkit.VariantDark} {
			for _, s := range scenes(d) {
				strike := d.play(s, variant, size)
				d.shot(window, filepath.Join(dir, s.name+"-"+name+suffix+".png"))
				strike()
			}
		}
	}
}

// play arranges a scene and waits until the screen shows it.
func (d *desk) play(s scene, variant fyne.ThemeVariant, size fyne.Size) (strike func()) {
	d.t.Helper()
	d.settle(func() {
		application.Settings().SetTheme(theme.Forced(variant))
		d.win.Resize(size)
		for i, drawer := range d.b.Drawers() {
			drawer.SetOpen(i == s.drawer)
		}
		s.zoom()
		d.b.Show(s.view)
	})
	if s.stage == nil {
		return func() {}
	}
	strike = s.stage(d)
	d.painted()
	if !s.moving {
		d.settle(func() {})
	}
	return strike
}
