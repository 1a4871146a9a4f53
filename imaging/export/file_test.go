package export

import (
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
)

func says(text string) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	}
}

// requireFolder wants exactly these names in dir, hidden ones included.
func requireFolder(t *testing.T, dir string, names ...string) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	got := []string{}
	for _, e := range entries {
		got = append(got, e.Name())
	}
	require.ElementsMatch(t, names, got)
}

func requireText(t *testing.T, path, want string) {
	t.Helper()
	got, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, want, string(got))
}

func requireWriteError(t *testing.T, err error, path string) {
	t.Helper()
	var we *WriteError
	require.ErrorAs(t, err, &we)
	require.Equal(t, path, we.Path)
	require.Contains(t, err.Error(), "cannot write "+path)
}

func TestWriteFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	require.NoError(t, WriteFile(path, false, func(w io.Writer) error {
		require.NoFileExists(t, path, "not under its name before it is whole")
		return says("one")(w)
	}))
	requireText(t, path, "one")
	requireFolder(t, dir, "a.txt")
}

func TestWriteFileDoesNotOverwrite(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	require.NoError(t, os.WriteFile(path, []byte("old"), 0o600))

	called := false
	err := WriteFile(path, false, func(io.Writer) error { called = true; return nil })
	requireWriteError(t, err, path)
	require.ErrorIs(t, err, fs.ErrExist)
	require.ErrorContains(t, err, "it exists already: choose another name or allow it to be overwritten")
	require.False(t, called, "refused before the work")
	requireText(t, path, "old")

	require.NoError(t, WriteFile(path, true, says("new")))
	requireText(t, path, "new")
	requireFolder(t, dir, "a.txt")
}

func TestWriteFileYieldsToAFileThatCameMeanwhile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	err := WriteFile(path, false, func(w io.Writer) error {
		require.NoError(t, os.WriteFile(path, []byte("theirs"), 0o600))
		return says("ours")(w)
	})
	require.ErrorIs(t, err, fs.ErrExist)
	requireText(t, path, "theirs")
	requireFolder(t, dir, "a.txt")
}

func TestWriteFileLeavesNothingBehind(t *testing.T) {
	broken := errors.New("no picture")
	cancelled, cancel := context.WithCancel(t.Context())
	cancel()
	for _, c := range []struct {
		name  string
		write func(io.Writer) error
		want  error
	}{
		{"error at once", func(io.Writer) error { return broken }, broken},
		{"error half way", func(w io.Writer) error { return errors.Join(says("half")(w), broken) }, broken},
		{"cancelled", func(w io.Writer) error { return says("half")(UntilDone(cancelled, w)) }, context.Canceled},
	} {
		for _, old := range []string{"", "old"} {
			t.Run(c.name+" over "+old, func(t *testing.T) {
				dir := t.TempDir()
				path := filepath.Join(dir, "a.txt")
				if old != "" {
					require.NoError(t, os.WriteFile(path, []byte(old), 0o600))
				}
				err := WriteFile(path, true, c.write)
				require.ErrorIs(t, err, c.want)
				var we *WriteError
				require.False(t, errors.As(err, &we), "the contents failed, not the file")
				if old == "" {
					requireFolder(t, dir)
				} else {
					requireFolder(t, dir, "a.txt")
					requireText(t, path, old)
				}
			})
		}
	}
}

func TestWriteFileLeavesNothingBehindAPanic(t *testing.T) {
	dir := t.TempDir()
	require.Panics(t, func() {
		_ = WriteFile(filepath.Join(dir, "a.txt"), false, func(io.Writer) error { panic("a mistake") })
	})
	requireFolder(t, dir)
}

func TestWriteFileTellsTheFilesErrorsFromTheContents(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.txt")
	err := WriteFile(path, false, func(w io.Writer) error {
		require.NoError(t, w.(*watchedWriter).w.(io.Closer).Close()) // as if the disk had gone
		return says("text")(w)
	})
	requireWriteError(t, err, path)
	require.ErrorIs(t, err, os.ErrClosed)
	requireFolder(t, dir)
}

func TestWriteFileRefusesPlacesThatAreNoFile(t *testing.T) {
	dir := t.TempDir()
	for _, c := range []struct{ name, path, want string }{
		{"a folder", dir, "it is a folder: choose a file name"},
		{"a device", os.DevNull, "not an ordinary file"},
		{"in a missing folder", filepath.Join(dir, "none", "a.txt"), "does not exist: make it first"},
	} {
		t.Run(c.name, func(t *testing.T) {
			err := WriteFile(c.path, true, says("text"))
			requireWriteError(t, err, c.path)
			require.ErrorContains(t, err, c.want)
		})
	}
	requireFolder(t, dir)
}

func TestWriteFileBelowAFile(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "file"), nil, 0o600))
	path := filepath.Join(dir, "file", "a.txt")
	requireWriteError(t, WriteFile(path, true, says("text")), path)
}

func TestWriteFileInAFolderClosedToUs(t *testing.T) {
	if runtime.GOOS == "windows" || os.Geteuid() == 0 {
		t.Skip("needs a user whom permissions bind: skipped for an administrator and on Windows")
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o500))
	defer os.Chmod(dir, 0o700)
	err := WriteFile(filepath.Join(dir, "a.txt"), false, says("text"))
	require.ErrorIs(t, err, fs.ErrPermission)
	require.ErrorContains(t, err, "choose a folder you may write to")
}

func TestWriteFileKeepsPermissionsAndLinks(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("permissions and links are another matter on Windows")
	}
	dir := t.TempDir()
	real, link := filepath.Join(dir, "real.txt"), filepath.Join(dir, "link.txt")
	require.NoError(t, os.WriteFile(real, []byte("old"), 0o640))
	require.NoError(t, os.Chmod(real, 0o640))
	require.NoError(t, os.Symlink("real.txt", link))
	require.NoError(t, WriteFile(link, true, says("new")))
	requireText(t, real, "new")
	to, err := os.Readlink(link)
	require.NoError(t, err)
	require.Equal(t, "real.txt", to)
	info, err := os.Stat(real)
	require.NoError(t, err)
	require.Equal(t, fs.FileMode(0o640), info.Mode().Perm())
}

func TestNewFilesGetOrdinaryPermissions(t *testing.T) {
	dir := t.TempDir()
	plain, ours := filepath.Join(dir, "plain"), filepath.Join(dir, "ours")
	file, err := os.Create(plain)
	require.NoError(t, err)
	require.NoError(t, file.Close())
	require.NoError(t, WriteFile(ours, false, says("text")))
	want, err := os.Stat(plain)
	require.NoError(t, err)
	got, err := os.Stat(ours)
	require.NoError(t, err)
	require.Equal(t, want.Mode(), got.Mode())
}
