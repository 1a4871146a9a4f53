package session

import (
	"context"
	"time"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// Workshop is what a hand-off takes from the workshop and not from the job. It lasts as
// long as the session and is no step that Undo takes back.
type Workshop struct {
	job.Workshop
	// Sections are no longer than this; 0: sections only where the bed asks for them.
	Sections layout.MM
}

// Workshop is what the next hand-off takes from the workshop.
func (s *Session) Workshop() Workshop {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.workshop.clone()
}

// clone shares no rates with what it was made from.
func (w Workshop) clone() Workshop {
	if w.Rates != nil {
		rates := *w.Rates
		w.Rates = &rates
	}
	return w
}

// CheckWorkshop tells what SetWorkshop would say, and changes nothing. Whether the panel
// can be burned in sections of that length depends on the job: see
// [job.Document.FitIn].
func (s *Session) CheckWorkshop(w Workshop) error {
	if err := w.Validate(); err != nil {
		return err
	}
	d := s.Document()
	plan := layout.Plan{Panel: d.Panel, Coats: []layout.CoatWork{{Name: "coat", Can: w.Can}}, Start: someDay, Habits: w.Habits}
	if _, err := d.Panel.Needs(plan.Coats); err != nil {
		return err
	}
	_, err := plan.Timetable()
	return err
}

// someDay begins a timetable of which only the durations count.
var someDay = time.Date(2000, time.January, 3, 9, 0, 0, 0, time.UTC)

// SetWorkshop keeps what the next hand-off takes from the workshop. What cannot be is
// refused, and the error says why.
func (s *Session) SetWorkshop(w Workshop) error {
	if err := s.CheckWorkshop(w); err != nil {
		return err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.workshop = w.clone()
	return nil
}

// request completes a request with what the session knows.
func (s *Session) request(r job.Request) (*job.Job, job.Request) {
	j, pic := s.Job()
	r.Picture = pic
	return j, r
}

// HandOff prepares the job as it stands. It takes its time: call it beside the window.
func (s *Session) HandOff(ctx context.Context, r job.Request) (*job.Handoff, error) {
	j, r := s.request(r)
	return job.Prepare(ctx, j, r)
}

// Foresee is what HandOff would say, from the very dots of the job, and writes nothing.
// It takes its time: call it beside the window.
func (s *Session) Foresee(ctx context.Context, r job.Request) (*job.Handoff, error) {
	j, r := s.request(r)
	return job.Foresee(ctx, j, r)
}

// Trial prepares a trial piece of the job as it stands. It takes its time: call it beside
// the window.
func (s *Session) Trial(ctx context.Context, r job.TrialRequest) (*job.Handoff, error) {
	j, pic := s.Job()
	r.Picture = pic
	return job.Trial(ctx, j, r)
}
