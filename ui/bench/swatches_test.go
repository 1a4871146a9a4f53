package bench

import (
	"fmt"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// swatchDesk is a bench whose Swatches drawer is open, all its steps unfolded.
func swatchDesk(t *testing.T) *desk {
	d := newDesk(t)
	d.openDrawer(swatchesNth)
	for _, s := range []*widgets.Drawer{d.swatches.made.section, d.swatches.photos.section, d.swatches.fit.section} {
		s.SetOpen(true)
	}
	d.enter("Speeds", "800") // slow enough to get through all coats
	return d
}

// made has the chart made in a folder and gives the folder of its files.
func (d *desk) made(dir string) string {
	d.t.Helper()
	ended := d.MakeChart(dir)
	require.NotNil(d.t, ended)
	d.until("the chart", func() bool { return closed(ended) })
	return filepath.Join(dir, "job chart")
}

// burned is a photograph of the chart, burned into the job's stack, whose coats give way
// at a factor of the doses that the job thinks.
func (d *desk) burned(factor float64) string {
	d.t.Helper()
	chart := *d.swatches.chart
	shot, err := simulate.Scene{
		Chart: chart, Machine: *chart.Machine, Stack: truth(d.s.Document().Stack, factor),
		Uneven: 0.02, W: 1200, H: 900, Fill: 0.85, Tilt: 8, Swing: -6, FallOff: 0.2, Cast: [3]float64{1.05, 1, 0.9}, Noise: 0.004, Seed: 3,
	}.Photo(d.t.Context())
	require.NoError(d.t, err)
	return d.file("chart.jpg", shot.JPEG)
}

func truth(s coat.Stack, factor float64) coat.Stack {
	s = s.Clone()
	for i := range s.Curve.Points {
		s.Curve.Points[i].DoseJCM2 *= factor
	}
	return s
}

// read has a photograph of the chart read.
func (d *desk) read(path string) {
	d.t.Helper()
	ended := d.ReadSwatches(path)
	require.NotNil(d.t, ended)
	d.until("the reading", func() bool { return closed(ended) })
}

// fitted has the curve found.
func (d *desk) fitted() {
	d.t.Helper()
	ended := d.FitSwatches()
	require.NotNil(d.t, ended)
	d.until("the fit", func() bool { return closed(ended) })
}

func TestAChartSaysWhatItWillBe(t *testing.T) {
	d := swatchDesk(t)
	require.Equal(t, []string{"25 swatches of 10 mm on 88 x 72 mm, in one raster."}, d.swatches.made.facts.Texts())
	d.tick("Rasters")
	require.Equal(t, []string{"25 swatches of 10 mm on 88 x 72 mm, in 25 rasters."}, d.swatches.made.facts.Texts())
	d.enter("Powers", "10:50:10")
	require.Contains(t, d.swatches.made.facts.Texts()[0], "5 swatches")
	require.Equal(t, "10:50:10 %", d.swatches.made.section.Summary())
}

// Every wrong value is told below the line it stands in, and nothing is made of it.
func TestAChartsErrorsStandBesideTheirLines(t *testing.T) {
	d := swatchDesk(t)
	for _, c := range []struct{ field, typed, says string }{
		{"Powers", "a lot", "is not above 0"},
		{"Powers", "60:5:5", "runs downwards"},
		{"Speeds", "fast", "speeds"},
		{"Speeds", "900000", "speed"},
		{"Pitches", "0.08,0.08", "stands there twice"},
		{"Passes", "0", "whole number"},
		{"Scrap size", "huge", "size"},
		{"Scrap size", "40 x 30 mm", "swatches of 5 mm need"},
		{"Margin", "-3", "length"},
	} {
		t.Run(c.field+" "+c.typed, func(t *testing.T) {
			before := d.field(c.field).Text()
			d.enter(c.field, c.typed)
			require.Contains(t, d.field(c.field).Problem(), c.says)
			require.True(t, d.button("Make the chart...").Disabled())
			require.Nil(t, d.swatches.made.writeIn(t.TempDir()), "nothing is made of it")
			d.enter(c.field, before)
			require.Empty(t, d.field(c.field).Problem())
			require.False(t, d.button("Make the chart...").Disabled())
		})
	}
}

// What nobody touched follows the job.
func TestAChartFollowsTheJobsSetting(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(swatchesNth)
	require.Equal(t, "3000 mm/min", d.field("Speeds").Text())
	require.NoError(t, d.s.Edit("pitch", "", func(doc *job.Document) error { doc.Setting.Pitch = 0.1; return nil }))
	d.loop.turn()
	require.Equal(t, "0.1", d.field("Pitches").Text())
	d.enter("Pitches", "0.12")
	require.NoError(t, d.s.Edit("pitch", "", func(doc *job.Document) error { doc.Setting.Pitch = 0.2; return nil }))
	d.loop.turn()
	require.Equal(t, "0.12", d.field("Pitches").Text())
}

func TestAChartIsMadeAndRemembered(t *testing.T) {
	d := swatchDesk(t)
	require.True(t, d.button("Open a photograph of the chart...").Disabled(), "there is nothing to read one with")
	dir := t.TempDir()
	folder := d.made(dir)
	require.Contains(t, d.says(), "Wrote 3 files into "+folder)
	require.FileExists(t, filepath.Join(folder, job.ChartFile))
	require.FileExists(t, filepath.Join(folder, job.ChartSheetFile))
	require.Len(t, d.swatches.chart.Swatches, 25)
	require.False(t, d.button("Open a photograph of the chart...").Disabled())

	// A second one does not go over the first unless told so.
	d.made(dir)
	require.Contains(t, d.says(), "There is a chart in "+folder+" already.")
	test.Tap(d.button("Replace it"))
	d.until("the chart", func() bool { return !d.swatches.made.errand.busy() })
	require.Contains(t, d.says(), "Wrote 3 files")
}

// The whole way: a chart, a photograph of it, the curve, and the job that takes it over
// as one step; and the files that keep it.
func TestFromChartToCurve(t *testing.T) {
	d := swatchDesk(t)
	require.Equal(t, "not calibrated", d.swatches.drawer.Summary())
	folder := d.made(t.TempDir())
	before := d.s.Document()
	d.read(d.burned(0.8))
	require.Empty(t, d.says())
	all := d.swatches
	require.Len(t, all.readings, 1)
	require.Equal(t, "25 of 25 read", all.photos.section.Summary())
	require.Equal(t, 25, all.photos.readings.list.Len())

	d.fitted()
	require.NotNil(t, all.fit.result, d.says())
	model, err := truth(before.Stack, 0.8).Compile(coat.Options{})
	require.NoError(t, err)
	coats := all.fit.coats.Coats()
	require.Len(t, coats, len(before.Stack.Coats))
	for i, c := range all.fit.result.Coats {
		require.InEpsilon(t, model.BreakThrough(i), c.BreakThroughJCM2, 0.05)
		require.Equal(t, fmt.Sprintf("%.1f J/cm²", c.BreakThroughJCM2), coats[i].Value)
		require.Contains(t, coats[i].Known, fmt.Sprintf("95 %%: %.1f to %.1f", c.Low, c.High))
	}
	require.Equal(t, before, d.s.Document(), "finding a curve changes nothing")

	d.Show(session.ProofView)
	d.tap("Use this curve")
	now := d.s.Document()
	require.True(t, now.Stack.Curve.Calibrated)
	require.Regexp(t, `^calibrated \d{4}-\d\d-\d\d, 25 swatches$`, all.drawer.Summary())
	require.Regexp(t, regexp.QuoteMeta(starterLabel(before.Stack.Name))+`.* \(calibrated \d{4}-\d\d-\d\d\)$`, now.Stack.Name)
	require.NotContains(t, now.Stack.Name, "starter")
	require.Empty(t, caution(session.ProofView, now.Stack.Curve.Calibrated))
	require.True(t, d.button("Use this curve").Disabled())
	undo, _ := d.s.StepNames()
	require.Equal(t, "fitted curve", undo)
	d.undo()
	d.loop.turn()
	require.Equal(t, before, d.s.Document())
	require.Equal(t, "not calibrated", all.drawer.Summary())
	require.False(t, d.button("Use this curve").Disabled(), "it still suits")

	// What is kept can be opened again.
	dir := t.TempDir()
	d.keep("Keep readings...", "Keep the readings", dir, "readings")
	read := all.readings[0].Readings
	require.Nil(t, all.photos.take(filepath.Join(dir, "readings.json")))
	require.Len(t, all.readings, 1, "one photograph counts once")
	require.Equal(t, read, all.readings[0].Readings)
	require.Nil(t, all.photos.take(filepath.Join(folder, job.ChartFile)))
	require.Equal(t, job.ChartFile, all.chartName)

	// The readings have changed since, which is said.
	require.Contains(t, strings.Join(all.fit.notes.Texts(), " "), "find the curve again")
}

// keep answers the question for a file that a button asks.
func (d *desk) keep(label, title, dir, name string) {
	d.t.Helper()
	d.folder = dir
	d.tap(label)
	require.Len(d.t, d.asking, 1)
	d.win.Canvas().Focused().(*widget.Entry).SetText(name)
	d.tapIn(title, "Save")
	require.Empty(d.t, d.asking)
}

func TestReadingsCanBeChangedAndLeftOut(t *testing.T) {
	d := swatchDesk(t)
	d.made(t.TempDir())
	d.read(d.burned(0.8))
	part := d.swatches.photos.readings
	part.pick(3)
	c := part.chart()
	id := c.Readings.Swatches[3].ID
	measured := c.Readings.Swatches[3]

	word := "mostly " + d.s.Document().Stack.Coats[1].Name
	d.choose(id+" shows", word)
	require.Equal(t, word, c.Readings.Swatches[3].Seen)
	require.Nil(t, c.Readings.Swatches[3].LinearRGB)
	d.choose(id+" shows", "Leave it out")
	require.Equal(t, "left out by hand", c.Readings.Swatches[3].LeftOut)
	require.Equal(t, "24 of 25 read", d.swatches.photos.section.Summary())
	require.Equal(t, []string{id + ": left out by hand."}, part.reason.Texts())
	d.choose(id+" shows", "As it was read")
	require.Equal(t, measured, c.Readings.Swatches[3])

	d.tap("Remove")
	require.Empty(t, d.swatches.readings)
	require.False(t, part.box.Visible())
}

// Without a photograph the maker says for each swatch what shows.
func TestReadingsByEye(t *testing.T) {
	d := swatchDesk(t)
	d.enter("Powers", "10:100:10")
	d.made(t.TempDir())
	d.tap("Judge by eye")
	part := d.swatches.photos.readings
	c := part.chart()
	require.Equal(t, "0 of 10 read", d.swatches.photos.section.Summary())
	require.True(t, d.button("Find the curve").Disabled())
	model, err := d.s.Document().Stack.Compile(coat.Options{})
	require.NoError(t, err)
	for range c.Readings.Swatches {
		s := c.Readings.Swatches[part.picked]
		require.True(t, c.Unseen(part.picked), "it goes on by itself")
		shown := model.ShowThrough(100 * s.OpticalPowerW * s.Setting.PowerPercent / 100 / float64(s.Setting.Speed) / float64(s.Setting.Pitch))
		most := 0
		for i, v := range shown.Coverage {
			if v > shown.Coverage[most] {
				most = i
			}
		}
		word := "ground"
		if most < model.Coats() {
			word = model.Stack().Coats[most].Name
		}
		if shown.Coverage[most] < 0.85 {
			word = "mostly " + word
		}
		d.choose(s.ID+" shows", word)
	}
	require.Equal(t, "10 of 10 read", d.swatches.photos.section.Summary())
	d.fitted()
	require.NotNil(t, d.swatches.fit.result, d.says())
	require.Contains(t, strings.Join(d.swatches.fit.notes.Texts(), " "), "words agree")
}

// A photograph on which no chart is found asks for its corners, and what they tell
// nothing of is said plainly.
func TestAChartThatIsNotFoundIsPointedAt(t *testing.T) {
	d := swatchDesk(t)
	d.made(t.TempDir())
	d.read(d.file("holiday.jpg", photo(t, 800, 600)))
	require.Len(t, d.asking, 1)
	picker := object(d, "corners", func(*widgets.CornerPicker) bool { return true })
	require.Equal(t, insetCorners(800, 600), picker.Corners())
	d.tap("Read the chart")
	require.Empty(t, d.asking)
	d.until("the reading", func() bool { return !d.swatches.photos.errand.busy() })
	require.Empty(t, d.swatches.readings)
	text, next := d.notice.Said()
	requirePlain(t, text, "what is wrong")
	requirePlain(t, next, "what to do next")
	d.tap("Point at its corners")
	require.Len(t, d.asking, 1)
	d.escape()
}

func TestWhatIsNoChartIsRefused(t *testing.T) {
	d := swatchDesk(t)
	require.Nil(t, d.swatches.photos.take(d.file("letter.json", []byte(`{"kind":"letter"}`))))
	require.Contains(t, d.says(), `kind is "letter"`)
	require.Nil(t, d.swatches.chart)
}

// A fit can be cancelled, and nothing is kept of it.
func TestAFitCanBeCancelled(t *testing.T) {
	d := swatchDesk(t)
	d.made(t.TempDir())
	d.read(d.burned(1))
	f := d.swatches.fit
	ended := f.run()
	require.True(t, f.errand.box.Visible())
	require.True(t, f.start.Disabled())
	require.Nil(t, f.run(), "one at a time")
	test.Tap(f.errand.cancel)
	d.until("the end", func() bool { return closed(ended) })
	require.False(t, f.errand.box.Visible())
	require.False(t, f.start.Disabled())
	require.Nil(t, f.result)
	require.Empty(t, d.says())
}

// The swatches that would tell most go into the lines of the next chart.
func TestTheNextSwatchesMakeANewChart(t *testing.T) {
	d := swatchDesk(t)
	d.enter("Powers", "10:100:15")
	d.tick("Rasters") // eight bits would move the powers a little
	d.made(t.TempDir())
	d.read(d.burned(0.8))
	d.fitted()
	require.NotNil(t, d.swatches.fit.result, d.says())
	require.NotEmpty(t, d.swatches.fit.result.Next)
	d.tap("Put these into a new chart")
	chart, err := d.swatches.made.lay(d.s.Document())
	require.NoError(t, err)
	for _, want := range d.swatches.fit.result.Next {
		found := false
		for _, s := range chart.Swatches {
			found = found || settingText(s.Setting, true, true, true) == settingText(want, true, true, true)
		}
		require.True(t, found, settingText(want, true, true, true))
	}
}

func TestSettingTextsNameWhatDiffers(t *testing.T) {
	r := func(power, speed float64) swatch.Reading {
		var s swatch.Reading
		s.Setting.PowerPercent, s.Setting.Pitch, s.Setting.Passes = power, 0.08, 1
		s.Setting.Speed = 25
		if speed > 0 {
			s.Setting.Speed = 50
		}
		return s
	}
	require.Equal(t, []string{"10 %", "20 %"}, settingTexts([]swatch.Reading{r(10, 0), r(20, 0)}))
	require.Equal(t, []string{"10 %, 1500 mm/min", "10 %, 3000 mm/min"}, settingTexts([]swatch.Reading{r(10, 0), r(10, 1)}))
}

// A line chart is measured under a loupe: the widths that are typed give the beam.
func TestTheBeamIsFoundFromALineChart(t *testing.T) {
	d := swatchDesk(t)
	d.choose("Kind", "Single lines, for the beam")
	d.enter("Powers", "20:100:20")
	d.made(t.TempDir())
	require.True(t, d.button("Open a photograph of the chart...").Disabled(), "it is too coarse for lines")
	d.enter("Line widths", "0.05, 0.07")
	require.Contains(t, d.field("Line widths").Problem(), "the chart has 5 lines")
	d.enter("Line widths", "0, 0.0505, 0.0729, 0.0850, 0.0932")
	require.Empty(t, d.field("Line widths").Problem())
	require.Contains(t, strings.Join(d.swatches.fit.beam.told.Texts(), " "), "mm across the lines")
	before := d.s.Document().Machine.BeamAcross
	d.tap("Use this beam")
	require.NotEqual(t, before, d.s.Document().Machine.BeamAcross)
	undo, _ := d.s.StepNames()
	require.Equal(t, "beam", undo)
}

// A tint row is burned at one setting, the job's own until another is typed.
func TestATintRowIsProposedAtTheJobsPower(t *testing.T) {
	d := newDesk(t)
	d.openDrawer(swatchesNth)
	d.choose("Kind", "Even tints, for the dots")
	require.Equal(t, "60", d.field("Powers").Text())
	require.Contains(t, d.swatches.made.facts.Texts()[0], "11 swatches", "ten tints and a solid one")
	d.choose("Kind", "Solid squares, for the curve")
	require.Equal(t, usualPowers, d.field("Powers").Text())
}
