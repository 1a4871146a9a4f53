package export

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
)

// WriteFile writes one file whole or not at all: write fills a hidden file in
// the same folder, which is synced, renamed to path, and made lasting by a sync
// of the folder. If write fails, nothing is left behind and an older file at
// path stays as it was.
//
// Without force an existing file is refused, before write is called and once
// more before the rename. With force the file behind a symbolic link is
// replaced, not the link. A folder or device is never replaced; the folder must
// exist. What goes wrong with the file is a [*WriteError]; an error of write's
// own is returned as it came.
func WriteFile(path string, force bool, write func(io.Writer) error) error {
	s, err := stage(path, force, write)
	if err != nil {
		return err
	}
	return commit(filepath.Dir(s.target), []*staged{s}, force)
}

// pending is a hidden temporary file that can take the place of another.
type pending interface {
	io.Writer
	CloseAtomicallyReplace() error // sync, close, rename
	Cleanup() error                // remove, unless renamed
}

// staged is a complete file which still has its hidden name.
type staged struct {
	path   string // as asked for, for messages
	target string // where it goes: path with symbolic links followed
	file   pending
	backup string // where the file it replaced waits, "" if there was none
	placed bool
}

// stage writes the contents of a file under a hidden name beside its place.
func stage(path string, force bool, write func(io.Writer) error) (*staged, error) {
	target, err := destination(path, force)
	if err != nil {
		return nil, writeError(path, err)
	}
	file, err := newPending(target)
	if errors.Is(err, os.ErrNotExist) {
		err = fmt.Errorf("the folder %s does not exist: make it first or choose another", filepath.Dir(path))
	}
	if err != nil {
		return nil, writeError(path, err)
	}
	watched := &watchedWriter{w: file}
	if err := callWrite(write, watched, file); err != nil {
		if watched.err != nil {
			err = writeError(path, watched.err)
		}
		return nil, errors.Join(err, writeError(path, file.Cleanup()))
	}
	return &staged{path: path, target: target, file: file}, nil
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

// commit gives every staged file its name, or none: when one fails, those before
// it are taken back and what they replaced returns. Only a crash of the computer
// between two renames can leave some of them placed; none is ever half a file.
func commit(dir string, files []*staged, force bool) error {
	for _, s := range files {
		if err := s.place(force, len(files) > 1); err != nil {
			return errors.Join(writeError(s.path, err), undo(files))
		}
	}
	if err := syncFolder(dir); err != nil {
		return errors.Join(writeError(dir, err), undo(files))
	}
	for _, s := range files {
		if s.backup != "" {
			_ = os.Remove(s.backup) // the new file stands; an old one left hidden does no harm
		}
	}
	return nil
}

// place renames the staged file to its name; with keep it first moves a file it
// replaces aside, so that it can be brought back.
func (s *staged) place(force, keep bool) error {
	if _, err := destination(s.path, force); err != nil {
		return err
	}
	if keep {
		if err := s.moveOldAside(); err != nil {
			return err
		}
	}
	if err := s.file.CloseAtomicallyReplace(); err != nil {
		return err
	}
	s.placed = true
	return nil
}

func (s *staged) moveOldAside() error {
	if _, err := os.Lstat(s.target); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	aside, err := os.CreateTemp(filepath.Dir(s.target), "."+filepath.Base(s.target)+".old*")
	if err != nil {
		return err
	}
	if err := errors.Join(aside.Close(), os.Rename(s.target, aside.Name())); err != nil {
		return errors.Join(err, os.Remove(aside.Name()))
	}
	s.backup = aside.Name()
	return nil
}

// undo takes back every file of a commit that failed, the last first.
func undo(files []*staged) error {
	var errs []error
	for i := len(files) - 1; i >= 0; i-- {
		errs = append(errs, files[i].takeBack())
	}
	return errors.Join(errs...)
}

// takeBack may be called again; it then finds nothing to do.
func (s *staged) takeBack() error {
	var err error
	switch {
	case s.backup != "":
		err = os.Rename(s.backup, s.target)
	case s.placed:
		err = os.Remove(s.target)
	}
	s.placed, s.backup = false, ""
	return writeError(s.path, errors.Join(err, s.file.Cleanup()))
}
