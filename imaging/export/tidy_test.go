package export

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/process"
)

// ended is the number of a process that has ended.
var ended = sync.OnceValue(func() int {
	cmd := exec.Command(os.Args[0], "-test.run=^$")
	if err := cmd.Run(); err != nil {
		panic(err)
	}
	return cmd.Process.Pid
})

// leftBehind is a hidden folder as a process leaves it that is killed.
func leftBehind(t *testing.T, dir, place string, pid int, files map[string]string) string {
	t.Helper()
	hidden := filepath.Join(dir, fmt.Sprintf("%s%s-%d-%s", hidingPrefix, place, pid, process.Token()))
	require.NoError(t, os.MkdirAll(hidden, 0o700))
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(hidden, name), []byte(text), 0o600))
	}
	return hidden
}

func TestTidyClearsWhatWasNeverFinished(t *testing.T) {
	dir := t.TempDir()
	here := process.Here().Place
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a.txt"), []byte("old"), 0o600))
	leftBehind(t, dir, here, ended(), map[string]string{".a.txt123": "half"})
	leftBehind(t, dir, here, ended(), nil)
	at := leftBehind(t, dir, here, os.Getpid(), map[string]string{".b.txt1": "being written"})
	elsewhere := leftBehind(t, dir, "0badcafe", ended(), map[string]string{".c.txt1": "on another computer"})
	require.NoError(t, os.Mkdir(filepath.Join(dir, ".undercoat-of-mine"), 0o700))
	require.NoError(t, os.WriteFile(filepath.Join(dir, ".undercoat-0-1-file"), nil, 0o600))

	require.NoError(t, Tidy(dir))
	requireFolder(t, dir, "a.txt", filepath.Base(at), filepath.Base(elsewhere), ".undercoat-of-mine", ".undercoat-0-1-file")
	requireText(t, filepath.Join(dir, "a.txt"), "old")

	long := time.Now().Add(-25 * time.Hour)
	require.NoError(t, os.Chtimes(elsewhere, long, long))
	require.NoError(t, Tidy(dir))
	requireFolder(t, dir, "a.txt", filepath.Base(at), ".undercoat-of-mine", ".undercoat-0-1-file")
	require.NoError(t, Tidy(filepath.Join(dir, "none")))
}

func TestTidyEndsWhatWasBegun(t *testing.T) {
	const (
		ahead  = `{"direction":"forward","files":[{"hidden":".a1","target":"a","old":"old-a"},{"hidden":".b1","target":"b"}]}`
		behind = `{"direction":"back","files":[{"hidden":".a1","target":"a","old":"old-a","placed":true},{"hidden":".b1","target":"b","placed":true}]}`
		before = `{"direction":"back","files":[{"hidden":".a1","target":"a","old":"old-a"},{"hidden":".b1","target":"b"}]}`
	)
	for _, c := range []struct {
		name   string
		record string
		hidden map[string]string // as they were at the kill
		placed map[string]string
		want   map[string]string
	}{
		{"forward, nothing placed", ahead, map[string]string{".a1": "new", ".b1": "new", "old-a": "old"}, map[string]string{"a": "old"}, map[string]string{"a": "new", "b": "new"}},
		{"forward, moved aside", ahead, map[string]string{".a1": "new", ".b1": "new", "old-a": "old"}, nil, map[string]string{"a": "new", "b": "new"}},
		{"forward, one placed", ahead, map[string]string{".b1": "new", "old-a": "old"}, map[string]string{"a": "new"}, map[string]string{"a": "new", "b": "new"}},
		{"forward, all placed", ahead, map[string]string{"old-a": "old"}, map[string]string{"a": "new", "b": "new"}, map[string]string{"a": "new", "b": "new"}},
		{"no record", "", map[string]string{".a1": "new", "old-a": "old"}, map[string]string{"a": "old"}, map[string]string{"a": "old"}},
		{"no record, moved aside", "", map[string]string{".a1": "new", "old-a": "old"}, nil, map[string]string{"a": "old"}},
		{"half a record", ahead[:50], map[string]string{".a1": "new", "old-a": "old"}, nil, map[string]string{"a": "old"}},
		{"back, all placed", behind, map[string]string{"old-a": "old"}, map[string]string{"a": "new", "b": "new"}, map[string]string{"a": "old"}},
		{"back, one returned", behind, nil, map[string]string{"a": "old"}, map[string]string{"a": "old"}},
		{"back, none placed", before, map[string]string{"old-a": "old"}, map[string]string{"a": "old", "b": "of another"}, map[string]string{"a": "old", "b": "of another"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range c.placed {
				require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600))
			}
			hidden := leftBehind(t, dir, process.Here().Place, ended(), c.hidden)
			if c.record != "" {
				require.NoError(t, os.WriteFile(filepath.Join(hidden, recordName), []byte(c.record), 0o600))
			}
			require.NoError(t, Tidy(dir))
			var names []string
			for name, text := range c.want {
				names = append(names, name)
				requireText(t, filepath.Join(dir, name), text)
			}
			requireFolder(t, dir, names...)
		})
	}
}

