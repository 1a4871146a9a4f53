//go:build windows

package export

import (
	"os"
	"path/filepath"
)

// windowsPending is a hidden file beside path which takes its place when closed.
type windowsPending struct {
	*os.File
	path string
	done bool
}

// newPending opens such a file.
func newPending(path, hidden string) (pending, error) {
	file, err := os.CreateTemp(hidden, "."+filepath.Base(path)+"*")
	if err != nil {
		return nil, err
	}
	return &windowsPending{File: file, path: path}, nil
}

// CloseAtomicallyReplace syncs the file and renames it to its path; on this
// system a rename replaces what was there.
func (p *windowsPending) CloseAtomicallyReplace() error {
	if err := p.Sync(); err != nil {
		return err
	}
	if err := p.File.Close(); err != nil {
		return err
	}
	if err := os.Rename(p.Name(), p.path); err != nil {
		return err
	}
	p.done = true
	return nil
}

// Cleanup removes the file unless it has taken its place.
func (p *windowsPending) Cleanup() error {
	if p.done {
		return nil
	}
	p.done = true
	_ = p.File.Close() // closed already if the rename was what failed
	return os.Remove(p.Name())
}

// syncFolder does nothing: a folder cannot be synced on this system.
func syncFolder(string) error { return nil }
