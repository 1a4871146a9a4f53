package export

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteFile writes one file whole or not at all: write fills a file in a hidden
// folder beside it, which is synced, renamed to path, and made lasting by a sync
// of the folder. If write fails, nothing is left behind and an older file at
// path stays as it was. What a killed process left there is cleared first: see
// [Tidy].
//
// Without force an existing file is refused, before write is called and once
// more before the rename. With force the file behind a symbolic link is
// replaced, not the link. A folder or device is never replaced; the folder must
// exist. What goes wrong with the file is a [*WriteError]; an error of write's
// own is returned as it came.
func WriteFile(path string, force bool, write func(io.Writer) error) error {
	var at hiding
	defer at.clear() // also when write panics
	s, err := stage(path, force, &at, write)
	if err != nil {
		return err
	}
	return commit(filepath.Dir(s.target), []*staged{s}, force)
}

// pending is a hidden temporary file that can take the place of another.
type pending interface {
	io.Writer
	Name() string
	Sync() error
	CloseAtomicallyReplace() error // sync, close, rename
	Cleanup() error                // remove, unless renamed
}

// staged is a complete file which still has its hidden name.
type staged struct {
	path   string // as asked for, for messages
	target string // where it goes: path with symbolic links followed
	hidden string // the folder that it waits in
	file   pending
	backup string // where the file it replaced waits, "" if there was none
	placed bool
	// recorded says that the commit which it belongs to counts as done after a crash.
	recorded bool
}

// stage writes the contents of a file under a hidden name beside its place.
func stage(path string, force bool, at *hiding, write func(io.Writer) error) (*staged, error) {
	target, err := destination(path, force)
	if err != nil {
		return nil, writeError(path, err)
	}
	hidden, err := at.beside(filepath.Dir(target))
	var file pending
	if err == nil {
		file, err = newPending(target, hidden)
	}
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("the folder %s does not exist: make it first or choose another", filepath.Dir(path))
	}
	if err != nil {
		return nil, withNeed(writeError(path, err), write)
	}
	watched := &watchedWriter{w: file}
	if err := callWrite(write, watched, file); err != nil {
		if watched.err != nil {
			err = withNeed(writeError(path, watched.err), write)
		}
		return nil, errors.Join(err, writeError(path, file.Cleanup()))
	}
	return &staged{path: path, target: target, hidden: hidden, file: file}, nil
}

// callWrite removes the hidden file even if write panics.
func callWrite(write func(io.Writer) error, w io.Writer, file pending) error {
	returned := false
	defer func() {
		if !returned {
			_ = file.Cleanup() // the panic says more
		}
	}()
	err := write(w)
	returned = true
	return err
}

// CheckFree tells as a [*WriteError] why a file could not be written at path for what
// is there already, as [WriteFile] would.
func CheckFree(path string, force bool) error {
	_, err := destination(path, force)
	return writeError(path, err)
}

// destination follows symbolic links and refuses what must not be replaced.
func destination(path string, force bool) (string, error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return path, nil
	case err != nil:
		return "", err
	case info.IsDir():
		return "", errors.New("it is a folder: choose a file name")
	case !info.Mode().IsRegular():
		return "", errors.New("it is not an ordinary file: choose another name")
	case !force:
		return "", errExists
	}
	return filepath.EvalSymlinks(path)
}

// watchedWriter remembers that it was the file which failed.
type watchedWriter struct {
	w   io.Writer
	err error
}

func (t *watchedWriter) Write(p []byte) (int, error) {
	n, err := t.w.Write(p)
	if err != nil {
		t.err = err
	}
	return n, err
}
