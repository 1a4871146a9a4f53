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
	snapshot func() (state, []Frame, uint64)
	deliver  func(Picture)
	found    func(Found) // nil: nobody asks
	render   *renderer
	finder   *finder

	wakes chan struct{} // holds at most one: latest wins
	stop  context.CancelFunc
	ended sync.WaitGroup

	mu     sync.Mutex
	cancel context.CancelFunc // of the rendering in hand
}

func newWorker(snapshot func() (state, []Frame, uint64), deliver func(Picture), found func(Found)) *worker {
	ctx, stop := context.WithCancel(context.Background())
	w := &worker{
		snapshot: snapshot, deliver: deliver, found: found, render: newRenderer(), finder: newFinder(),
		wakes: make(chan struct{}, 1), stop: stop, cancel: func() {},
	}
	if deliver != nil {
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
		st, frames, generation := w.snapshot()
		frames = slices.DeleteFunc(slices.Clone(frames), func(f Frame) bool { return f.W <= 0 || f.H <= 0 })
		w.pictures(ctx, st, frames, generation)
	}
}

// pictures delivers the quick picture of each frame and, unless a wake comes,
// the exact ones after them.
func (w *worker) pictures(ctx context.Context, st state, frames []Frame, generation uint64) {
	exactCtx, cancel := context.WithCancel(ctx)
	defer cancel()
	w.mu.Lock()
	w.cancel = cancel
	w.mu.Unlock()

	grid := st.placement().Grid
	var unfinished []Frame
	for i, f := range frames {
		f.Part = f.Part.snapped(grid.Cols, grid.Rows)
		p := Picture{Frame: f, Generation: generation}
		p.Image, p.Err = w.render.quick(ctx, st, f, i)
		if ctx.Err() != nil {
			return
		}
		if p.Err == nil && f.View != PictureView {
			p.Working = true
			unfinished = append(unfinished, f)
		}
		p.Last = i == len(frames)-1 && len(unfinished) == 0
		w.deliver(p)
	}
	if !w.tellFound(exactCtx, st, generation) {
		return
	}
	if len(unfinished) > 0 && !paused(exactCtx) {
		return
	}
	for i, f := range unfinished {
		if len(w.wakes) > 0 {
			return
		}
		p := Picture{Frame: f, Generation: generation, Last: i == len(unfinished)-1}
		p.Image, p.Err = w.render.exact(exactCtx, st, f)
		if exactCtx.Err() != nil {
			return
		}
		p.Exact = p.Err == nil
		w.deliver(p)
	}
}

// tellFound tells what is found out about the job; false if a wake came before.
func (w *worker) tellFound(ctx context.Context, st state, generation uint64) bool {
	if w.found == nil {
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
	w.found(f)
	return true
}
