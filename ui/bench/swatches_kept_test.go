package bench

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/library"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

const keepTitle = "Keep the calibrated stack"

// The library keeps a calibrated stack and what it was found from; a job that has the
// stack brings the readings back.
func TestTheLibraryKeepsAStackAndItsReadings(t *testing.T) {
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	d := swatchDesk(t)
	d.made(t.TempDir())
	d.read(d.burned(0.8))
	d.fitted()
	d.tap("Use this curve")
	d.loop.turn()
	d.tap("Keep in the library...")
	require.Len(t, d.asking, 1)
	name := d.win.Canvas().Focused().(*widget.Entry)
	require.NoError(t, library.CheckName(name.Text), "what is proposed can be taken")
	name.SetText("a/b")
	d.tapIn(keepTitle, "Save")
	require.Len(t, d.asking, 1, "it says what is wrong, and asks on")
	name.SetText("mine")
	d.tapIn(keepTitle, "Save")
	require.Empty(t, d.asking)
	d.loop.turn()
	require.Contains(t, d.says(), "The library keeps mine")

	kept, err := library.Open().Stack("mine")
	require.NoError(t, err)
	require.True(t, kept.Equal(d.s.Document().Stack), "the job knows where its readings are")
	require.True(t, d.button("Use this curve").Disabled(), "it is in use still")
	require.False(t, d.swatches.photos.kept.Visible(), "they are on the desk")
	label := "mine (calibrated " + kept.Curve.Origin.Date + ")"
	require.Equal(t, label, d.shelf.labelOf(d.s.Document().Stack))
	d.openDrawer(coatsNth)
	require.Equal(t, label, d.control("Stack").(*widget.Select).Selected, "it is offered at once")
	d.openDrawer(swatchesNth)

	d.tap("Remove")
	require.Empty(t, d.swatches.readings)
	d.tap("Open its readings")
	require.Len(t, d.swatches.readings, 1)
	require.Equal(t, "mine-chart-1", d.swatches.readings[0].Name)
	require.Equal(t, 25, d.swatches.readings[0].Used())
	require.False(t, d.swatches.photos.kept.Visible(), "they are on the desk now")

	// A name that is taken is replaced after a warning alone.
	d.tap("Keep in the library...")
	d.win.Canvas().Focused().(*widget.Entry).SetText("mine")
	d.tapIn(keepTitle, "Save")
	require.Len(t, d.asking, 1)
	d.tap("Replace")
	require.Empty(t, d.asking)

	// Readings that are gone from the library are said to be.
	require.NoError(t, library.Open().Remove(library.Readings, "mine-chart-1"))
	d.tap("Remove")
	d.tap("Open its readings")
	require.Contains(t, d.says(), `called "mine-chart-1"`)
}

// Charts lie on the desk at the next start, but those that the library keeps.
func TestChartsOutliveTheWindow(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", t.TempDir())
	first := swatchDesk(t)
	first.swatches.takeDesk(session.OpenDesk)
	first.made(t.TempDir())
	first.read(first.burned(0.8))
	first.swatches.photos.readings.pick(3)
	id := first.swatches.readings[0].Readings.Swatches[3].ID
	first.choose(id+" shows", "Leave it out")

	other := swatchDesk(t)
	other.swatches.takeDesk(session.OpenDesk)
	require.Nil(t, other.swatches.desk, "another window has it")
	require.Empty(t, other.says())
	want := first.swatches.readings[0].Readings
	first.Close()

	next := swatchDesk(t)
	next.swatches.takeDesk(session.OpenDesk)
	require.Empty(t, next.says())
	require.Len(t, next.swatches.readings, 1)
	require.Equal(t, want, next.swatches.readings[0].Readings)
	require.NotNil(t, next.swatches.chart)
	require.Equal(t, "24 of 25 read", next.swatches.photos.section.Summary())
	require.False(t, next.swatches.photos.readings.white.Visible(), "the photograph itself is not kept")
	next.swatches.photos.readings.pick(3)
	next.choose(id+" shows", "As it was read")
	require.Equal(t, 25, next.swatches.readings[0].Used(), "what was measured is kept, too")

	next.fitted()
	next.tap("Keep in the library...")
	next.win.Canvas().Focused().(*widget.Entry).SetText("mine")
	next.tapIn(keepTitle, "Save")
	next.Close()
	last := swatchDesk(t)
	last.swatches.takeDesk(session.OpenDesk)
	require.Empty(t, last.swatches.readings, "the library has them")
	require.NotNil(t, last.swatches.chart)
}

