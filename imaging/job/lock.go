package job

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/process"
)

// A lock's holder touches it so often; one left alone for longer than lockAge is
// taken over, wherever its holder is: a computer that slept or lost its network.
const (
	lockBeat = 5 * time.Second
	lockAge  = 60 * time.Second
)

// Lock says that this process works on a file, so that no other does at the same
// time: it is a hidden file beside it, which everybody who can see the folder can
// see, on other computers too. It may be used by several goroutines.
type Lock struct {
	path string
	mark lockMark
	lost chan struct{}
	stop chan struct{}
	done sync.WaitGroup
	once sync.Once
}

// lockMark is what stands in the lock file.
type lockMark struct {
	process.Mark
	Token string    `json:"token"` // of this lock and no other
	Since time.Time `json:"since"`
}

// LockedError tells that another process works on a file.
type LockedError struct {
	Path    string // of the file
	Process int
	Host    string
	Since   time.Time
}

func (e *LockedError) Error() string {
	return fmt.Sprintf("%s is in use by process %d on %s since %s: close it there first", e.Path, e.Process, e.Host, e.Since.Local().Format("15:04 on 2 January"))
}

// lockPath is where the lock of the file at path lies.
func lockPath(path string) string {
	return filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+".lock")
}

// LockFile takes the lock of the file at path, which need not exist. It is a
// [*LockedError] while another process holds it, or this one does, and an
// [*export.WriteError] where the folder takes no lock. A lock whose holder has
// ended is taken over, and so is one that nobody has touched for a minute. What
// killed processes left in the folder is cleared: see [export.Tidy].
func LockFile(path string) (*Lock, error) {
	l := &Lock{
		path: lockPath(path),
		mark: lockMark{Mark: process.Here(), Token: process.Token(), Since: time.Now().UTC().Truncate(time.Second)},
		lost: make(chan struct{}), stop: make(chan struct{}),
	}
	for range 3 { // each time another may be quicker
		err := l.create()
		if err == nil {
			l.done.Go(l.beat)
			return l, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, lockError(l.path, err)
		}
		held, stale, err := look(l.path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			continue // given back meanwhile
		case err != nil:
			return nil, lockError(l.path, err)
		case !stale:
			return nil, &LockedError{path, held.PID, held.Host, held.Since}
		}
		if err := l.takeAway(held); err != nil {
			return nil, lockError(l.path, err)
		}
	}
	return nil, &LockedError{Path: path, Host: "another computer or window", Since: time.Now()}
}

func (l *Lock) create() error {
	data, err := json.Marshal(l.mark)
	if err != nil {
		return err
	}
	return export.CreateNew(l.path, append(data, '\n'))
}

// look reads a lock and tells whether it may be taken over.
func look(path string) (held lockMark, stale bool, err error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return held, false, err
	}
	// A lock that cannot be read has no holder who could be asked: it goes by its age.
	readable := json.Unmarshal(data, &held) == nil
	if readable && held.Gone() {
		return held, true, nil
	}
	info, err := os.Stat(path)
	if err != nil {
		return held, false, err
	}
	now, err := export.FolderTime(filepath.Dir(path))
	return held, now.Sub(info.ModTime()) > lockAge, err
}

// takeAway removes a lock that was found stale, if it is still the same. Of those
// who find it at the same time one alone may: the guard is theirs to take.
func (l *Lock) takeAway(stale lockMark) error {
	guard := &Lock{path: l.path + "-taking", mark: l.mark}
	err := guard.create()
	if errors.Is(err, fs.ErrExist) {
		if _, abandoned, err := look(guard.path); err != nil || !abandoned {
			return ignoreMissing(err)
		}
		return ignoreMissing(os.Remove(guard.path)) // its holder ended within these few lines
	}
	if err != nil {
		return err
	}
	defer os.Remove(guard.path)
	held, is, err := look(l.path)
	if err != nil || !is || held.Token != stale.Token {
		return ignoreMissing(err)
	}
	return ignoreMissing(os.Remove(l.path))
}

// beat touches the lock until it is given back, and notices when it is another's.
func (l *Lock) beat() {
	ticks := time.NewTicker(lockBeat)
	defer ticks.Stop()
	for {
		select {
		case <-l.stop:
			return
		case <-ticks.C:
			if !l.touch() {
				close(l.lost)
				return
			}
		}
	}
}

// touch writes the lock over with itself, so that the folder's own clock marks it.
func (l *Lock) touch() bool {
	if !l.Held() {
		return false
	}
	f, err := os.OpenFile(l.path, os.O_WRONLY, 0)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist)
	}
	defer f.Close()
	_, _ = f.WriteAt([]byte("{"), 0) // the first byte as it is; one missed beat does no harm
	return true
}

// Held tells whether the lock is still this one's, by looking.
func (l *Lock) Held() bool {
	data, err := os.ReadFile(l.path)
	if err != nil {
		return !errors.Is(err, fs.ErrNotExist) // a network that is away for a moment
	}
	var m lockMark
	return json.Unmarshal(data, &m) == nil && m.Token == l.mark.Token
}

// Lost is closed when another process has taken the lock over, which happens only
// after this one has been asleep for a minute.
func (l *Lock) Lost() <-chan struct{} { return l.lost }

// Release gives the lock back. It may be called more than once.
func (l *Lock) Release() error {
	var err error
	l.once.Do(func() {
		close(l.stop)
		l.done.Wait()
		if l.Held() {
			err = ignoreMissing(os.Remove(l.path))
		}
	})
	if err != nil {
		return lockError(l.path, err)
	}
	return nil
}

// ClearLock takes the lock of the file at path away if its holder has ended; it does
// nothing where there is none, or where it is held.
func ClearLock(path string) error {
	if _, err := os.Stat(lockPath(path)); err != nil {
		return nil
	}
	l, err := LockFile(path)
	if err != nil {
		return nil // it is held, or the folder takes no locks and so has none
	}
	return l.Release()
}

func ignoreMissing(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return err
}

// lockError is that of a folder which takes no lock.
func lockError(path string, err error) error {
	var done *export.WriteError
	if errors.As(err, &done) {
		return err
	}
	var at *fs.PathError
	if errors.As(err, &at) {
		err = at.Err
	}
	return &export.WriteError{Path: path, Err: err}
}
