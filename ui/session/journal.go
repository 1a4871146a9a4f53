package session

import (
	"context"
	"path/filepath"
	"sync"
	"time"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

// Journal is where a job is kept against a crash: see [job.Journal].
type Journal interface {
	Write(*job.Job) error
	Drop() error
}

// Keeper keeps the unsaved changes of a session in a journal. What goes wrong is told
// and nothing else comes of it: the work goes on.
type Keeper struct {
	session *Session
	open    func(path string) (Journal, error)
	pause   time.Duration
	failed  func(error)

	wakes  chan struct{}
	cancel func() // of the subscription
	stop   context.CancelFunc
	ended  sync.WaitGroup

	mu      sync.Mutex // one writes at a time
	journal Journal    // nil: nothing is kept
	of      string     // the path that the journal is for
}

// Keep begins to keep the session's changes, each at the latest a pause after it was
// made. open begins the journal of the job at a path, which is empty for one that was
// never saved; failed is called from the keeper's goroutine.
func (s *Session) Keep(open func(path string) (Journal, error), pause time.Duration, failed func(error)) *Keeper {
	ctx, stop := context.WithCancel(context.Background())
	k := &Keeper{session: s, open: open, pause: pause, failed: failed, wakes: make(chan struct{}, 1), stop: stop}
	k.cancel = s.Subscribe(func() {
		select {
		case k.wakes <- struct{}{}:
		default:
		}
	})
	k.ended.Go(func() { k.run(ctx) })
	return k
}

func (k *Keeper) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-k.wakes:
		}
		timer := time.NewTimer(k.pause)
		select {
		case <-ctx.Done():
			timer.Stop()
			return
		case <-timer.C:
		}
		if err := k.Flush(); err != nil {
			k.failed(err)
		}
	}
}

// Flush keeps the job as it is now; one that is saved needs no journal.
func (k *Keeper) Flush() error {
	k.mu.Lock()
	defer k.mu.Unlock()
	s := k.session
	path := s.Path()
	if !s.Dirty() {
		return k.drop()
	}
	if k.journal != nil && k.of != path {
		if err := k.drop(); err != nil {
			return err
		}
	}
	if k.journal == nil {
		journal, err := k.open(path)
		if err != nil {
			return err
		}
		k.journal, k.of = journal, path
	}
	j, _ := s.Job()
	return k.journal.Write(j)
}

func (k *Keeper) drop() error {
	if k.journal == nil {
		return nil
	}
	journal := k.journal
	k.journal = nil
	return journal.Drop()
}

// Close ends the keeping and forgets what was kept: the job was saved or let go.
func (k *Keeper) Close() error {
	k.cancel()
	k.stop()
	k.ended.Wait()
	k.mu.Lock()
	defer k.mu.Unlock()
	return k.drop()
}

// Restore puts a job that a crash left in place of this one. It counts as unsaved; path
// is its file, empty if it never had one. It is a [*job.LockedError] where another
// window has that file.
func (s *Session) Restore(ctx context.Context, j *job.Job, pic *picture.Picture, path string) error {
	if err := j.Document.CheckCrop(pic); err != nil {
		return err
	}
	var h hold
	if path != "" {
		var err error
		if h, err = newHold(filepath.Clean(path)); err != nil {
			return err
		}
	}
	err := s.replace(ctx, stateOf(j, pic), job.Document{}, h)
	if err != nil {
		h.release(s.holding())
	}
	return err
}