// A white paper in the photograph can be pointed at, and let go again.
func TestAWhitePaperIsPointedAt(t *testing.T) {
	d := swatchDesk(t)
	d.made(t.TempDir())
	d.read(d.burned(1))
	part := d.swatches.photos.readings
	require.True(t, part.white.Visible())
	before := *d.swatches.readings[0].Readings.Swatches[0].LinearRGB
	part.pick(3)
	id := d.swatches.readings[0].Readings.Swatches[3].ID
	d.choose(id+" shows", "Leave it out")

	d.tap("White paper...")
	d.until("the photograph", func() bool { return len(d.asking) == 1 })
	picker := object(d, "corners", func(*widgets.CornerPicker) bool { return true })
	picker.SetCorners([4]layout.PicturePoint{{X: 5, Y: 5}, {X: 9, Y: 5}, {X: 9, Y: 9}, {X: 5, Y: 9}})
	picker.OnChanged(picker.Corners())
	require.True(t, d.button("Go by this paper").Disabled(), "too small")
	// The simulated table round the chart is as bright as paper.
	picker.SetCorners([4]layout.PicturePoint{{X: 8, Y: 8}, {X: 40, Y: 10}, {X: 38, Y: 42}, {X: 8, Y: 40}})
	picker.OnChanged(picker.Corners())
	d.tap("Go by this paper")
	d.until("the reading", func() bool { return !d.swatches.photos.errand.busy() })
	require.Empty(t, d.says())
	now := d.swatches.readings[0]
	require.True(t, now.HasWhite())
	require.NotEqual(t, before, *now.Readings.Swatches[0].LinearRGB)
	require.Equal(t, "left out by hand", now.Readings.Swatches[3].LeftOut, "what was said stays")
	require.Equal(t, "24 of 25 read", d.swatches.photos.section.Summary())

	d.tap("Read it without the white paper")
	d.until("the reading", func() bool { return !d.swatches.photos.errand.busy() })
	require.False(t, d.swatches.readings[0].HasWhite())
	require.Equal(t, before, *d.swatches.readings[0].Readings.Swatches[0].LinearRGB)
	require.NotContains(t, strings.Join(part.reason.Texts(), " "), "white paper")
}

// What shows can be a colour, matched by eye.
func TestAColourIsPickedForASwatch(t *testing.T) {
	d := swatchDesk(t)
	d.enter("Powers", "10:100:10")
	d.made(t.TempDir())
	d.tap("Judge by eye")
	part := d.swatches.photos.readings
	s := part.chart().Readings.Swatches[0]
	d.choose(s.ID+" shows", "Pick a colour...")
	require.Len(t, d.asking, 1)
	d.escape()
	require.True(t, part.chart().Unseen(0), "nothing was picked")
	require.Empty(t, part.seen.Selected)

	for _, c := range []colour.Stored{{R: 43, G: 122, B: 120}, {}} {
		part.pick(0)
		d.choose(s.ID+" shows", "Pick a colour...")
		d.asking[0].(*dialog.ColorPickerDialog).SetColor(c)
		d.tapIn(s.ID+" shows", "Confirm")
		require.Empty(t, d.asking)
		require.Equal(t, session.Answer{Picked: true, Colour: c}, part.chart().Answered(0))
		require.Equal(t, "1 of 10 read", d.swatches.photos.section.Summary())
		part.pick(0)
		require.Equal(t, "The colour "+c.String(), part.seen.Selected)
	}
	require.NoError(t, part.chart().Readings.Validate())
}
