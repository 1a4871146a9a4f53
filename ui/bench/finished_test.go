package bench

import (
	"bytes"
	"testing"

	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// finishedDesk is a bench on a job that burns through two coats, and a photograph, to the
// panel's edges, of a panel that had more light than the job gives, by a factor.
func finishedDesk(t *testing.T, factor float64) (*desk, string) {
	t.Helper()
	d := newDesk(t)
	require.NoError(t, d.s.Edit("setting", "", func(doc *job.Document) error {
		doc.Setting.Speed = 1000.0 / 60
		return nil
	}))
	d.loop.turn()
	j, pic := d.s.Job()
	v, err := j.Develop(t.Context(), pic)
	require.NoError(t, err)
	pl, err := j.Document.Placement()
	require.NoError(t, err)
	raster, err := v.Raster(t.Context(), pl)
	require.NoError(t, err)
	recipe := j.Document.Recipe()
	recipe.Machine.OpticalPowerW *= factor
	img, err := j.Document.PanelProof(t.Context(), recipe, raster, pl, 600, nil)
	require.NoError(t, err)
	var photo bytes.Buffer
	require.NoError(t, export.WriteProof(&photo, img, 0))
	return d, d.file("finished.png", photo.Bytes())
}

// compared has a photograph compared whose edges are the panel's.
func (d *desk) compared(path string) {
	d.t.Helper()
	ended := d.handOff.finished.open(path)
	require.NotNil(d.t, ended)
	d.until("the photograph", func() bool { return closed(ended) })
	picker := object(d, "corners", func(*widgets.CornerPicker) bool { return true })
	picker.SetCorners([4]layout.PicturePoint{{}, {X: 450}, {X: 450, Y: 600}, {Y: 600}})
	d.tapIn("Where are the corners of the panel?", "Compare")
	d.until("the comparison", func() bool { return !d.handOff.finished.errand.busy() })
}

func TestAFinishedPanelTeachesTheCurveAndIsKept(t *testing.T) {
	d, path := finishedDesk(t, 1.1)
	before, err := d.s.Document().Stack.Compile(coat.Options{})
	require.NoError(t, err)
	d.compared(path)
	require.Len(t, d.asking, 1, d.says())

	d.tap("Update the curve")
	require.True(t, d.button("Curve updated").Disabled(), "it says the same thing only once")
	after, err := d.s.Document().Stack.Compile(coat.Options{})
	require.NoError(t, err)
	require.InEpsilon(t, before.BreakThrough(0)/1.1, after.BreakThrough(0), 0.03)

	d.tap("Keep the record")
	require.True(t, d.button("Record kept").Disabled())
	d.tap("Close")
	require.Empty(t, d.asking)
	j, _ := d.s.Job()
	require.Len(t, j.Document.Finished, 1)
	kept := j.Document.Finished[0]
	require.Equal(t, "finished.png", kept.Photo)
	require.NotEmpty(t, j.Photos[kept.SHA256], "the photograph stays in the job")
	require.Equal(t, "1 kept", d.handOff.finished.section.Summary())
	require.InEpsilon(t, 1.1, kept.DoseFactor, 0.03)

	// The record can be read again, in the job's file too.
	test.Tap(object(d, "panel", func(r *widgets.PickRow) bool { return r.Label() == kept.Date+"  finished.png" }))
	d.loop.turn()
	require.Equal(t, len(kept.Words)+1, len(d.handOff.finished.words.Texts()))
	file := d.file("again.undercoat", savedJob(t, d))
	again, err := job.Read(file)
	require.NoError(t, err)
	require.Equal(t, j.Photos, again.Photos)

	// Both are steps of their own.
	undo, _ := d.s.StepNames()
	require.Equal(t, "record of a finished panel", undo)
	d.undo()
	undo, _ = d.s.StepNames()
	require.Equal(t, "curve from a finished panel", undo)
	d.undo()
	d.loop.turn()
	require.Equal(t, "0 kept", d.handOff.finished.section.Summary())
}

// A curve that has changed since says nothing that the panel could correct.
func TestAChangedCurveIsNotUpdated(t *testing.T) {
	d, path := finishedDesk(t, 1)
	d.compared(path)
	require.Len(t, d.asking, 1, d.says())
	require.False(t, d.button("Update the curve").Disabled())
	require.NoError(t, d.s.Edit("coat", "", func(doc *job.Document) (err error) {
		doc.Stack, err = doc.Stack.WithThickness(0, 40)
		return err
	}))
	d.loop.turn()
	now := d.s.Document()
	d.tap("Update the curve")
	require.Contains(t, d.says(), "Compare the panel once more")
	require.Equal(t, now, d.s.Document())
	d.escape()
}

func TestAPhotographOfSomethingElseIsRefused(t *testing.T) {
	d, _ := finishedDesk(t, 1)
	d.compared(d.file("holiday.png", pngOf(t, 450, 600)))
	require.Empty(t, d.asking)
	text, next := d.notice.Said()
	requirePlain(t, text, "what is wrong")
	requirePlain(t, next, "what to do next")
	d.tap("Point at the corners again")
	require.Len(t, d.asking, 1)
	d.escape()
	require.Empty(t, d.s.Document().Finished)
}

func TestTheMenuComparesAFinishedPanel(t *testing.T) {
	d := newDesk(t)
	for _, menu := range d.win.MainMenu().Items {
		if menu.Label == "Panel" {
			menu.Items[0].Action()
		}
	}
	require.Len(t, d.asking, 1)
	d.escape()
	require.Empty(t, d.asking)
}
