package bench

import (
	"image"
	"image/png"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/scene"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// wallShown waits until a view of the wall is on show.
func (d *desk) wallShown() *widgets.Card {
	d.t.Helper()
	d.until("a view of the wall", func() bool { return d.wall.row.Visible() && len(d.wall.row.Objects) == 1 })
	return d.wall.row.Objects[0].(*widgets.Card)
}

func TestThePanelIsShownOnAWall(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "On a wall")
	d.tap("Show it")
	card := d.wallShown()
	require.Contains(t, card.Title(), "living room")
	require.Contains(t, card.Title(), "60 x 80 mm")
	rooms := []scene.Kind{}
	for _, name := range []string{"Hallway", "Studio"} {
		d.choose("Room", name)
		rooms = append(rooms, d.wall.wall.Room)
	}
	require.Equal(t, []scene.Kind{scene.Hallway, scene.Studio}, rooms)
	d.until("the studio", func() bool { return card.Title() == "60 x 80 mm, studio" })

	d.enter("Wall paint", "#204060")
	require.Equal(t, colour.Stored{R: 0x20, G: 0x40, B: 0x60}, d.wall.wall.Paint)
	d.enter("Wall paint", "bluish")
	require.NotEmpty(t, d.field("Wall paint").Problem())
	d.escape()
	d.enter("Watermark", "draft")
	require.Equal(t, "draft", d.wall.wall.Watermark)
	undo, _ := d.s.StepNames()
	require.Empty(t, undo, "a wall is no step of the job")
	d.Show(d.view)
	require.Nil(t, d.sheet)
}

func TestAViewOfAWallIsSaved(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "On a wall")
	path := filepath.Join(t.TempDir(), "wall.png")
	d.tap("Save the view...")
	require.Len(t, d.asking, 1)
	d.asking[0].Dismiss()
	ended := d.handOff.parts.wall.write(path)
	d.until("the file", func() bool { return closed(ended) })
	require.Contains(t, d.says(), "Saved "+path)
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	require.Equal(t, 1600, img.Bounds().Dx())
	require.Equal(t, 1200, img.Bounds().Dy())
}

func TestOtherPaintsSideBySide(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "On a wall")
	sets := d.handOff.parts.wall.sets
	ready := optionsOf(d.shelf.stacks)
	for _, nth := range []int{2, 0} {
		test.Tap(object(d, "a stack", func(r *widgets.PickRow) bool { return r.Label() == ready[nth].label }))
	}
	require.Equal(t, []string{ready[2].value, ready[0].value}, d.wall.sets, "in the order they were taken")
	path := filepath.Join(t.TempDir(), "sets.png")
	ended := d.handOff.parts.wall.write(path)
	d.until("the file", func() bool { return closed(ended) })
	require.FileExists(t, path)
	d.tap("Show it")
	d.wallShown()
	sets.OnPicked(0)
	sets.OnPicked(2)
	require.Empty(t, d.wall.sets)
}

// marking opens a photograph of a wall of 800 x 600 px and waits for the question.
func (d *desk) marking() *widgets.PointPicker {
	d.t.Helper()
	path := d.file("hall.jpg", photo(d.t, 800, 600))
	d.openSection(handOffNth, "On a wall")
	ended := d.handOff.parts.wall.openPhoto(path)
	d.until("the photograph", func() bool { return closed(ended) && len(d.asking) == 1 })
	return object(d, "the picker", func(*widgets.PointPicker) bool { return true })
}

func (d *desk) measured(text string) {
	d.control("It measures").(*widget.Entry).SetText(text)
}

func TestAWallIsMeasuredByALength(t *testing.T) {
	d := newDesk(t)
	picker := d.marking()
	use := d.button("Hang it here")
	require.True(t, use.Disabled(), "a photograph without a scale")
	points := picker.Points()
	require.Len(t, points, 3)
	points[0], points[1] = layout.PicturePoint{X: 100, Y: 500}, layout.PicturePoint{X: 700, Y: 500}
	picker.SetPoints(points, nil, [][2]int{{0, 1}})
	for typed, says := range map[string]string{"some": "", "-3": "", "20": "reaches past the photo"} {
		d.measured(typed)
		require.True(t, use.Disabled(), typed)
		require.Contains(t, d.markSays(), says, typed)
	}
	d.measured("300 mm") // 2 px a mm: the panel of 60 x 80 mm is 120 x 160 px
	require.False(t, use.Disabled())
	_, outline, err := markAsked(d, picker)
	require.NoError(t, err)
	require.InDelta(t, 120, outline[1].X-outline[0].X, 1e-9)
	require.InDelta(t, 160, outline[2].Y-outline[1].Y, 1e-9)

	test.Tap(use)
	d.loop.turn()
	require.NotNil(t, d.wall.wall.Photo)
	require.EqualValues(t, 300, d.wall.wall.Mark.LengthMM)
	require.Contains(t, d.wallShown().Title(), "hall.jpg")
	require.Contains(t, d.told(), "hall.jpg, measured by a length of 300 mm on it")
	require.Equal(t, "hall.jpg", d.handOff.parts.wall.section.Summary())

	path := filepath.Join(t.TempDir(), "wall.png")
	ended := d.handOff.parts.wall.write(path)
	d.until("the file", func() bool { return closed(ended) })
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	img, err := png.Decode(f)
	require.NoError(t, err)
	require.Equal(t, 800, img.Bounds().Dx(), "a photograph keeps its own size")

	d.tap("Back to a room")
	require.Nil(t, d.wall.wall.Photo)
}

