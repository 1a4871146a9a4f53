package export

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// CreateNew makes a small file that is not there yet, as a sign to others: of
// several who try, one alone succeeds, and the rest get fs.ErrExist. It appears
// with its contents, where the file system gives files second names; elsewhere it
// may be seen empty for a moment. It is not synced: it means nothing after a crash.
func CreateNew(path string, data []byte) error {
	var at hiding
	defer at.clear()
	hidden, err := at.beside(filepath.Dir(path))
	if err != nil {
		return writeError(path, err)
	}
	aside := filepath.Join(hidden, "new")
	if err := os.WriteFile(aside, data, 0o666); err != nil {
		return writeError(path, err)
	}
	err = os.Link(aside, path)
	if err == nil || errors.Is(err, fs.ErrExist) {
		return writeError(path, err)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return writeError(path, err)
	}
	_, err = f.Write(data)
	return writeError(path, errors.Join(err, f.Close()))
}

// FolderTime is what the time is where a folder lies: the clock of the computer
// that keeps it, which need not be this one.
func FolderTime(dir string) (time.Time, error) {
	var at hiding
	defer at.clear()
	hidden, err := at.beside(dir)
	if err != nil {
		return time.Time{}, writeError(dir, err)
	}
	info, err := os.Stat(hidden)
	if err != nil {
		return time.Time{}, writeError(dir, err)
	}
	return info.ModTime(), nil
}
