package session

import (
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// state is one moment of the job. Its parts are never changed in place, so
// moments share what they have in common.
type state struct {
	doc   job.Document
	bytes []byte
	pic   *picture.Picture  // nil: lettering alone
	fonts map[string][]byte // the maker's own
	// photos are of finished panels, by checksum
	photos map[string][]byte
	// burn is how the burn comes out; empty: as set
	burn proof.Variation
}

func stateOf(j *job.Job, pic *picture.Picture) state {
	return state{doc: j.Document, bytes: j.Picture, pic: pic, fonts: j.Fonts, photos: j.Photos}
}

// job is the state as a job, which shares no document with it.
func (s state) job() *job.Job {
	return &job.Job{Document: s.doc.Clone(), Picture: s.bytes, Fonts: s.fonts, Photos: s.photos}
}

// with is the state after a change of its document, which is brought back to the
// picture area's shape and checked.
func (s state) with(change func(*job.Document) error) (state, error) {
	s.doc = s.doc.Clone()
	if err := change(&s.doc); err != nil {
		return s, err
	}
	var err error
	if s.doc, err = s.doc.Refit(s.pic); err != nil {
		return s, err
	}
	return s, s.doc.Validate()
}

// placement is the raster's. A document that was let in has one.
func (s state) placement() layout.Placement {
	pl, err := s.doc.Placement()
	if err != nil {
		panic("session: a document without a placement was let in: " + err.Error())
	}
	return pl
}

// raster is the area of the panel that the raster covers.
func (s state) raster() layout.Area {
	pl := s.placement()
	return layout.Area{Centre: pl.Centre, Size: pl.Grid.Size()}
}

// burning is the recipe under which the burn comes out.
func (s state) burning() (proof.Recipe, error) {
	if s.burn == "" {
		return s.doc.Recipe(), nil
	}
	return s.burn.Of(s.doc.Recipe())
}

// step is one undoable edit.
type step struct {
	name          string
	merge         string // edits in a row with the same, non-empty mark are one step
	before, after state
}

// history is the line of steps; those past done have been undone.
type history struct {
	steps []step
	done  int
}

// maxSteps bounds the history. The states share their pictures, so a step costs
// little more than its document.
const maxSteps = 500

// push adds a step, merging it with the last one if both carry the same mark.
func (h *history) push(s step) {
	h.steps = h.steps[:h.done]
	if n := len(h.steps); n > 0 && s.merge != "" && h.steps[n-1].merge == s.merge {
		h.steps[n-1].after = s.after
		return
	}
	h.steps = append(h.steps, s)
	if len(h.steps) > maxSteps {
		h.steps = append([]step(nil), h.steps[len(h.steps)-maxSteps:]...)
	}
	h.done = len(h.steps)
}

// seal ends a run of merging edits, as when a drag is let go.
func (h *history) seal() {
	if h.done > 0 {
		h.steps[h.done-1].merge = ""
	}
}

func (h *history) undo() (step, bool) {
	if h.done == 0 {
		return step{}, false
	}
	h.seal()
	h.done--
	return h.steps[h.done], true
}

func (h *history) redo() (step, bool) {
	if h.done == len(h.steps) {
		return step{}, false
	}
	h.done++
	return h.steps[h.done-1], true
}

// names are what undo and redo would undo and redo, empty for nothing.
func (h *history) names() (undo, redo string) {
	if h.done > 0 {
		undo = h.steps[h.done-1].name
	}
	if h.done < len(h.steps) {
		redo = h.steps[h.done].name
	}
	return undo, redo
}
