package bench

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// escape presses Escape where nothing has the focus.
func (d *desk) escape() {
	d.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: fyne.KeyEscape})
	d.loop.turn()
}

// tapIn presses a button of the topmost question, which must have this title.
func (d *desk) tapIn(title, label string) {
	d.t.Helper()
	var titled bool
	var found *widget.Button
	walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		switch o := o.(type) {
		case *canvas.Text:
			titled = titled || o.Text == title
		case *widget.Button:
			if o.Text == label {
				found = o
			}
		}
	})
	require.True(d.t, titled, "a question called %s is on top", title)
	require.NotNil(d.t, found, "it has a button %s", label)
	test.Tap(found)
	d.loop.turn()
}

// saveQuestionIn opens the question for a name with a folder set.
func saveQuestionIn(t *testing.T) (*desk, *saveQuestion, string) {
	d := newDesk(t)
	dir := t.TempDir()
	d.folder = dir
	q := newSaveQuestion(d.Bench, nil)
	q.show()
	return d, q, dir
}

func TestSavingUnderAName(t *testing.T) {
	d, q, dir := saveQuestionIn(t)
	require.Equal(t, "job", q.name.Text)
	require.Equal(t, fyne.Focusable(q.name), d.win.Canvas().Focused(), "typing begins at once")
	q.name.SetText("harbour")
	d.tapIn("Save the job", "Save")
	require.Empty(t, d.asking)
	path := filepath.Join(dir, "harbour.undercoat")
	require.Equal(t, path, d.s.Path())
	require.Equal(t, "harbour - Undercoat", d.win.Title())
	j, err := job.Read(path)
	require.NoError(t, err)
	require.Equal(t, d.s.Document(), j.Document)

	// From now on it is saved without a question.
	d.enter("Border", "7")
	require.Equal(t, "harbour * - Undercoat", d.win.Title())
	d.save(nil)
	d.loop.turn()
	require.Empty(t, d.asking)
	j, err = job.Read(path)
	require.NoError(t, err)
	require.Equal(t, layout.Even(7), j.Document.Border)
}

func TestNamesThatCannotBe(t *testing.T) {
	d, q, dir := saveQuestionIn(t)
	for _, name := range []string{"", "  ", "a/b", `a\b`, ".undercoat"} {
		q.name.SetText(name)
		q.answer()
		require.Len(t, d.asking, 1, "%q", name)
		require.Len(t, q.trouble.Texts(), 1)
		q.name.SetText("x")
		require.Empty(t, q.trouble.Texts(), "the complaint goes with what it was about")
	}
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Empty(t, left)
}

func TestAFileIsReplacedOnlyWhenToldSo(t *testing.T) {
	d, q, dir := saveQuestionIn(t)
	path := filepath.Join(dir, "mine.undercoat")
	require.NoError(t, os.WriteFile(path, []byte("a weekend's work"), 0o666))
	q.name.SetText("mine.undercoat")
	q.answer()
	require.Len(t, d.asking, 1)
	require.Contains(t, q.trouble.Texts()[0], "mine.undercoat is there already")
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "a weekend's work", string(data))

	q.name.SetText("mine2")
	require.Equal(t, "Save", q.confirm.Text, "another name is another question")
	q.name.SetText("mine")
	q.answer()
	d.tapIn("Save the job", "Replace")
	require.Empty(t, d.asking)
	_, err = job.Read(path)
	require.NoError(t, err)
}

func TestAQuestionIsPutAway(t *testing.T) {
	for name, ask := range map[string]func(d *desk){
		"open":     func(d *desk) { d.open() },
		"picture":  func(d *desk) { d.openPicture() },
		"hand off": func(d *desk) { d.handOffDialog() },
		"save as":  func(d *desk) { d.saveAs(nil) },
	} {
		t.Run(name, func(t *testing.T) {
			d := newDesk(t)
			d.folder = t.TempDir()
			before := d.s.Document()
			ask(d)
			require.Len(t, d.asking, 1)
			require.NotNil(t, d.win.Canvas().Overlays().Top())
			d.unasked(func() { t.Error("the work beneath waits") })()
			d.drop(d.file("late.png", pngOf(t, 64, 64)))
			require.Empty(t, d.status.reads, "and so does what is dropped")
			d.escape()
			require.Empty(t, d.asking)
			require.Nil(t, d.win.Canvas().Overlays().Top())
			require.Equal(t, before, d.s.Document())
			require.Empty(t, d.says())
		})
	}
}

func TestChoosingAFolderLiesOverTheQuestion(t *testing.T) {
	d, q, _ := saveQuestionIn(t)
	q.chooseFolder()
	require.Len(t, d.asking, 2)
	d.escape()
	require.Len(t, d.asking, 1, "Escape puts away the topmost")
	q.setDir("/elsewhere")
	require.Equal(t, "/elsewhere", q.folder.Text)
	d.escape()
	require.Empty(t, d.asking)
}
