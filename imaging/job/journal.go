package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/folders"
	"undercoat/imaging/process"
	"undercoat/imaging/strict"
)

// The kind and version of a journal's snapshots.
const (
	journalKind    = "undercoat-journal"
	journalVersion = 1
)

const (
	snapshotName = "snapshot.json"
	partsFolder  = "parts" // pictures, fonts and photographs, by checksum
)

// Journal keeps the state of one open job in the user's state folder while it is
// worked on, so that a crash loses nothing: each [Journal.Write] replaces the one
// before, whole or not at all, and a picture is written once however often the job
// changes. It is for one goroutine at a time.
type Journal struct {
	dir  string
	of   string
	lock *Lock
}

// snapshot is what stands in a journal.
type snapshot struct {
	Kind     string          `json:"kind"`
	Version  int             `json:"version"`
	Of       string          `json:"of"` // the path of the job's file, empty for one never saved
	Document json.RawMessage `json:"document"`
}

func journalFolder() string { return filepath.Join(folders.State(), "journal") }

// OpenJournal begins the journal of the job whose file is at path, or of one that
// was never saved: an empty path. Drop it when the job is saved or let go.
func OpenJournal(path string) (*Journal, error) {
	if path != "" {
		whole, err := filepath.Abs(path)
		if err != nil {
			return nil, fmt.Errorf("the folder of %s cannot be told (%w): open the job by its whole path", path, err)
		}
		path = whole
	}
	top := journalFolder()
	if err := os.MkdirAll(top, 0o700); err != nil {
		return nil, lockError(top, err)
	}
	dir := filepath.Join(top, process.Token())
	lock, err := LockFile(dir)
	if err != nil {
		return nil, err
	}
	return &Journal{dir: dir, of: path, lock: lock}, nil
}

// Write keeps the job as it is now. A job that is not valid is refused, and what
// was kept before stays.
func (n *Journal) Write(j *Job) error {
	d := j.Document
	if err := d.Validate(); err != nil {
		return err
	}
	doc, err := json.Marshal(d)
	if err != nil {
		return fmt.Errorf("writing the journal: %w", err)
	}
	data, err := json.Marshal(snapshot{journalKind, journalVersion, n.of, doc})
	if err != nil {
		return fmt.Errorf("writing the journal: %w", err)
	}
	parts := filepath.Join(n.dir, partsFolder)
	if err := os.MkdirAll(parts, 0o700); err != nil {
		return lockError(n.dir, err)
	}
	contents := j.parts()
	for _, sum := range slices.Sorted(maps.Keys(contents)) {
		path := filepath.Join(parts, sum)
		if _, err := os.Stat(path); err == nil {
			continue // it appeared whole, and its name is its checksum
		}
		if err := writeBytes(path, contents[sum]); err != nil {
			return err
		}
	}
	if err := writeBytes(filepath.Join(n.dir, snapshotName), data); err != nil {
		return err
	}
	return removeParts(parts, contents)
}

// Drop ends the journal and forgets what it kept.
func (n *Journal) Drop() error {
	return errors.Join(dropFolder(n.dir), n.lock.Release())
}

// parts are the bytes that a job keeps beside its document, by their checksums.
func (j *Job) parts() map[string][]byte {
	out := map[string][]byte{}
	if j.Document.HasPicture() {
		out[j.Document.Picture.SHA256] = j.Picture
	}
	for _, f := range j.Document.Fonts {
		out[f.SHA256] = j.Fonts[f.Name]
	}
	for _, f := range j.Document.Finished {
		out[f.SHA256] = j.Photos[f.SHA256]
	}
	return out
}

// removeParts takes away those that no snapshot speaks of any more.
func removeParts(dir string, keep map[string][]byte) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return lockError(dir, err)
	}
	for _, e := range entries {
		if _, ok := keep[e.Name()]; !ok && !e.IsDir() {
			_ = os.Remove(filepath.Join(dir, e.Name())) // one too many does no harm
		}
	}
	return nil
}

func writeBytes(path string, data []byte) error {
	return export.WriteFile(path, true, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

func dropFolder(dir string) error {
	// The snapshot goes first: without it the rest is nothing.
	_ = os.Remove(filepath.Join(dir, snapshotName))
	if err := os.RemoveAll(dir); err != nil {
		return lockError(dir, err)
	}
	return nil
}

// Leftover is a job that was being worked on when the program ended unasked.
type Leftover struct {
	Of    string    // the path of its file, empty for one that was never saved
	Name  string    // the job's own, as far as it can be read
	Saved time.Time // when it was last kept
	dir   string
}

// Leftovers lists what crashes have left, the newest first. Jobs that are open in
// another window are not among them.
func Leftovers() ([]Leftover, error) {
	top := journalFolder()
	entries, err := os.ReadDir(top)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, fmt.Errorf("the journals in %s cannot be listed (%w): check that the folder may be read", top, err)
	}
	var out []Leftover
	for _, e := range entries {
		if !e.IsDir() || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		dir := filepath.Join(top, e.Name())
		if _, stale, err := look(lockPath(dir)); !stale && !errors.Is(err, fs.ErrNotExist) {
			continue
		}
		l := Leftover{dir: dir}
		info, err := os.Stat(filepath.Join(dir, snapshotName))
		if err != nil {
			_ = l.Drop() // it ended before anything was kept
			continue
		}
		l.Saved = info.ModTime()
		if s, err := readSnapshot(dir); err == nil {
			var d struct{ Name string }
			_ = json.Unmarshal(s.Document, &d)
			l.Of, l.Name = s.Of, d.Name
		}
		out = append(out, l)
	}
	slices.SortFunc(out, func(a, b Leftover) int { return b.Saved.Compare(a.Saved) })
	return out, export.Tidy(top)
}

// Job reads what was kept, as strictly as any job.
func (l Leftover) Job() (*Job, error) {
	s, err := readSnapshot(l.dir)
	if err != nil {
		return nil, err
	}
	d, err := ParseDocument(s.Document)
	if err != nil {
		return nil, fmt.Errorf("the journal of %q: %w", l.Name, err)
	}
	return withParts(d, func(_ string, most int, checksum string) ([]byte, error) {
		data, err := ReadBytes(filepath.Join(l.dir, partsFolder, filepath.Base(checksum)))
		if err == nil && (len(data) > most || Checksum(data) != checksum) {
			err = errors.New("it is not what its checksum says: the journal is damaged, open the job's own file")
		}
		return data, err
	})
}

// Drop forgets it.
func (l Leftover) Drop() error {
	return errors.Join(dropFolder(l.dir), ignoreMissing(os.Remove(lockPath(l.dir))))
}

func readSnapshot(dir string) (snapshot, error) {
	var s snapshot
	data, err := ReadBytes(filepath.Join(dir, snapshotName))
	if err != nil {
		return s, err
	}
	if err := strict.Decode(data, &s); err != nil {
		return s, fmt.Errorf("journal: %w", err)
	}
	if s.Kind != journalKind || s.Version != journalVersion {
		return s, fmt.Errorf("journal: kind is %q and version %d: open it with the Undercoat that wrote it", s.Kind, s.Version)
	}
	return s, nil
}
