package session

import (
	"context"
	"reflect"
	"sync"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

// Options is how a session is set up.
type Options struct {
	// Render is called from the worker with each finished picture; nil: no
	// pictures are made.
	Render func(Picture)
	// Found is called from the worker with what it learned besides, once for every
	// change that is not followed at once by another; nil: nothing is looked into.
	Found func(Found)
	// Depths is called from the worker after the quick pictures of every change; nil:
	// they are not worked out.
	Depths func(Depths)
	// Cores is called with the cores that Probe asked for; nil: none are cut.
	Cores func([]Core)
}

// Session is the open job.
type Session struct {
	mu      sync.Mutex
	now     state
	saved   job.Document // as it stands on disk
	hold    hold         // of the job's file
	opening sync.Mutex   // one file at a time: the one before may hold the same
	history history
	frames  []Frame
	other   *Other // nil: nothing is compared

	generation uint64 // of the job and the frames together, from 1

	subscribers map[int]func()
	nextID      int

	worker *worker
	prober *prober
	sheets sheets
	hung   hung

	workshop Workshop
}

// New opens a session on a job whose picture is decoded already.
func New(j *job.Job, pic *picture.Picture, o Options) *Session {
	s := &Session{
		now:         stateOf(j, pic),
		saved:       j.Document.Clone(),
		subscribers: map[int]func(){},
		generation:  1,
	}
	s.prober = newProber(o.Cores)
	s.worker = newWorker(s.moment, o, s.prober.stand)
	return s
}

// Close stops the background work and waits for it to end, and lets the job's file go.
func (s *Session) Close() {
	s.worker.close()
	s.prober.close()
	s.mu.Lock()
	before := s.hold
	s.hold.lock = nil
	s.mu.Unlock()
	before.release(hold{})
}

// Subscribe calls heard after every change of the job, until the function it
// hands back is called.
func (s *Session) Subscribe(heard func()) (cancel func()) {
	s.mu.Lock()
	defer s.mu.Unlock()
	id := s.nextID
	s.nextID++
	s.subscribers[id] = heard
	return func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		delete(s.subscribers, id)
	}
}

// Document is a copy of the job's document.
func (s *Session) Document() job.Document {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now.doc.Clone()
}

// Job is the job as it stands, with its decoded picture.
func (s *Session) Job() (*job.Job, *picture.Picture) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.now.job(), s.now.pic
}

// PictureSize is the width and height in pixels of the picture once it is turned and
// straightened; 0 where there is none.
func (s *Session) PictureSize() (w, h int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.now.pic == nil {
		return 0, 0
	}
	w, h, err := s.now.doc.Picture.Size(s.now.pic)
	if err != nil {
		panic("session: a document whose picture cannot be straightened was let in: " + err.Error())
	}
	return w, h
}

// PictureNote says which colour profile of the picture could not be followed, and
// what happens instead; it is empty when all is well.
func (s *Session) PictureNote() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.now.pic == nil {
		return ""
	}
	return s.now.pic.Header().ProfileNote
}

// Plan is what follows from the document's numbers.
func (s *Session) Plan() (job.Plan, error) { return s.Document().Plan() }

// Edit changes the document under a name that Undo will show. Edits in a row
// with the same non-empty merge mark are one step until EndDrag. When the
// change is refused the document stays as it was and the error says why.
//
// The change may ask the session about its state, and is made again if another
// edit got in between; it must do nothing but change the document it is given.
func (s *Session) Edit(name, merge string, change func(*job.Document) error) error {
	for {
		now, _, generation := s.snapshot()
		next, err := now.with(change)
		if err != nil || reflect.DeepEqual(next.doc, now.doc) {
			return err
		}
		s.mu.Lock()
		if s.generation == generation {
			s.step(name, merge, next)
			return nil
		}
		s.mu.Unlock()
	}
}

