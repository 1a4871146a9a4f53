package export

import (
	"errors"
	"io"
	"io/fs"
	"runtime"
	"syscall"
)

// withNeed says how large the file would have been, where the place for it was the
// trouble. The contents are made once more for that, and thrown away.
func withNeed(err error, write func(io.Writer) error) error {
	var e *WriteError
	if !errors.As(err, &e) || !(isFull(e.Err) || isClosed(e.Err)) {
		return err
	}
	var n sizeOnly
	if write(&n) == nil {
		e.Need = int64(n)
	}
	return err
}

// isFull tells a disk without room, or a user without.
func isFull(err error) bool {
	const windowsDiskFull = syscall.Errno(112)
	return errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) ||
		runtime.GOOS == "windows" && errors.Is(err, windowsDiskFull)
}

// isClosed tells a folder that may not be written to.
func isClosed(err error) bool {
	return errors.Is(err, fs.ErrPermission) || errors.Is(err, syscall.EROFS)
}

type sizeOnly int64

func (s *sizeOnly) Write(p []byte) (int, error) {
	*s += sizeOnly(len(p))
	return len(p), nil
}
