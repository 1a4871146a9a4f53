package session

import (
	"context"
	"errors"

	"undercoat/imaging/compare"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch/fit"
	"undercoat/layout"
)

// Comparison is a finished panel held against its proof.
type Comparison struct {
	*compare.Result
	Photo *Photo
	job   *job.Job // as it was compared
}

// CompareFinished holds a photograph of the finished panel, whose corners lie where they are
// said to, against the proof of the job as it stands. It takes its time: call it beside
// the window.
func (s *Session) CompareFinished(ctx context.Context, p *Photo, corners [4]layout.PicturePoint, progress func(float64)) (*Comparison, error) {
	j, _ := s.Job()
	r, err := compare.Job(ctx, j, p.Name, p.Data, compare.Options{Corners: &corners, Progress: progress})
	if err != nil {
		return nil, err
	}
	return &Comparison{r, p, j}, nil
}

// CanUpdate tells whether the curve of a document can learn from the panel: it is the
// curve that was compared, and some dose explains the panel.
func (c *Comparison) CanUpdate(d job.Document) bool {
	return !c.Dose.AtTheEdge && d.Stack.Equal(c.job.Document.Stack)
}

// errOtherCurve is for a curve that the panel says nothing about.
var errOtherCurve = errors.New("the curve is no longer the one that was compared: compare the panel once more")

// UpdateCurve moves the job's curve by what the panel has told, as one step.
func (s *Session) UpdateCurve(step string, c *Comparison) error {
	return s.Edit(step, "", func(d *job.Document) (err error) {
		if !c.CanUpdate(*d) {
			return errOtherCurve
		}
		d.Stack, err = fit.Update(d.Stack, 1/c.Dose.Factor, c.Dose.LnSD)
		return err
	})
}

// KeepRecord keeps a comparison, its photograph and a remark, which may be empty, in
// the job as one step. The setting that is kept is the one that was compared.
func (s *Session) KeepRecord(step string, c *Comparison, remark string) error {
	recorded, err := compare.Record(c.job, c.Result, c.Photo.Name, c.Photo.Data, remark)
	if err != nil {
		return err
	}
	panels := recorded.Document.Finished
	for {
		now, _, generation := s.snapshot()
		j, err := now.job().WithFinished(panels[len(panels)-1], c.Photo.Data)
		if err != nil {
			return err
		}
		s.mu.Lock()
		if s.generation == generation {
			s.step(step, "", stateOf(j, now.pic))
			return nil
		}
		s.mu.Unlock()
	}
}
