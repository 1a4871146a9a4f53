package export

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
)

// Entry is one file of a hand-off, with the hash by which it can be checked.
type Entry struct {
	Name   string `json:"name"`
	SHA256 string `json:"sha256"` // of the file's bytes, in hex
}

// Set writes a folder of files that appear together or not at all:
//
//	set := export.NewSet(dir, force)
//	defer set.Discard()
//	err := set.Add("raster.png", func(w io.Writer) error { ... })
//	...
//	return set.Commit()
//
// Until Commit the files have hidden names. A Set is for one goroutine.
type Set struct {
	dir      string
	force    bool
	opened   bool
	made     []string // folders made for this set, the outermost first
	hiding   hiding
	files    []*staged
	entries  []Entry
	finished bool
}

var errFinished = errors.New("the set of files is finished: start a new one")

// NewSet prepares to write into dir, which the first Add makes if it is missing
// and which is removed again if the set is discarded. Without force no file of
// the set may exist yet.
func NewSet(dir string, force bool) *Set { return &Set{dir: filepath.Clean(dir), force: force} }

// Add writes one file of the set under a hidden name. name has no folders in it
// and is new to the set. On an error the set is as it was before.
func (s *Set) Add(name string, write func(io.Writer) error) error {
	if s.finished {
		return errFinished
	}
	if !filepath.IsLocal(name) || strings.ContainsAny(name, `/\`) || name == "." {
		return fmt.Errorf("file name %q: must be one plain name without folders", name)
	}
	for _, e := range s.entries {
		if strings.EqualFold(e.Name, name) { // some file systems do not tell them apart
			return fmt.Errorf("file name %q: the set has it already, choose another", name)
		}
	}
	if err := s.open(); err != nil {
		return err
	}
	hash := sha256.New()
	file, err := stage(filepath.Join(s.dir, name), s.force, &s.hiding, func(w io.Writer) error {
		hash.Reset() // where there was no room, the contents are made again to be measured
		return write(io.MultiWriter(w, hash))
	})
	if err != nil {
		return err
	}
	s.files = append(s.files, file)
	s.entries = append(s.entries, Entry{Name: name, SHA256: hex.EncodeToString(hash.Sum(nil))})
	return nil
}

// open makes the folder and notes which folders above it were missing.
func (s *Set) open() error {
	if s.opened {
		return nil
	}
	for up := s.dir; ; up = filepath.Dir(up) {
		if _, err := os.Stat(up); !errors.Is(err, os.ErrNotExist) || up == filepath.Dir(up) {
			break
		}
		s.made = append([]string{up}, s.made...)
	}
	if err := os.MkdirAll(s.dir, 0o777); err != nil {
		return writeError(s.dir, err)
	}
	s.opened = true
	return nil
}

// Names lists the files added so far, in order.
func (s *Set) Names() []string {
	names := make([]string, len(s.entries))
	for i, e := range s.entries {
		names[i] = e.Name
	}
	return names
}

// Entries lists the files added so far with their hashes, in order.
func (s *Set) Entries() []Entry { return append([]Entry(nil), s.entries...) }

// Commit gives every file its name, or none: when one cannot be placed, those
// before it are removed and what they replaced comes back.
func (s *Set) Commit() error {
	if s.finished {
		return errFinished
	}
	if len(s.files) == 0 {
		return errors.New("the set has no file: add one first")
	}
	if err := commit(s.dir, s.files, s.force); err != nil {
		return errors.Join(err, s.Discard())
	}
	s.finished = true
	s.hiding.clear()
	for _, dir := range s.made {
		if err := syncFolder(filepath.Dir(dir)); err != nil {
			return writeError(dir, err)
		}
	}
	return nil
}

// Discard removes what was written, and the folders made for it; after Commit it
// does nothing, so that it may be deferred.
func (s *Set) Discard() error {
	if s.finished {
		return nil
	}
	s.finished = true
	err := undo(s.files)
	s.hiding.clear()
	for i := len(s.made) - 1; i >= 0; i-- {
		_ = os.Remove(s.made[i]) // someone else may have put a file there meanwhile
	}
	return err
}

// Content is a file to be written.
type Content struct {
	Name  string
	Write func(io.Writer) error
}

// WriteSet writes several files into dir, all or none, as [Set] does.
func WriteSet(dir string, files []Content, force bool) ([]Entry, error) {
	set := NewSet(dir, force)
	for _, f := range files {
		if err := set.Add(f.Name, f.Write); err != nil {
			return nil, errors.Join(err, set.Discard())
		}
	}
	if err := set.Commit(); err != nil {
		return nil, err
	}
	return set.Entries(), nil
}
