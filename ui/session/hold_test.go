package session_test

import (
	"context"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/process"
	"undercoat/layout"
	"undercoat/ui/session"
)

// lockOf is where the lock of a job's file lies.
func lockOf(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
}

// savedAt is a job's file that nobody has open.
func savedAt(t *testing.T, name string, border layout.MM) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	s := open(t, nil)
	require.NoError(t, setBorder(s, border, ""))
	require.NoError(t, s.Save(path))
	s.Close()
	require.NoFileExists(t, lockOf(path))
	return path
}

func requireTaken(t *testing.T, err error) {
	t.Helper()
	locked := new(job.LockedError)
	require.ErrorAs(t, err, &locked)
	require.Equal(t, os.Getpid(), locked.Process)
}

func TestAJobIsOpenInOneWindowOnly(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	first, second := open(t, nil), open(t, nil)
	require.NoError(t, first.OpenJob(t.Context(), path))
	require.FileExists(t, lockOf(path))
	before := second.Document()
	requireTaken(t, second.OpenJob(t.Context(), path))
	require.Equal(t, before, second.Document())
	requireTaken(t, second.Save(path))
	requireTaken(t, second.Taken(path))
	require.NoError(t, first.Taken(path), "its own")
	require.FileExists(t, lockOf(path))

	require.NoError(t, first.OpenJob(t.Context(), path), "once more what is open already")
	first.Close()
	require.NoFileExists(t, lockOf(path))
	require.NoError(t, second.Taken(path))
	require.NoFileExists(t, lockOf(path), "asking takes nothing")
	require.NoError(t, second.OpenJob(t.Context(), path))
	require.Equal(t, path, second.Path())
}

func TestWindowsMeetAtOneLockByWhicheverFolder(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	link := filepath.Join(t.TempDir(), "link")
	require.NoError(t, os.Symlink(filepath.Dir(path), link))
	first, second := open(t, nil), open(t, nil)
	require.NoError(t, first.OpenJob(t.Context(), path))
	requireTaken(t, second.OpenJob(t.Context(), filepath.Join(link, "boat.undercoat")))
}

func TestACopyLeavesTheFileToTheOtherWindow(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	first, second := open(t, nil), open(t, nil)
	require.NoError(t, first.OpenJob(t.Context(), path))
	require.NoError(t, second.OpenCopy(t.Context(), path, func(name string) string { return name + " (copy)" }))
	require.Empty(t, second.Path())
	require.True(t, second.Dirty())
	require.Equal(t, "job (copy)", second.Document().Name)
	require.Equal(t, layout.Even(10), second.Document().Border)
	require.NoError(t, second.OpenCopy(t.Context(), path, func(string) string { return "" }))
	require.Equal(t, "job", second.Document().Name, "no job is called nothing")
}

// What leads away from a job lets its file go.
func TestTheFileIsLetGo(t *testing.T) {
	other := savedAt(t, "other.undercoat", 12)
	for name, leave := range map[string]func(s *session.Session) error{
		"another job": func(s *session.Session) error { return s.OpenJob(context.Background(), other) },
		"a copy": func(s *session.Session) error {
			return s.OpenCopy(context.Background(), other, func(n string) string { return n })
		},
		"a new job":    func(s *session.Session) error { return s.OpenNew() },
		"another name": func(s *session.Session) error { return s.Save(filepath.Join(t.TempDir(), "new.undercoat")) },
		"what a crash left": func(s *session.Session) error {
			j, pic := s.Job()
			return s.Restore(context.Background(), j, pic, "")
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := savedAt(t, "boat.undercoat", 10)
			s := open(t, nil)
			require.NoError(t, s.OpenJob(t.Context(), path))
			require.FileExists(t, lockOf(path))
			require.NoError(t, leave(s))
			require.NoFileExists(t, lockOf(path))
		})
	}
}