// markSays is what the question says of the mark.
func (d *desk) markSays() string {
	d.t.Helper()
	var said []string
	for _, over := range d.win.Canvas().Overlays().List() {
		walk(over, func(o fyne.CanvasObject) {
			if r, ok := o.(*widgets.Remarks); ok {
				said = append(said, r.Texts()...)
			}
		})
	}
	return strings.Join(said, " ")
}

// markAsked is what the question on show would take.
func markAsked(d *desk, picker *widgets.PointPicker) (scene.Mark, [4]layout.PicturePoint, error) {
	p := picker.Points()
	m := scene.Mark{A: p[0], B: p[1], LengthMM: 300, Centre: p[2]}
	outline, err := m.Outline(image.Pt(800, 600), d.s.Document().Panel.Size)
	return m, outline, err
}

func TestAWallTakenAslantIsMeasuredByARectangle(t *testing.T) {
	d := newDesk(t)
	d.marking()
	by := d.control("Marked is").(*widget.RadioGroup)
	by.SetSelected("A rectangle")
	picker := object(d, "the picker", func(*widgets.PointPicker) bool { return true })
	require.Len(t, picker.Points(), 5)
	d.measured("400 x 300 mm")
	test.Tap(d.button("Hang it here"))
	d.loop.turn()
	require.NotNil(t, d.wall.wall.Mark.Corners)
	d.wallShown()
	require.Contains(t, d.told(), "measured by a rectangle of 400 x 300 mm on it")
	d.tap("Mark it again...")
	d.until("the question", func() bool { return len(d.asking) == 1 })
	require.Equal(t, "400 x 300 mm", d.control("It measures").(*widget.Entry).Text)
	d.tap("Leave it")
	require.NotNil(t, d.wall.wall.Mark.Corners)
}

func TestTheClientsSheetAlone(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Price")
	dir := t.TempDir()
	ended := d.handOff.client(dir)
	d.until("the sheet", func() bool { return closed(ended) })
	require.Contains(t, d.says(), "Wrote "+job.ClientFile)
	files, err := filepath.Glob(filepath.Join(dir, "job", "*"))
	require.NoError(t, err)
	require.Equal(t, []string{filepath.Join(dir, "job", job.ClientFile)}, files)
	ended = d.handOff.client(dir)
	d.until("a refusal", func() bool { return closed(ended) })
	d.tap("Replace it")
	d.until("the sheet", func() bool { return d.handOff.stopRun == nil })
	require.Contains(t, d.says(), "Wrote "+job.ClientFile)
}

func TestPartsOfTheHandOffAreChosen(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Files")
	d.foreseen()
	files := d.handOff.parts.files
	listed := files.told.Texts()
	dir, _ := d.handedOff()
	written, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range written {
		names = append(names, e.Name())
	}
	require.ElementsMatch(t, names, listed, "what was said is what is written")
	require.True(t, files.ticks[job.CalendarOutput].Disabled(), "there is no start")

	for _, o := range []job.Output{job.RasterOutput, job.ProofOutput, job.SheetOutput} {
		test.Tap(files.ticks[o])
	}
	require.Equal(t, []string{job.PlacementTextFile, job.PlacementJSONFile}, files.told.Texts())
	test.Tap(files.ticks[job.PlacementOutput])
	require.True(t, d.handOff.start.Disabled())
	require.Contains(t, files.told.Texts()[0], "Nothing is left to hand off")
	test.Tap(files.ticks[job.PlacementOutput])
	dir, _ = d.handedOff()
	require.NoFileExists(t, filepath.Join(dir, job.RasterFile))
	require.FileExists(t, filepath.Join(dir, job.PlacementTextFile))
}

func TestATrialPieceIsPrepared(t *testing.T) {
	d := newDesk(t)
	d.openSection(handOffNth, "Trial piece")
	require.Equal(t, "48 x 40 mm", d.field("Size").Text(), "no larger than the picture")
	d.enter("Size", "12 x 10 mm")
	d.enter("Powers", "20,30,40")
	dir := t.TempDir()
	trial := d.handOff.parts.trial
	ended := trial.writeIn(dir)
	d.until("the piece", func() bool { return closed(ended) })
	require.Contains(t, d.says(), "Wrote")
	require.FileExists(t, filepath.Join(dir, "job trial", job.StepFile(2)))
	require.Contains(t, trial.told.Texts()[0], "12")
	ended = trial.writeIn(dir)
	d.until("a refusal", func() bool { return closed(ended) })
	require.Contains(t, d.says(), "already")
	d.hush()

	for name, cases := range map[string][]string{"Size": {"500 x 400 mm", "much"}, "Powers": {"low", "150"}, "Middle, x": {"right"}} {
		for _, typed := range cases {
			d.enter(name, typed)
			require.NotEmpty(t, d.field(name).Problem(), "%s %s", name, typed)
			d.field(name).Entry().TypedKey(&fyne.KeyEvent{Name: fyne.KeyEscape})
		}
	}
	d.enter("Middle, x", "5")
	require.Nil(t, trial.writeIn(dir))
	require.Contains(t, d.says(), "Give both x and y")
	d.enter("Middle, y", "100")
	require.Contains(t, d.field("Middle, y").Problem(), "reaches out of the picture")
}
