package bench

import (
	"context"
	"reflect"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/ui/session"
)

// foresight is what the hand-off will say, worked out from the job's very dots beside
// the window while the drawer is open.
type foresight struct {
	bench *Bench
	told  func() // it has become something else
	stop  context.CancelFunc

	of      foreseen
	handoff *job.Handoff // nil: not known yet
	err     error        // why it cannot be known; nil
}

// foreseen is what a hand-off follows from.
type foreseen struct {
	d job.Document
	w session.Workshop
}

func newForesight(b *Bench, told func()) *foresight {
	return &foresight{bench: b, told: told, stop: func() {}}
}

// note is what is known of the job as it is; nil: nothing yet.
func (f *foresight) note() *export.Note {
	if f.handoff == nil {
		return nil
	}
	return &f.handoff.Note
}

// awaited tells whether it is being worked out.
func (f *foresight) awaited() bool { return f.handoff == nil && f.err == nil }

// follow begins anew where the job or the workshop has changed. What was begun before is
// dropped. It waits for the easel's last picture, which is what the maker looks at first.
func (f *foresight) follow(d job.Document) {
	now := foreseen{d, f.bench.s.Workshop()}
	if reflect.DeepEqual(now, f.of) {
		return
	}
	f.drop()
	f.of = now
	ctx, cancel := context.WithCancel(f.bench.ctx)
	f.stop = cancel
	settled := f.bench.Settle(func() {})
	f.bench.background.Go(func() {
		select {
		case <-ctx.Done():
			return
		case <-settled:
		}
		h, err := f.bench.s.Foresee(ctx, foreseeable(now.w))
		f.bench.do(func() {
			if ctx.Err() != nil {
				return // the job has changed
			}
			cancel()
			f.take(h, err)
		})
	})
}

// drop forgets what is known and what is being worked out.
func (f *foresight) drop() {
	f.stop()
	f.stop = func() {}
	f.of, f.handoff, f.err = foreseen{}, nil, nil
}

func (f *foresight) take(h *job.Handoff, err error) {
	f.handoff, f.err = h, err
	f.told()
}

// knows takes over what a hand-off has said of the job, if that is still the same.
func (f *foresight) knows(of foreseen, h *job.Handoff) {
	if reflect.DeepEqual(of, foreseen{f.bench.s.Document(), f.bench.s.Workshop()}) {
		f.drop()
		f.of, f.handoff = of, h
	}
}

// foreseeable is the request of a workshop whose rates, while they are being typed, may
// not come to a price yet.
func foreseeable(w session.Workshop) job.Request {
	if w.Rates != nil && !charges(w.Rates) {
		w.Rates = nil
	}
	return job.Request{Sections: w.Sections, Workshop: w.Workshop}
}
