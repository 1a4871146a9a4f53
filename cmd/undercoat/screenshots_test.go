package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	toolkit "fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/screen"
	"undercoat/layout"
	"undercoat/ui/bench"
	"undercoat/ui/session"
	"undercoat/ui/theme"
	"undercoat/ui/widgets"
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

// The drawers from the top down.
const (
	panelNth = iota
	coatsNth
	swatchesNth
	pictureNth
	letteringNth
	burnNth
	handOffNth
)

func scenes(d *desk) []scene {
	easel := d.b.Easel()
	return []scene{
		{"panel", session.ProofView, panelNth, easel.Fit, nil, false},
		{"coats-close", session.ProofView, coatsNth, easel.ZoomToDots, nil, false},
		{"swatches-chart", session.ProofView, swatchesNth, easel.Fit, chartLaidOut, false},
		{"swatches-photograph", session.ProofView, swatchesNth, easel.Fit, swatchesRead, false},
		{"swatches-fit", session.ProofView, swatchesNth, easel.Fit, swatchesFitted, false},
		{"swatches-corners", session.ProofView, swatchesNth, easel.Fit, chartCorners, false},
		{"finished-corners", session.ProofView, handOffNth, easel.Fit, pickedPanel, false},
		{"finished-panel", session.ProofView, handOffNth, easel.Fit, finishedPanel, false},
		{"finished-kept", session.ProofView, handOffNth, easel.Fit, finishedKept, false},
		{"picture-framing", session.PictureView, pictureNth, easel.Fit, suggestedCrops, false},
		{"picture-straighten", session.PictureView, pictureNth, easel.Fit, levelling, false},
		{"picture-corners", session.PictureView, pictureNth, easel.Fit, fourCorners, false},
		{"picture-tone", session.PictureView, pictureNth, easel.Fit, toned, false},
		{"picture-detail", session.ProofView, pictureNth, easel.Fit, section("Detail"), false},
		{"picture-grey", session.PictureView, pictureNth, easel.Fit, section("Grey mix"), false},
		{"picture-fade", session.ProofView, pictureNth, easel.Fit, faded, false},
		{"picture-match", session.ProofView, pictureNth, easel.Fit, matchedByColour, false},
		{"lettering", session.ProofView, letteringNth, easel.Fit, lettered, false},
		{"lettering-alone", session.ProofView, pictureNth, easel.Fit, letteredAlone, false},
		{"burn-dots", session.DotsView, burnNth, easel.Fit, nil, false},
		{"burn-dots-close", session.DotsView, burnNth, easel.ZoomToDots, nil, false},
		{"burn-cells", session.DotsView, burnNth, easel.ZoomToDots, cells, false},
		{"hand-off", session.ProofView, handOffNth, easel.Fit, nil, false},
		{"hand-off-files", session.ProofView, handOffNth, easel.Fit, handOffPart("Files"), false},
		{"hand-off-time", session.ProofView, handOffNth, easel.Fit, handOffPart("Time"), false},
		{"hand-off-bed", session.ProofView, handOffNth, easel.Fit, handOffPart("On the bed"), false},
		{"hand-off-workshop", session.ProofView, handOffNth, easel.Fit, workshopFilled, false},
		{"hand-off-price", session.ProofView, handOffNth, easel.Fit, priced, false},
		{"hand-off-sections", session.ProofView, handOffNth, easel.Fit, inSections, false},
		{"trial", session.ProofView, handOffNth, easel.Fit, handOffPart("Trial piece"), false},
		{"wall", session.ProofView, handOffNth, easel.Fit, onWall, false},
		{"wall-sets", session.ProofView, handOffNth, easel.Fit, otherPaints, false},
		{"wall-mark", session.ProofView, handOffNth, easel.Fit, markedWall, false},
		{"compare-power", session.ProofView, panelNth, easel.Fit, compared(0), false},
		{"compare-before", session.PictureView, pictureNth, easel.Fit, comparedWithBefore, false},
		{"compare-close", session.ProofView, burnNth, easel.ZoomToDots, compared(4), false},
		{"power-strip", session.ProofView, burnNth, easel.Fit, sheetOf("Powers"), false},
		{"coat-maps", session.ProofView, coatsNth, easel.Fit, sheetOf("Coats"), false},
		{"core-pinned", session.ProofView, panelNth, easel.Fit, pinned, false},
		{"keys", session.ProofView, panelNth, easel.Fit, asked((*bench.Bench).AskKeys), false},
		{"guide", session.ProofView, panelNth, easel.Fit, guide("Reading the chart"), false},
		{"guide-glossary", session.ProofView, panelNth, easel.Fit, guide("Glossary"), false},
		{"about", session.ProofView, panelNth, easel.Fit, asked((*bench.Bench).About), false},
		{"measure-screen", session.ProofView, panelNth, easel.Fit, asked((*bench.Bench).TrueSize), false},
		{"tour-1", session.ProofView, panelNth, easel.Fit, tour(0), false},
		{"tour-3", session.ProofView, panelNth, easel.Fit, tour(2), false},
		{"same-dose", session.ProofView, burnNth, easel.Fit, sameDose, false},
		{"refused-value", session.ProofView, panelNth, easel.Fit, refusedValue, false},
		{"notice", session.ProofView, panelNth, easel.Fit, missingFile, false},
		{"hand-off-running", session.ProofView, handOffNth, easel.Fit, runningHandOff, true},
		{"open", session.ProofView, panelNth, easel.Fit, question("ctrl+o"), false},
		{"save-as", session.ProofView, panelNth, easel.Fit, question("ctrl+shift+s"), false},
		{"unsaved", session.ProofView, pictureNth, easel.Fit, unsaved, false},
	}
}