// Check tells what Edit would say to a change, and changes nothing.
func (s *Session) Check(change func(*job.Document) error) error {
	now, _, _ := s.snapshot()
	_, err := now.with(change)
	return err
}

// EndDrag ends a run of merging edits.
func (s *Session) EndDrag() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.history.seal()
}

// step puts next in place as an undoable step. It is called with the lock held
// and gives it up.
func (s *Session) step(name, merge string, next state) {
	s.history.push(step{name: name, merge: merge, before: s.now, after: next})
	s.now = next
	s.changed()
}

// changed tells the subscribers and the worker. It is called with the lock held
// and gives it up, since subscribers ask the session about its new state.
func (s *Session) changed() {
	s.generation++
	heard := make([]func(), 0, len(s.subscribers))
	for id := range s.nextID {
		if f, ok := s.subscribers[id]; ok {
			heard = append(heard, f)
		}
	}
	s.mu.Unlock()
	s.worker.wake()
	for _, f := range heard {
		f()
	}
}

// Undo takes the last step back; it tells whether there was one.
func (s *Session) Undo() bool {
	s.mu.Lock()
	st, ok := s.history.undo()
	if !ok {
		s.mu.Unlock()
		return false
	}
	s.now = st.before
	s.changed()
	return true
}

// Redo does the last undone step again; it tells whether there was one.
func (s *Session) Redo() bool {
	s.mu.Lock()
	st, ok := s.history.redo()
	if !ok {
		s.mu.Unlock()
		return false
	}
	s.now = st.after
	s.changed()
	return true
}

// StepNames are the names of the steps that Undo and Redo would act on; empty
// where there is none.
func (s *Session) StepNames() (undo, redo string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.history.names()
}

// Dirty tells whether the job differs from what is on disk.
func (s *Session) Dirty() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return !reflect.DeepEqual(s.now.doc, s.saved)
}

// OpenPicture puts another picture in place of the job's own, as one step. A job
// that has no file yet takes its name from the picture.
func (s *Session) OpenPicture(ctx context.Context, name string, data []byte) error {
	pic, err := job.OpenPicture(ctx, name, data)
	if err != nil {
		return err
	}
	s.mu.Lock()
	doc, err := s.now.doc.Clone().WithPicture(name, data, pic)
	if err == nil {
		err = ctx.Err() // whoever gave up waiting must not be surprised later
	}
	if err != nil {
		s.mu.Unlock()
		return err
	}
	if renamed := doc; s.hold.path == "" {
		renamed.Name = job.NameOf(name)
		if renamed.Validate() == nil { // a file may be called what a job may not
			doc = renamed
		}
	}
	s.step("picture", "", state{doc: doc, bytes: data, pic: pic, fonts: s.now.fonts, photos: s.now.photos})
	return nil
}

// RemovePicture takes the picture out of the job, which then has its lettering alone.
func (s *Session) RemovePicture() {
	s.mu.Lock()
	s.step("picture", "", state{doc: s.now.doc.Clone().WithoutPicture(), fonts: s.now.fonts, photos: s.now.photos})
}

// AddFont puts a font of the maker's own into the job, under a name that lines of
// lettering can use, and makes a change that may use it; the two are one step. A nil
// change makes none.
func (s *Session) AddFont(name string, data []byte, change func(*job.Document) error) error {
	for {
		now, _, generation := s.snapshot()
		j, err := now.job().WithFont(name, data)
		if err != nil {
			return err
		}
		next := stateOf(j, now.pic)
		if change != nil {
			if next, err = next.with(change); err != nil {
				return err
			}
		}
		s.mu.Lock()
		if s.generation == generation {
			s.step("font", "", next)
			return nil
		}
		s.mu.Unlock()
	}
}

// CheckLetters tells whether a document's lettering can be placed with the fonts of
// this job: whether they have all its letters.
func (s *Session) CheckLetters(d job.Document) error {
	now, _, _ := s.snapshot()
	_, err := d.Letters(now.fonts)
	return err
}
