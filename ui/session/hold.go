package session

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

// hold is the job's file and the lock that keeps other windows from it.
type hold struct {
	path string    // of the job's file, empty before the first save
	lock *job.Lock // nil: there is no file, or its folder takes no locks
}

// LostError tells that the lock of the job's file is gone or another's, so that
// saving may write over what was saved from another window meanwhile.
type LostError struct{ Path string }

func (e *LostError) Error() string {
	return fmt.Sprintf("the lock of %s was lost, another window may have saved it since: save the job under another name", e.Path)
}

// take locks the file at path for this session, which keeps the lock it has on that
// file already. It is a [*job.LockedError] where another window has the file and a
// [*LostError] where this one's lock has gone. A folder that takes no locks gives a
// hold without one.
func (h hold) take(path string) (hold, error) {
	if h.lock != nil && sameFile(h.path, path) {
		if !h.lock.Held() {
			return hold{}, &LostError{path}
		}
		return hold{path, h.lock}, nil
	}
	return newHold(path)
}

// newHold locks the file at path.
func newHold(path string) (hold, error) {
	lock, err := job.LockFile(realPath(path))
	if refused := new(export.WriteError); errors.As(err, &refused) {
		return hold{path: path}, nil // as a disc that may only be read
	}
	if err != nil {
		return hold{}, err
	}
	return hold{path, lock}, nil
}

// release gives the lock back unless another hold goes on with it.
func (h hold) release(next hold) {
	if h.lock != nil && h.lock != next.lock {
		_ = h.lock.Release() // one that stays behind is taken over as a dead process's
	}
}

// sameFile tells whether two paths lead to one file, which need not be there.
func sameFile(a, b string) bool { return realPath(a) == realPath(b) }

// realPath is a path by whichever way its folder is reached, so that two windows
// meet at one lock.
func realPath(path string) string {
	whole, err := filepath.Abs(path)
	if err != nil {
		return path
	}
	dir, name := filepath.Split(whole)
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	return filepath.Join(dir, name)
}

// Path is the job's file, empty before the first save.
func (s *Session) Path() string { return s.holding().path }

func (s *Session) holding() hold {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.hold
}

// Save writes the job to path and remembers it as the job's file, which no other
// window can then open. It is a [*job.LockedError] where another window has the file,
// and a [*LostError] where the lock of the job's own was lost.
func (s *Session) Save(path string) error {
	h, err := s.holding().take(path)
	if err != nil {
		return err
	}
	return s.saveIn(h)
}

// Taken is the [*job.LockedError] that Save would meet at path; nil: there is none.
func (s *Session) Taken(path string) error {
	h, err := s.holding().take(path)
	if err == nil {
		h.release(s.holding())
	}
	if locked := new(job.LockedError); errors.As(err, &locked) {
		return locked
	}
	return nil
}

// SaveOver is Save for a maker who knows that another window may have saved the file.
func (s *Session) SaveOver(path string) error {
	h, err := s.holding().take(path)
	if lost := new(LostError); errors.As(err, &lost) {
		h, err = newHold(path)
	}
	if locked := new(job.LockedError); errors.As(err, &locked) {
		h, err = hold{path: path}, nil // without the lock, each save asks anew
	}
	if err != nil {
		return err
	}
	return s.saveIn(h)
}

// saveIn writes the job to a file that is held for it.
func (s *Session) saveIn(h hold) error {
	j, _ := s.Job()
	if err := j.Save(h.path, true); err != nil {
		h.release(s.holding())
		return err
	}
	s.mu.Lock()
	before := s.hold
	s.hold, s.saved = h, j.Document
	s.changed()
	before.release(h)
	return nil
}

// OpenJob puts another job in place of this one; the history starts anew. Its file is
// held against other windows until the session has another job or is closed; it is a
// [*job.LockedError] where another has it.
func (s *Session) OpenJob(ctx context.Context, path string) error {
	s.opening.Lock()
	defer s.opening.Unlock()
	if err := ctx.Err(); err != nil {
		return err
	}
	h, err := s.holding().take(path)
	if lost := new(LostError); errors.As(err, &lost) {
		h, err = newHold(path) // what was saved meanwhile is what is opened
	}
	if err != nil {
		return err
	}
	j, pic, err := read(ctx, path)
	if err == nil {
		err = s.replace(ctx, stateOf(j, pic), j.Document.Clone(), h)
	}
	if err != nil {
		h.release(s.holding())
	}
	return err
}

// OpenCopy puts a copy of the job at path in place of this one: it has no file and
// counts as unsaved, and the file may be open elsewhere. named gives the copy its name;
// where that cannot be a job's name it keeps its own.
func (s *Session) OpenCopy(ctx context.Context, path string, named func(string) string) error {
	j, pic, err := read(ctx, path)
	if err != nil {
		return err
	}
	next := stateOf(j, pic)
	if renamed, err := next.with(func(d *job.Document) error { d.Name = named(d.Name); return nil }); err == nil {
		next = renamed
	}
	return s.replace(ctx, next, job.Document{}, hold{})
}

// read is the job at path with its picture decoded.
func read(ctx context.Context, path string) (*job.Job, *picture.Picture, error) {
	j, err := job.Read(path)
	if err != nil {
		return nil, nil, err
	}
	pic, err := j.Open(ctx)
	if err != nil {
		return nil, nil, err
	}
	return j, pic, j.Document.CheckCrop(pic)
}

// OpenNew puts an empty job in place of this one: its panel, coats, machine and setting
// without its picture and letters. It has no file.
func (s *Session) OpenNew() error {
	now, _, _ := s.snapshot()
	doc := now.doc.Clone().WithoutPicture()
	blank := job.Blank(doc.Stack, doc.Machine)
	doc.Name, doc.Picture = blank.Name, blank.Picture
	doc.Lettering, doc.Fonts, doc.Finished = nil, nil, nil
	if err := doc.Validate(); err != nil {
		return err
	}
	return s.replace(context.Background(), state{doc: doc}, doc.Clone(), hold{})
}

// replace puts another job in place of this one, whose file is let go.
func (s *Session) replace(ctx context.Context, next state, saved job.Document, h hold) error {
	s.mu.Lock()
	if err := ctx.Err(); err != nil {
		s.mu.Unlock()
		return err
	}
	before := s.hold
	s.now, s.saved, s.hold, s.history = next, saved, h, history{}
	s.changed()
	before.release(h)
	return nil
}