// section opens one section of the picture's drawer and closes the others.
func section(title string) func(d *desk) func() {
	return func(d *desk) func() {
		d.unfold(pictureNth, title)
		return func() {}
	}
}

// handOffPart opens one section of the Hand-off drawer and closes the others.
func handOffPart(title string) func(d *desk) func() {
	return func(d *desk) func() {
		d.unfold(handOffNth, title)
		return func() { d.fold(handOffNth) }
	}
}

// edited changes the job for a scene, and takes that back afterwards.
func (d *desk) edited(change func(*job.Document)) func() {
	d.t.Helper()
	var err error
	fyne.DoAndWait(func() {
		err = d.b.Session().Edit("scene", "", func(doc *job.Document) error {
			change(doc)
			return nil
		})
	})
	require.NoError(d.t, err)
	return func() { fyne.DoAndWait(func() { d.b.Session().Undo() }) }
}

func suggestedCrops(d *desk) func() {
	section("Framing")(d)
	d.click(d.button("Suggest a crop"))
	var row *widgets.PickRow
	d.until("suggestions", func() bool {
		walk(d.win.Content(), func(o fyne.CanvasObject) {
			if r, ok := o.(*widgets.PickRow); ok {
				row = r
			}
		})
		return row != nil
	})
	fyne.DoAndWait(func() { d.b.Reveal(row) })
	return func() {}
}

func levelling(d *desk) func() {
	section("Straighten")(d)
	d.click(d.button("Along a line"))
	return func() {
		d.xdo("key", "Escape")
		d.until("no notice", func() bool { return !d.noticed() })
	}
}

func fourCorners(d *desk) func() {
	section("Straighten")(d)
	d.click(d.button("Four corners..."))
	d.until("a question", func() bool { return d.win.Canvas().Overlays().Top() != nil })
	d.xdo("key", "Tab", "Tab", "Right")
	return func() {
		d.click(d.button("Leave it"))
		d.until("no question", func() bool { return d.win.Canvas().Overlays().Top() == nil })
	}
}

func toned(d *desk) func() {
	strike := d.edited(func(doc *job.Document) {
		doc.Picture.Tone.Black, doc.Picture.Tone.White = 12, 92
		doc.Picture.Tone.Curve, _ = picture.NewCurve(
			picture.CurvePoint{From: 0, To: 0}, picture.CurvePoint{From: 30, To: 20},
			picture.CurvePoint{From: 70, To: 82}, picture.CurvePoint{From: 100, To: 100})
	})
	section("Tone")(d)
	return strike
}

func faded(d *desk) func() {
	strike := d.edited(func(doc *job.Document) {
		doc.Picture.Fade = picture.Fade{Shape: picture.FadeOval, Inset: 5, Feather: 25}
	})
	section("Fade")(d)
	return strike
}

func matchedByColour(d *desk) func() {
	strike := d.edited(func(doc *job.Document) { doc.Match = job.MatchSteps })
	section("Match")(d)
	return strike
}

func lettered(d *desk) func() {
	return d.edited(func(doc *job.Document) {
		doc.Lettering = []lettering.Line{
			{Text: "HARBOUR LIGHT", Font: "sans-bold", CapHeight: 14, At: layout.Point{Y: -165}, Burn: true, Margin: 2},
			{Text: "at dusk", Font: "sans-bold", CapHeight: 1.5, At: layout.Point{Y: -180}, Spacing: 0.5},
		}
	})
}

func letteredAlone(d *desk) func() {
	strike := lettered(d)
	fyne.DoAndWait(func() { d.b.Session().RemovePicture() })
	return func() {
		fyne.DoAndWait(func() { d.b.Session().Undo() })
		strike()
	}
}

func cells(d *desk) func() {
	return d.edited(func(doc *job.Document) {
		doc.Screen.Kind, doc.Screen.LinesPerCM, doc.Screen.AngleDegrees = screen.Clustered, 20, 45
	})
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
	out, err := search(time.Minute, "--onlyvisible", "--name", "Undercoat")
	require.NoError(d.t, err)
	ids := strings.Fields(out)
	require.Len(d.t, ids, 1)
	return ids[0]
}

func TestScreenshots(t *testing.T) {
	dir := os.Getenv("UNDERCOAT_SCREENSHOTS")
	if dir == "" {
		t.Skip("UNDERCOAT_SCREENSHOTS names no folder: run make screenshots")
	}
	require.NoError(t, os.MkdirAll(dir, 0o777))
	wanted := regexp.MustCompile(os.Getenv("UNDERCOAT_SCENES")) // all, if it is not set
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
				if !wanted.MatchString(s.name) {
					continue
				}
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
