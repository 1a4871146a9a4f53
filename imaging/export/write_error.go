package export

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
)

// WriteError tells that a file or folder could not be written, as apart from an
// error in what was to be written. The command line ends with code 4 on it.
type WriteError struct {
	Path string
	Err  error
	Need int64 // bytes that the file takes, where the folder had no place for it; else 0
}

// Error names the path, the cause and, for a cause from the system, what to do.
func (e *WriteError) Error() string {
	need := ""
	if e.Need > 0 {
		need = fmt.Sprintf(" (%d bytes are needed in the folder %s)", e.Need, filepath.Dir(e.Path))
	}
	return fmt.Sprintf("cannot write %s: %v%s%s", e.Path, e.Err, need, advice(e.Err))
}

// advice is the way out of a system's refusal; causes of this package's own say
// it themselves.
func advice(err error) string {
	switch {
	case isClosed(err):
		return ": choose a folder you may write to"
	case isFull(err):
		return ": free some space or choose another disk"
	case errors.As(err, new(syscall.Errno)):
		return ": choose another place"
	}
	return ""
}

// Unwrap gives the cause, so that errors.Is(err, fs.ErrExist) tells a refusal to
// overwrite from the rest.
func (e *WriteError) Unwrap() error { return e.Err }

// errExists is the refusal to overwrite.
var errExists = fmt.Errorf("%w already: choose another name or allow it to be overwritten", existing{})

// existing reads well in a sentence and is fs.ErrExist to errors.Is.
type existing struct{}

func (existing) Error() string        { return "it exists" }
func (existing) Is(target error) bool { return target == fs.ErrExist }

// writeError wraps a cause that is not yet a *WriteError. A cause from the system
// loses its own mention of the path, which may be a hidden temporary name.
func writeError(path string, err error) error {
	var done *WriteError
	if err == nil || errors.As(err, &done) {
		return err
	}
	var one *fs.PathError
	var two *os.LinkError
	switch {
	case errors.As(err, &one):
		err = one.Err
	case errors.As(err, &two):
		err = two.Err
	}
	return &WriteError{Path: path, Err: err}
}
