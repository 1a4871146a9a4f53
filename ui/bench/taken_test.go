package bench

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// twoDesks are two windows, the first with a job's file open.
func twoDesks(t *testing.T) (first, second *desk, path string) {
	first, second = newDesk(t), newDesk(t)
	path = first.file("boat.undercoat", savedJob(t, first))
	first.OpenPath(path)
	first.loaded()
	require.Equal(t, path, first.s.Path())
	return first, second, path
}

// texts is what the remarks of the topmost question say.
func (d *desk) texts() (all string) {
	walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.Remarks); ok {
			all += strings.Join(r.Texts(), " ")
		}
	})
	return all
}

const takenTitle = "Open in another window"

func TestAJobThatIsOpenElsewhereIsLeft(t *testing.T) {
	_, second, path := twoDesks(t)
	before := second.s.Document()
	second.OpenPath(path)
	second.loaded()
	require.Contains(t, second.texts(), "boat.undercoat is open in another window")
	second.tapIn(takenTitle, "Leave it")
	require.Empty(t, second.asking)
	require.Equal(t, before, second.s.Document())
	require.Empty(t, second.s.Path())
}

func TestAJobThatIsOpenElsewhereIsCopied(t *testing.T) {
	first, second, path := twoDesks(t)
	first.enter("Border", "7")
	first.save(nil)
	second.OpenPath(path)
	second.loaded()
	second.tapIn(takenTitle, "Open a copy")
	second.loaded()
	require.Empty(t, second.s.Path())
	require.Equal(t, layout.Even(7), second.s.Document().Border)
	require.Equal(t, "job (copy) * - Undercoat", second.win.Title())

	// Its own file it gets under another name only.
	q := newSaveQuestion(second.Bench, nil)
	q.show()
	q.setDir(filepath.Dir(path))
	q.name.SetText("boat")
	q.answer()
	require.Len(t, second.asking, 1)
	require.Contains(t, q.trouble.Texts()[0], "boat.undercoat is open in another window")
	q.name.SetText("boat again")
	q.answer()
	require.Empty(t, second.asking)
	require.Equal(t, filepath.Join(filepath.Dir(path), "boat again.undercoat"), second.s.Path())
}

func TestALostLockIsAskedAbout(t *testing.T) {
	const title = "Save over boat.undercoat?"
	lost := func(t *testing.T) (*desk, string) {
		first, second, path := twoDesks(t)
		first.enter("Border", "7")
		require.NoError(t, os.Remove(filepath.Join(filepath.Dir(path), ".boat.undercoat.lock")))
		second.OpenPath(path)
		second.loaded()
		require.Equal(t, path, second.s.Path())
		first.save(nil)
		first.loop.turn()
		require.Len(t, first.asking, 1)
		return first, path
	}
	border := func(t *testing.T, path string) layout.MM {
		j, err := job.Read(path)
		require.NoError(t, err)
		return j.Document.Border.Left
	}
	t.Run("left", func(t *testing.T) {
		d, path := lost(t)
		d.tapIn(title, "Keep working")
		require.NotEqual(t, layout.MM(7), border(t, path))
		require.True(t, d.s.Dirty())
	})
	t.Run("saved over", func(t *testing.T) {
		d, path := lost(t)
		d.tapIn(title, "Save here all the same")
		require.Empty(t, d.asking)
		require.Equal(t, layout.MM(7), border(t, path))
		d.enter("Border", "8")
		d.save(nil)
		d.loop.turn()
		require.Contains(t, d.texts(), "boat.undercoat is open in another window")
		d.tapIn(title, "Keep working") // and again, while it is open there
	})
	t.Run("under another name", func(t *testing.T) {
		d, path := lost(t)
		d.tapIn(title, "Save under another name...")
		require.Len(t, d.asking, 1)
		d.escape()
		require.NotEqual(t, layout.MM(7), border(t, path))
	})
}

func TestANewJobLetsTheFileGo(t *testing.T) {
	first, second, path := twoDesks(t)
	first.newJob()
	first.loop.turn()
	require.Empty(t, first.s.Path())
	require.Equal(t, "job - Undercoat", first.win.Title())
	second.OpenPath(path)
	second.loaded()
	require.Empty(t, second.asking)
	require.Equal(t, path, second.s.Path())

	first.enter("Border", "9")
	first.newJob()
	first.tapIn("Unsaved changes", "Keep working")
	require.Equal(t, layout.Even(9), first.s.Document().Border)
}

func TestWhatACrashLeftOfAJobThatIsOpenElsewhere(t *testing.T) {
	t.Setenv("XDG_STATE_HOME", t.TempDir())
	_, second, path := twoDesks(t)
	crashed(t, 11, path)
	second.Welcome()
	second.tap("Take it up")
	second.loaded()
	second.loop.turn()
	require.Equal(t, layout.Even(11), second.s.Document().Border)
	require.Empty(t, second.s.Path())
	require.Contains(t, second.says(), "boat.undercoat is open in another window")
}
