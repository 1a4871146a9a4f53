package session

import (
	"context"
	"slices"
	"sync"

	"undercoat/imaging/job"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Core is the panel cut through at a point.
type Core struct {
	At    layout.Point
	Cut   proof.Cut
	Exact bool // at this very spot of the dots; else the mean about it
	Err   error
}

// Probe says where to cut the panel; Options.Cores is then told of a core for each
// point, in their order, and again after every change. exact asks for the very spot,
// as soon as there are dots: the mean about it is what can be seen from afar.
func (s *Session) Probe(exact bool, points ...layout.Point) {
	s.prober.aim(exact, points)
}

// basis is what cores are cut from. Its parts are never changed in place.
type basis struct {
	st       state
	table    *proof.TintTable
	overview *plane.Grey16 // nil: colours are matched
	raster   *job.Raster   // nil: not made yet
}

// prober cuts cores beside the worker, which may be long at an exact picture.
type prober struct {
	deliver func([]Core) // nil: nobody asks
	wakes   chan struct{}
	stop    context.CancelFunc
	ended   sync.WaitGroup

	mu     sync.Mutex
	exact  bool
	points []layout.Point
	basis  *basis
}

func newProber(deliver func([]Core)) *prober {
	ctx, stop := context.WithCancel(context.Background())
	p := &prober{deliver: deliver, wakes: make(chan struct{}, 1), stop: stop}
	if deliver != nil {
		p.ended.Go(func() { p.run(ctx) })
	}
	return p
}

func (p *prober) close() {
	p.stop()
	p.ended.Wait()
}

func (p *prober) aim(exact bool, points []layout.Point) {
	p.mu.Lock()
	same := p.exact == exact && slices.Equal(p.points, points)
	p.exact, p.points = exact, slices.Clone(points)
	p.mu.Unlock()
	if !same {
		p.wake()
	}
}

func (p *prober) stand(b basis) {
	p.mu.Lock()
	p.basis = &b
	p.mu.Unlock()
	p.wake()
}

func (p *prober) wake() {
	select {
	case p.wakes <- struct{}{}:
	default:
	}
}

func (p *prober) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-p.wakes:
		}
		p.mu.Lock()
		exact, points, b := p.exact, p.points, p.basis
		p.mu.Unlock()
		if b == nil {
			continue
		}
		cores := make([]Core, len(points))
		for i, at := range points {
			cores[i] = b.core(ctx, at, exact)
		}
		if ctx.Err() != nil {
			return
		}
		p.deliver(cores)
	}
}

// core cuts the panel at a point. Beside the picture lies the untouched top coat.
func (b *basis) core(ctx context.Context, at layout.Point, exact bool) Core {
	pl := b.st.placement()
	corner, pitch := pl.Corners[0], float64(pl.Grid.Pitch)
	x, y := float64(at.X-corner.X)/pitch, float64(corner.Y-at.Y)/pitch
	switch {
	case x < 0 || y < 0 || x >= float64(pl.Grid.Cols) || y >= float64(pl.Grid.Rows):
		return Core{At: at, Cut: proof.Core(b.table.Model(), 0), Exact: true}
	case b.raster != nil && (exact || b.overview == nil):
		src, recipe, err := b.raster.Burning(b.st.doc.Recipe())
		if err != nil {
			return Core{At: at, Err: err}
		}
		cut, err := proof.CoreAt(ctx, recipe, src, x, y)
		return Core{At: at, Cut: cut, Exact: true, Err: err}
	case b.overview == nil:
		return Core{At: at, Cut: b.table.Core(0)}
	}
	o := b.overview
	col := min(o.W-1, int(x/float64(pl.Grid.Cols)*float64(o.W)))
	row := min(o.H-1, int(y/float64(pl.Grid.Rows)*float64(o.H)))
	return Core{At: at, Cut: b.table.Core(o.Row(row)[col])}
}