// A record cannot reach out of its folder.
func TestTidyStaysInItsFolder(t *testing.T) {
	top := t.TempDir()
	dir := filepath.Join(top, "in")
	require.NoError(t, os.Mkdir(dir, 0o700))
	hidden := leftBehind(t, dir, process.Here().Place, ended(), map[string]string{".a1": "new"})
	require.NoError(t, os.WriteFile(filepath.Join(hidden, recordName), []byte(`{"files":[{"hidden":".a1","target":"../a"}]}`), 0o600))
	require.NoError(t, Tidy(dir))
	requireFolder(t, top, "in")
	requireFolder(t, dir, "a")
}

func TestEveryWriteTidiesFirst(t *testing.T) {
	dir := t.TempDir()
	leftBehind(t, dir, process.Here().Place, ended(), map[string]string{".a1": "half"})
	require.NoError(t, WriteFile(filepath.Join(dir, "a"), false, says("a")))
	requireFolder(t, dir, "a")
	leftBehind(t, dir, process.Here().Place, ended(), map[string]string{".a1": "half"})
	_, err := WriteSet(dir, []Content{{"b", says("b")}, {"c", says("c")}}, false)
	require.NoError(t, err)
	requireFolder(t, dir, "a", "b", "c")
}

func TestASetIsReplacedWhereThereAreNoSecondNames(t *testing.T) {
	// keepOld falls back on moving the file; here its second name is taken.
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "a"), []byte("old"), 0o600))
	set := NewSet(dir, true)
	require.NoError(t, set.Add("a", says("new")))
	require.NoError(t, set.Add("b", says("b")))
	require.NoError(t, os.WriteFile(filepath.Join(set.files[0].hidden, oldPrefix+"a"), nil, 0o600))
	require.NoError(t, set.Commit())
	requireFolder(t, dir, "a", "b")
	requireText(t, filepath.Join(dir, "a"), "new")
}

func TestAFullDiskSaysHowMuchIsNeeded(t *testing.T) {
	dir := smallDisk(t)
	path := filepath.Join(dir, "a.txt")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	large := func(w io.Writer) error {
		for range 100 {
			if _, err := w.Write(make([]byte, 10_000)); err != nil {
				return err
			}
		}
		return nil
	}
	err := WriteFile(path, true, large)
	requireWriteError(t, err, path)
	require.ErrorContains(t, err, "(1000000 bytes are needed in the folder "+dir+"): free some space or choose another disk")
	_, err = WriteSet(dir, []Content{{"b.txt", says("b")}, {"a.txt", large}}, true)
	require.ErrorContains(t, err, "(1000000 bytes are needed in the folder "+dir+")")
	requireText(t, path, "old")
	requireFolder(t, dir, "a.txt")
}

func TestAClosedFolderSaysHowMuchIsNeeded(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions are another matter on Windows")
	}
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))
	if os.Geteuid() == 0 {
		dir = readOnlyDisk(t)
		path = filepath.Join(dir, "a.txt")
	} else {
		require.NoError(t, os.Chmod(dir, 0o500))
		defer os.Chmod(dir, 0o700)
	}
	err := WriteFile(path, true, says("12345"))
	requireWriteError(t, err, path)
	require.ErrorContains(t, err, "(5 bytes are needed in the folder "+dir+"): choose a folder you may write to")
	requireText(t, path, "old")
	cancelled := errors.New("stopped")
	err = WriteFile(path, true, func(io.Writer) error { return cancelled })
	requireWriteError(t, err, path)
	require.NotContains(t, err.Error(), "bytes are needed", "where there are no contents")
}
