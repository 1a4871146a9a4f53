package session

import (
	"context"
	"slices"
	"sync"
	"time"
)

// pause is how long the job stays as it is before the exact pictures are begun.
// Begun between two moves of a drag they would only take the cores from the next
// quick one.
const pause = 50 * time.Millisecond

// paused waits for the pause; false if ctx ended before.
func paused(ctx context.Context) bool {
	timer := time.NewTimer(pause)
	defer timer.Stop()
	select {
	case <-timer.C:
		return true
	case <-ctx.Done():
		return false
	}
}

// worker renders the newest state, and only that: a wake while it works makes
// it drop what it is at and start again from a fresh snapshot.
type worker struct {
	moment func() moment
	tell   Options
	stand  func(basis) // hands over what cores are cut from
	render *renderer
	beside *renderer // for a job that is compared with, so that neither drops what the other keeps
	finder *finder

	wakes chan struct{} // holds at most one: latest wins
	stop  context.CancelFunc
	ended sync.WaitGroup

	mu     sync.Mutex
	cancel context.CancelFunc // of the rendering in hand
}

func newWorker(now func() moment, tell Options, stand func(basis)) *worker {
	ctx, stop := context.WithCancel(context.Background())
	w := &worker{
		moment: now, tell: tell, stand: stand, render: newRenderer(), beside: newRenderer(), finder: newFinder(),
		wakes: make(chan struct{}, 1), stop: stop, cancel: func() {},
	}
	if tell.Render != nil {
		w.ended.Go(func() { w.run(ctx) })
	}
	return w
}

// wake tells the worker that the state or the frames have changed.
func (w *worker) wake() {
	// The exact picture in hand is of a state that is gone. A quick picture is
	// let through: while a drag goes on, each of its frames should be seen.
	// Cancelling comes first: the other way round it could hit the work that
	// this very wake began, and nothing would follow.
	w.mu.Lock()
	w.cancel()
	w.mu.Unlock()
	select {
	case w.wakes <- struct{}{}:
	default:
	}
}

func (w *worker) close() {
	w.stop()
	w.ended.Wait()
}

func (w *worker) run(ctx context.Context) {
	for {
		select {
		case <-ctx.Done():
			return
		case <-w.wakes:
		}
		m := w.moment()
		m.frames = slices.DeleteFunc(slices.Clone(m.frames), func(f Frame) bool { return f.W <= 0 || f.H <= 0 })
		w.pictures(ctx, m)
	}
}

// pictures delivers the quick picture of each frame and, unless a wake comes,
// the exact ones after them.
func (w *worker) pictures(ctx context.Context, m moment) {
	exactCtx, cancel := context.WithCancel(ctx)
	defer cancel()
	w.mu.Lock()
	w.cancel = cancel
	w.mu.Unlock()

	unfinished, ok := w.quickOnes(ctx, m)
	if !ok {
		return
	}
	b, ok := w.tellDepths(ctx, m)
	if !ok || !w.tellFound(exactCtx, m.st, m.generation) {
		return
	}
	if len(unfinished) > 0 && !paused(exactCtx) {
		return
	}
	for i, f := range unfinished {
		if len(w.wakes) > 0 {
			return
		}
		r, st := w.renderOf(m, f)
		p := Picture{Frame: f, Generation: m.generation, Area: f.Part.Of(st.raster()), Last: i == len(unfinished)-1}
		p.Image, p.Err = r.exact(exactCtx, st, f)
		if exactCtx.Err() != nil {
			return
		}
		p.Exact = p.Err == nil
		w.tell.Render(p)
		if b.raster == nil && !f.Other && p.Exact {
			b.raster = w.render.raster.value
			w.stand(b)
		}
	}
}

// quickOnes delivers the quick pictures and gives the frames that a more exact one
// follows for; false if there is nobody left to tell.
func (w *worker) quickOnes(ctx context.Context, m moment) (unfinished []Frame, ok bool) {
	var nth [2]int // of the job's own frames and of the others
	for i, f := range m.frames {
		r, st := w.renderOf(m, f)
		grid := st.placement().Grid
		f.Part = f.Part.snapped(grid.Cols, grid.Rows)
		p := Picture{Frame: f, Generation: m.generation, Area: f.Part.Of(st.raster())}
		kind := 0
		if f.Other {
			kind = 1
			p.Err = m.otherErr
		}
		if p.Err == nil {
			p.Image, p.Err = r.quick(ctx, st, f, nth[kind])
		}
		nth[kind]++
		if ctx.Err() != nil {
			return nil, false
		}
		if p.Err == nil && f.View != PictureView {
			p.Working = true
			unfinished = append(unfinished, f)
		}
		p.Last = i == len(m.frames)-1 && len(unfinished) == 0
		w.tell.Render(p)
	}
	return unfinished, true
}

// renderOf is the renderer and the state for a frame. A job that burns otherwise than
// set has all else in common with the job itself.
func (w *worker) renderOf(m moment, f Frame) (*renderer, state) {
	switch {
	case !f.Other || m.otherErr != nil:
		return w.render, m.st
	case m.other.burn != "":
		return w.render, m.other
	}
	w.beside.borrow(w.render, m.other)
	return w.beside, m.other
}

// tellDepths tells what comes out at which dose, and gives what cores are cut from;
// false if there is nobody left to tell.
func (w *worker) tellDepths(ctx context.Context, m moment) (basis, bool) {
	b := basis{st: m.st}
	if w.tell.Depths == nil && w.tell.Cores == nil {
		return b, true
	}
	d, err := Depths{}, error(nil)
	if b.overview, err = w.render.overview(ctx, m.st); err == nil {
		d, err = w.render.depths(ctx, m.st, b.overview)
	}
	if ctx.Err() != nil {
		return b, false
	}
	d.Generation, d.Err = m.generation, err
	if w.tell.Depths != nil {
		w.tell.Depths(d)
	}
	if err == nil {
		b.table = w.render.tints.value
		b.raster = w.render.madeRaster(ctx, m.st)
		w.stand(b)
	}
	return b, true
}

// tellFound tells what is found out about the job; false if a wake came before.
func (w *worker) tellFound(ctx context.Context, st state, generation uint64) bool {
	if w.tell.Found == nil {
		return true
	}
	f, err := w.find(ctx, st)
	if ctx.Err() != nil {
		return false
	}
	if err != nil {
		f = Found{Err: err}
	}
	f.Generation = generation
	w.tell.Found(f)
	return true
}
