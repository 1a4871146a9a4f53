package session

import (
	"undercoat/imaging/job"
	"undercoat/imaging/proof"
)

// Other is what the job is compared with. Its zero value is the job itself.
type Other struct {
	// Change makes the document to compare with out of a copy of the job's own; nil
	// leaves it as it is.
	Change func(*job.Document) error
	// LastStep compares with the job before its last step, and Change is not made.
	LastStep bool
	// Burn is how the burn comes out, of the very dots that are planned.
	Burn proof.Variation
}

// Compare sets what frames with Other set show; nil ends the comparison.
func (s *Session) Compare(o *Other) {
	s.mu.Lock()
	same := s.other == nil && o == nil
	s.other = o
	if !same {
		s.generation++
	}
	s.mu.Unlock()
	if !same {
		s.worker.wake()
	}
}

// moment is all that the worker renders from.
type moment struct {
	st         state
	frames     []Frame // never changed in place
	generation uint64

	other    state
	otherErr error // why there is nothing to compare with
}

func (s *Session) moment() moment {
	s.mu.Lock()
	m := moment{st: s.now, frames: s.frames, generation: s.generation, other: s.now}
	o := s.other
	if o != nil && o.LastStep {
		m.other = s.history.before(s.now)
	}
	s.mu.Unlock()
	if o == nil {
		return m
	}
	if o.Change != nil && !o.LastStep {
		m.other, m.otherErr = m.st.with(o.Change)
	}
	m.other.burn = o.Burn
	return m
}

// before is the state before the last step; now itself where there was none.
func (h *history) before(now state) state {
	if h.done == 0 {
		return now
	}
	return h.steps[h.done-1].before
}
