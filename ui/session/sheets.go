package session

import (
	"context"
	"errors"
	"math"
	"sync"
	"time"

	"undercoat/imaging/job"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
)

// sheets makes the views that take the whole window. It keeps a renderer of its own,
// so that going back to one is quick, and works for one who asks at a time.
type sheets struct {
	mu     sync.Mutex
	render *renderer
}

// errByColour is for what only dots of one power can be asked.
var errByColour = errors.New("the picture is matched by colour, each dot with a power or step of its own: match it by lightness to see this")

// StripPowers are five powers, in percent, to choose between: the present one, and
// some below and above it as far as the machine goes.
func StripPowers(d job.Document) []float64 {
	now := d.Setting.PowerPercent
	shares := []float64{0.65, 0.82, 1, 1.22, 1.5}
	if now*shares[3] > 100 {
		shares = []float64{0.5, 0.65, 0.8, 0.9, 1}
	}
	powers := make([]float64, len(shares))
	for i, share := range shares {
		powers[i] = min(100, max(math.Round(10*now*share)/10, 0.1))
	}
	return powers
}

// PowerStrip proofs the picture at several powers, each at most long pixels on its
// longer side. It takes its time: call it beside the window.
func (s *Session) PowerStrip(ctx context.Context, powers []float64, long int) ([]job.StripStep, error) {
	st, _, _ := s.snapshot()
	var out []job.StripStep
	err := s.sheets.with(func(r *renderer) error {
		table, points, err := r.sheet(ctx, st, long)
		if err != nil {
			return err
		}
		strip, err := table.Strip(ctx, powers, points)
		if err != nil {
			return err
		}
		area := st.doc.BurnTime(st.placement().Grid, nil)
		for _, p := range strip {
			out = append(out, job.StripStep{
				PowerPercent: p.PowerPercent, DoseJCM2: p.Table.Recipe().FullDose(),
				Coverage: p.Coverage, BurnTime: area.Round(time.Second), Image: p.Image,
			})
		}
		return nil
	})
	return out, err
}

// CoatMaps shows for each coat, and the ground, where on the picture it is seen, each
// map at most long pixels on its longer side. It takes its time: call it beside the
// window.
func (s *Session) CoatMaps(ctx context.Context, long int) ([]proof.CoatMap, error) {
	st, _, _ := s.snapshot()
	var out []proof.CoatMap
	err := s.sheets.with(func(r *renderer) error {
		table, points, err := r.sheet(ctx, st, long)
		if err != nil {
			return err
		}
		tints, err := points(table)
		if err == nil {
			out, err = table.CoatMaps(ctx, tints)
		}
		return err
	})
	return out, err
}

func (s *sheets) with(do func(*renderer) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.render == nil {
		s.render = newRenderer()
	}
	return do(s.render)
}

// sheet is the looks at the setting, and the picture's tints under any.
func (r *renderer) sheet(ctx context.Context, st state, long int) (*proof.TintTable, func(*proof.TintTable) (*plane.Grey16, error), error) {
	if st.pic != nil && st.doc.Match.ByColour() {
		return nil, nil, errByColour
	}
	table, err := r.tintsOf(ctx, st)
	if err != nil {
		return nil, nil, err
	}
	f := wholeFrame(st, long)
	return table, func(t *proof.TintTable) (*plane.Grey16, error) { return r.points(ctx, st, f, overviewSlot, t) }, nil
}
