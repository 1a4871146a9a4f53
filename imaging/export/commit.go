package export

import (
	"errors"
	"os"
	"path/filepath"
)

// commit gives every staged file its name, or none: when one fails, those before
// it are taken back and what they replaced returns. Where there are several, what
// is meant is put on record first, so that a commit which is cut short by a crash
// is ended by the next [Tidy].
func commit(dir string, files []*staged, force bool) error {
	together := len(files) > 1
	if together {
		if err := errors.Join(Tidy(dir), prepareAll(files, force)); err != nil {
			return errors.Join(err, undo(files))
		}
	}
	for _, s := range files {
		if err := s.place(force); err != nil {
			return errors.Join(writeError(s.path, err), undo(files))
		}
	}
	if err := syncFolder(dir); err != nil {
		return errors.Join(writeError(dir, err), undo(files))
	}
	// The new files stand; what is hidden goes with its folder.
	return nil
}

// prepareAll makes every file lasting under its hidden name, keeps what each will
// replace, and puts the commit on record.
func prepareAll(files []*staged, force bool) error {
	for _, s := range files {
		_, err := destination(s.path, force)
		if err == nil {
			err = s.file.Sync()
		}
		if err == nil {
			err = s.keepOld()
		}
		if err != nil {
			return writeError(s.path, err)
		}
	}
	return recordAll(files, forward)
}

// place renames the staged file to its name.
func (s *staged) place(force bool) error {
	// Where the old one waits hidden and not in its place, it is no reason to refuse.
	if _, err := destination(s.path, force || s.backup != ""); err != nil {
		return err
	}
	if err := s.file.CloseAtomicallyReplace(); err != nil {
		return err
	}
	s.placed = true
	return nil
}

// keepOld gives the file that will be replaced a second name, hidden. Where the
// file system knows no second names it is moved there.
func (s *staged) keepOld() error {
	if _, err := os.Lstat(s.target); errors.Is(err, os.ErrNotExist) {
		return nil
	}
	backup := filepath.Join(s.hidden, oldPrefix+filepath.Base(s.target))
	if os.Link(s.target, backup) != nil {
		if err := os.Rename(s.target, backup); err != nil {
			return err
		}
	}
	s.backup = backup
	return nil
}

// undo takes back every file of a commit that failed, the last first.
func undo(files []*staged) error {
	var errs []error
	if len(files) > 0 && files[0].recorded {
		errs = append(errs, recordAll(files, back))
	}
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
