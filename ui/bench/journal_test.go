package bench

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// crashed leaves the journal of a job in a state folder of the test's own, as a program
// does that is ended unasked.
func crashed(t *testing.T, border layout.MM, path string) *job.Job {
	t.Helper()
	s := newDesk(t).Session()
	require.NoError(t, s.Edit("border", "", func(d *job.Document) error { d.Border = layout.Even(border); return nil }))
	j, _ := s.Job()
	n, err := job.OpenJournal(path)
	require.NoError(t, err)
	t.Cleanup(func() { _ = n.Drop() }) // ends what still runs for it
	require.NoError(t, n.Write(j))
	locks, err := filepath.Glob(filepath.Join(os.Getenv("XDG_STATE_HOME"), "undercoat", "journal", "*lock*"))
	require.NoError(t, err)
	hidden, err := filepath.Glob(filepath.Join(os.Getenv("XDG_STATE_HOME"), "undercoat", "journal", ".*"))
	require.NoError(t, err)
	require.NotEmpty(t, append(locks, hidden...))
	for _, lock := range append(locks, hidden...) {
		require.NoError(t, os.RemoveAll(lock)) // its owner is gone
	}
	return j
}

func TestAJobThatACrashLeftIsTakenUp(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	left := crashed(t, 11, "/jobs/harbour.undercoat")
	d := newDesk(t)
	d.Welcome()
	require.NotNil(t, d.win.Canvas().Overlays().Top())
	d.tap("Take it up")
	d.loaded()
	require.Equal(t, left.Document, d.s.Document())
	require.Equal(t, "/jobs/harbour.undercoat", d.s.Path())
	require.True(t, d.s.Dirty())
	again, err := job.Leftovers()
	require.NoError(t, err)
	require.Empty(t, again)
}

func TestAJobThatACrashLeftIsLetGo(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	crashed(t, 11, "")
	d := newDesk(t)
	before := d.s.Document()
	d.Welcome()
	d.tap("Ask again later")
	left, err := job.Leftovers()
	require.NoError(t, err)
	require.Len(t, left, 1)
	d.Welcome()
	d.tap("Let it go")
	left, err = job.Leftovers()
	require.NoError(t, err)
	require.Empty(t, left)
	require.Equal(t, before, d.s.Document())
}

func TestTheTourIsShownOnce(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	t.Cleanup(func() { fyne.CurrentApp().Preferences().RemoveValue(tourPreference) })
	d := newDesk(t)
	d.Welcome()
	for range 4 {
		d.tap("Next")
	}
	d.tap("Begin")
	require.Nil(t, d.win.Canvas().Overlays().Top())
	d.Welcome()
	require.Nil(t, d.win.Canvas().Overlays().Top())
	d.Tour()
	d.tap("Skip")
	require.Nil(t, d.win.Canvas().Overlays().Top())
}

func TestTheKeysAreListed(t *testing.T) {
	d := newDesk(t)
	d.win.Canvas().Focus(d.easel)
	d.easel.TypedRune('?')
	rows := map[string]bool{}
	walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if row, ok := o.(*widgets.PickRow); ok {
			rows[row.Label()] = true
		}
	})
	for _, does := range []string{"Save the job", "Undo", "Compare", "the whole panel", "this list"} {
		require.Contains(t, rows, does)
	}
	d.tap("Close")
	d.ribbon.widget.TypedRune('?')
	d.tap("Close")
}

func TestACopiedFileIsPasted(t *testing.T) {
	d := newDesk(t)
	path := d.file("quay side.png", pngOf(t, 90, 60))
	for name, text := range map[string]string{
		"path":                path,
		"address":             "file://" + filepath.ToSlash(filepath.Dir(path)) + "/quay%20side.png\r\n",
		"of the file manager": "copy\nfile://" + filepath.ToSlash(filepath.Dir(path)) + "/quay%20side.png",
	} {
		got, ok := copiedFile(text)
		require.True(t, ok, name)
		require.Equal(t, path, got, name)
	}
	fyne.CurrentApp().Clipboard().SetContent(path)
	d.paste()
	d.loaded()
	require.Equal(t, "quay side.png", d.s.Document().Picture.Name)
	fyne.CurrentApp().Clipboard().SetContent("a few words")
	d.paste()
	require.Contains(t, d.says(), "No copied file")
}

func TestRecentJobsAreRemembered(t *testing.T) {
	t.Cleanup(func() { fyne.CurrentApp().Preferences().RemoveValue(recentPreference) })
	fyne.CurrentApp().Preferences().RemoveValue(recentPreference)
	d := newDesk(t)
	require.True(t, d.recentMenu().Disabled)
	dir := t.TempDir()
	var paths []string
	for _, name := range []string{"a", "b", "a"} {
		path := filepath.Join(dir, name+job.Extension)
		paths = append(paths, path)
		d.saveTo(path, nil)
		d.loop.turn()
	}
	require.Equal(t, []string{paths[0], paths[1]}, recentJobs())
	d.recentMenu().ChildMenu.Items[1].Action()
	d.loaded()
	require.Equal(t, paths[1], d.s.Path())
}
