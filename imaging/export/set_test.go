package export

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSetAppearsTogether(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "deep", "hand-off")
	set := NewSet(dir, false)
	defer set.Discard()
	require.NoDirExists(t, dir)
	require.NoError(t, set.Add("a.txt", says("abc")))
	require.NoError(t, set.Add("b.txt", says("")))
	require.NoFileExists(t, filepath.Join(dir, "a.txt"))
	require.NoError(t, set.Commit())
	requireFolder(t, dir, "a.txt", "b.txt")
	requireText(t, filepath.Join(dir, "a.txt"), "abc")
	require.Equal(t, []string{"a.txt", "b.txt"}, set.Names())
	require.Equal(t, []Entry{
		// Source: NIST, 2015, FIPS 180-4 example values: SHA-256 of "abc" and of nothing (from memory).
		{"a.txt", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
		{"b.txt", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
	}, set.Entries())

	require.NoError(t, set.Discard(), "does nothing after a commit")
	requireFolder(t, dir, "a.txt", "b.txt")
	require.Error(t, set.Commit())
	require.Error(t, set.Add("c.txt", says("")))
}

func TestSetDiscarded(t *testing.T) {
	top := t.TempDir()
	set := NewSet(filepath.Join(top, "x", "y"), false)
	require.NoError(t, set.Add("a.txt", says("a")))
	require.NoError(t, set.Discard())
	requireFolder(t, top)
	require.Error(t, set.Commit())
	require.NoError(t, set.Discard())
}

func TestSetKeepsAFolderThatWasThere(t *testing.T) {
	dir := t.TempDir()
	set := NewSet(dir, false)
	require.NoError(t, set.Add("a.txt", says("a")))
	require.NoError(t, set.Discard())
	requireFolder(t, dir)
}

func TestSetFailsWhole(t *testing.T) {
	broken := errors.New("no proof")
	for _, force := range []bool{false, true} {
		dir := t.TempDir()
		_, err := WriteSet(dir, []Content{
			{"a.txt", says("a")},
			{"b.txt", func(io.Writer) error { return broken }},
		}, force)
		require.ErrorIs(t, err, broken)
		requireFolder(t, dir)
	}
}

func TestSetDoesNotOverwrite(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "b.txt"), []byte("old"), 0o600))
	files := []Content{{"a.txt", says("a")}, {"b.txt", says("b")}}
	_, err := WriteSet(dir, files, false)
	requireWriteError(t, err, filepath.Join(dir, "b.txt"))
	require.ErrorIs(t, err, fs.ErrExist)
	requireFolder(t, dir, "b.txt")

	entries, err := WriteSet(dir, files, true)
	require.NoError(t, err)
	require.Len(t, entries, 2)
	requireFolder(t, dir, "a.txt", "b.txt")
	requireText(t, filepath.Join(dir, "b.txt"), "b")
}

func TestSetTakesBackWhatItPlaced(t *testing.T) {
	dir := t.TempDir()
	old := filepath.Join(dir, "old.txt")
	require.NoError(t, os.WriteFile(old, []byte("old"), 0o600))
	set := NewSet(dir, true)
	require.NoError(t, set.Add("old.txt", says("new")))
	require.NoError(t, set.Add("a.txt", says("a")))
	require.NoError(t, set.Add("b.txt", says("b")))
	require.NoError(t, os.Mkdir(filepath.Join(dir, "b.txt"), 0o700)) // b's place is taken by a folder
	err := set.Commit()
	requireWriteError(t, err, filepath.Join(dir, "b.txt"))
	requireFolder(t, dir, "old.txt", "b.txt")
	requireText(t, old, "old")
}

func TestSetRefusesNames(t *testing.T) {
	dir := t.TempDir()
	set := NewSet(dir, true)
	require.NoError(t, set.Add("a.txt", says("a")))
	for _, name := range []string{"", ".", "..", "a/b", `a\b`, "/a", "../a", "a.txt", "A.TXT"} {
		require.ErrorContains(t, set.Add(name, says("x")), "file name", name)
	}
	require.NoError(t, set.Discard())
	requireFolder(t, dir)
	require.ErrorContains(t, NewSet(dir, true).Commit(), "no file")
}

func TestSetInAPlaceThatIsNoFolder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	require.NoError(t, os.WriteFile(file, nil, 0o600))
	set := NewSet(filepath.Join(file, "x"), true)
	requireWriteError(t, set.Add("a.txt", says("a")), filepath.Join(file, "x"))
	require.NoError(t, set.Discard())
	requireText(t, file, "")
}