// What fails or is given up keeps the job, its file and no other.
func TestAFileThatCannotBeOpenedIsNotHeld(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	s := open(t, nil)
	require.NoError(t, s.OpenJob(t.Context(), path))
	broken := filepath.Join(t.TempDir(), "broken.undercoat")
	require.NoError(t, os.WriteFile(broken, []byte("not a job"), 0o666))
	require.Error(t, s.OpenJob(t.Context(), broken))
	require.NoFileExists(t, lockOf(broken))
	given, stop := context.WithCancel(t.Context())
	stop()
	other := savedAt(t, "other.undercoat", 10)
	require.ErrorIs(t, s.OpenJob(given, other), context.Canceled)
	require.NoFileExists(t, lockOf(other))
	folder := filepath.Join(t.TempDir(), "folder.undercoat")
	require.NoError(t, os.Mkdir(folder, 0o777))
	require.Error(t, s.Save(folder))
	require.NoFileExists(t, lockOf(folder))
	require.FileExists(t, lockOf(path))
	require.Equal(t, path, s.Path())
}

func TestALostLockIsAskedAboutBeforeSaving(t *testing.T) {
	for name, lose := range map[string]func(t *testing.T, path string){
		"gone": func(t *testing.T, path string) { require.NoError(t, os.Remove(lockOf(path))) },
		"another's": func(t *testing.T, path string) {
			require.NoError(t, os.Remove(lockOf(path)))
			other := open(t, nil)
			require.NoError(t, other.OpenJob(t.Context(), path))
			require.NoError(t, setBorder(other, 20, ""))
			require.NoError(t, other.Save(path))
		},
	} {
		t.Run(name, func(t *testing.T) {
			path := savedAt(t, "boat.undercoat", 10)
			s := open(t, nil)
			require.NoError(t, s.OpenJob(t.Context(), path))
			require.NoError(t, setBorder(s, 15, ""))
			lose(t, path)
			before, err := os.ReadFile(path)
			require.NoError(t, err)
			lost := new(session.LostError)
			require.ErrorAs(t, s.Save(path), &lost)
			after, err := os.ReadFile(path)
			require.NoError(t, err)
			require.Equal(t, before, after, "nothing was written")

			require.NoError(t, s.SaveOver(path))
			j, err := job.Read(path)
			require.NoError(t, err)
			require.Equal(t, layout.Even(15), j.Document.Border)
			require.NoError(t, setBorder(s, 16, ""))
			if name == "gone" {
				require.NoError(t, s.Save(path), "the lock was taken again")
			} else {
				requireTaken(t, s.Save(path)) // each time, while the other has it
			}
		})
	}
}

func TestTheLockOfADeadProcessIsCleared(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	require.NoError(t, cmd.Run())
	mark := process.Here()
	mark.PID = cmd.Process.Pid
	data, err := json.Marshal(mark)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(lockOf(path), data, 0o666))
	s := open(t, nil)
	require.NoError(t, s.OpenJob(t.Context(), path))
	s.Close()
	require.NoFileExists(t, lockOf(path))
}

// A job on a disc that takes no locks is opened all the same.
func TestAFolderWithoutLocks(t *testing.T) {
	path := savedAt(t, "boat.undercoat", 10)
	require.NoError(t, os.Mkdir(lockOf(path), 0o777)) // stands in its place
	s := open(t, nil)
	require.NoError(t, s.OpenJob(t.Context(), path))
	require.Equal(t, path, s.Path())
	require.NoError(t, setBorder(s, 11, ""))
	require.NoError(t, s.Save(path))
}

func TestANewJobKeepsWhatIsNotThePictures(t *testing.T) {
	s := open(t, nil)
	require.NoError(t, setBorder(s, 10, ""))
	before := s.Document()
	require.NoError(t, s.OpenNew())
	doc := s.Document()
	require.False(t, doc.HasPicture())
	require.Equal(t, before.Panel, doc.Panel)
	require.Equal(t, before.Border, doc.Border)
	require.Equal(t, before.Stack, doc.Stack)
	require.Equal(t, before.Setting, doc.Setting)
	require.False(t, s.Dirty())
	require.False(t, s.Undo())
	_, err := s.Plan()
	require.NoError(t, err)
}
