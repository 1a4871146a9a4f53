package export

import (
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// What a hidden folder holds besides the files that wait in it.
const (
	recordName = "record.json"
	oldPrefix  = "old-"
)

// abandoned is how long a hidden folder of a process that cannot be seen from here,
// on another computer, is let alone.
const abandoned = 24 * time.Hour

// direction is which way a commit goes.
type direction string

const (
	forward direction = "forward"
	back    direction = "back"
)

// record is a commit of several files, as it stands in a hidden folder: from the
// moment it is there the commit counts as done.
type record struct {
	Direction direction   `json:"direction"`
	Files     []recordOne `json:"files"`
}

type recordOne struct {
	Hidden string `json:"hidden"`        // its name in the hidden folder
	Target string `json:"target"`        // its name in the folder above
	Old    string `json:"old,omitempty"` // the hidden name of what it replaces
	Placed bool   `json:"placed,omitempty"`
}

// recordAll puts a commit on record in each hidden folder.
func recordAll(files []*staged, way direction) error {
	records := map[string]record{}
	for _, s := range files {
		r := records[s.hidden]
		r.Direction = way
		one := recordOne{Hidden: filepath.Base(s.file.Name()), Target: filepath.Base(s.target), Placed: s.placed}
		if s.backup != "" {
			one.Old = filepath.Base(s.backup)
		}
		r.Files = append(r.Files, one)
		records[s.hidden] = r
	}
	for hidden, r := range records {
		if err := r.write(hidden); err != nil {
			return writeError(filepath.Dir(hidden), err)
		}
	}
	for _, s := range files {
		s.recorded = true
	}
	return nil
}

func (r record) write(hidden string) error {
	data, err := json.Marshal(r)
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(hidden, "record")
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	if err := os.Rename(f.Name(), filepath.Join(hidden, recordName)); err != nil {
		return err
	}
	return syncFolder(hidden)
}

// Tidy clears a folder of what a killed process left in it: files that were never
// finished go, and several files that were to appear together and had begun to
// are given their names. Processes that still work are let alone. A folder that
// is not there, or may not be written to, is left as it is without an error.
// Every write into a folder begins with it.
func Tidy(dir string) error {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil // who wants to write there will hear of it
	}
	var errs []error
	for _, e := range entries {
		m, ok := markIn(e.Name())
		if !ok || !e.IsDir() {
			continue
		}
		info, err := e.Info()
		if err == nil && (m.Gone() || time.Since(info.ModTime()) > abandoned) {
			errs = append(errs, settle(dir, filepath.Join(dir, e.Name())))
		}
	}
	err = errors.Join(errs...)
	if errors.Is(err, fs.ErrPermission) {
		return nil
	}
	return writeError(dir, err)
}

// settle ends what was begun in a hidden folder and takes the folder away.
func settle(dir, hidden string) error {
	var r record
	data, err := os.ReadFile(filepath.Join(hidden, recordName))
	if err == nil {
		err = json.Unmarshal(data, &r)
	}
	switch {
	case err != nil: // never put on record: only what was moved aside comes back
		err = restoreMissing(dir, hidden)
	case r.Direction == back:
		err = goBack(dir, hidden, r)
	default:
		err = goForward(dir, hidden, r)
	}
	if err != nil {
		return err // better a hidden folder than a file lost
	}
	return errors.Join(os.RemoveAll(hidden), syncFolder(dir))
}

func restoreMissing(dir, hidden string) error {
	entries, err := os.ReadDir(hidden)
	if err != nil {
		return gone(err)
	}
	for _, e := range entries {
		name, ok := strings.CutPrefix(e.Name(), oldPrefix)
		if !ok {
			continue
		}
		target := filepath.Join(dir, name)
		if _, err := os.Lstat(target); errors.Is(err, fs.ErrNotExist) {
			if err := gone(os.Rename(filepath.Join(hidden, e.Name()), target)); err != nil {
				return err
			}
		}
	}
	return nil
}

func goForward(dir, hidden string, r record) error {
	for _, f := range r.Files {
		err := os.Rename(filepath.Join(hidden, filepath.Base(f.Hidden)), filepath.Join(dir, filepath.Base(f.Target)))
		if err := gone(err); err != nil {
			return err
		}
	}
	return nil
}

func goBack(dir, hidden string, r record) error {
	for _, f := range r.Files {
		target := filepath.Join(dir, filepath.Base(f.Target))
		var err error
		if f.Old != "" {
			err = os.Rename(filepath.Join(hidden, filepath.Base(f.Old)), target)
		} else if f.Placed {
			err = os.Remove(target)
		}
		if err := gone(err); err != nil {
			return err
		}
	}
	return nil
}

// gone lets pass what is not there any more: it was seen to already, maybe by
// another process just now.
func gone(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}
