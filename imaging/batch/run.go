package batch

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
)

// Work is what an order asks for.
type Work struct {
	// Inputs is a checksum of all that the result depends on: the cells, and the
	// contents of the files that they name.
	Inputs string
	// Prepare makes the hand-off in dir, replacing what is there.
	Prepare func(ctx context.Context, dir string) (*job.Handoff, error)
}

// Request says what to do.
type Request struct {
	Dir     string // made if missing; each order has a folder of its name in it
	Orders  []Order
	Open    func(Order) (Work, error) // may be called from several goroutines
	Workers int                       // orders at a time; 0 reads as 1
	Settled func(Result)              // told of each order once, one at a time; may be nil
}

// State is what came of an order.
type State string

// The states of an order.
const (
	Made      State = "made"      // just now
	Unchanged State = "unchanged" // it was there, made from the same inputs
	Failed    State = "failed"
)

// Result is what came of an order.
type Result struct {
	Order  Order
	State  State
	Record Record // of an order that did not fail
	Err    error  // of one that did
}

// waiting is how long to wait for orders that other processes work on, before
// looking again.
const waiting = 200 * time.Millisecond

// Run settles every order and gives the results in the orders' own order. Orders
// that another process works on are waited for. It ends early only when ctx does,
// or when the folder cannot be made; what was made until then stays.
func Run(ctx context.Context, r Request) ([]Result, error) {
	if err := os.MkdirAll(r.Dir, 0o777); err != nil {
		return nil, &export.WriteError{Path: r.Dir, Err: errors.Unwrap(err)}
	}
	b := &run{Request: r, results: make([]Result, len(r.Orders))}
	open := make([]int, len(r.Orders))
	for i := range open {
		open[i] = i
	}
	for len(open) > 0 {
		busy, err := b.round(ctx, open)
		if err != nil {
			return nil, err
		}
		if len(busy) == len(open) { // nothing could be done: give the others time
			select {
			case <-ctx.Done():
				return nil, ctx.Err()
			case <-time.After(waiting):
			}
		}
		open = busy
	}
	return b.results, nil
}

type run struct {
	Request
	results []Result
	telling sync.Mutex
}

// round goes once through the orders that are open, several at a time, and gives
// those that other processes are at.
func (b *run) round(ctx context.Context, open []int) (busy []int, err error) {
	next := make(chan int)
	go func() {
		defer close(next)
		for _, i := range open {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	}()
	skipped := make([]bool, len(b.results))
	var workers sync.WaitGroup
	for range min(max(b.Workers, 1), len(open)) {
		workers.Go(func() {
			for i := range next {
				result, settled := b.settle(ctx, b.Orders[i])
				if ctx.Err() != nil {
					return
				}
				if skipped[i] = !settled; settled {
					b.tell(i, result)
				}
			}
		})
	}
	workers.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, i := range open {
		if skipped[i] {
			busy = append(busy, i)
		}
	}
	return busy, nil
}

func (b *run) tell(i int, r Result) {
	b.telling.Lock()
	defer b.telling.Unlock()
	b.results[i] = r
	if b.Settled != nil {
		b.Settled(r)
	}
}

// settle makes an order if need be. It is not settled while another process works
// on it.
func (b *run) settle(ctx context.Context, o Order) (_ Result, settled bool) {
	fail := func(err error) (Result, bool) { return Result{Order: o, State: Failed, Err: err}, true }
	if o.Err != nil {
		return fail(o.Err)
	}
	work, err := b.Open(o)
	if err != nil {
		return fail(err)
	}
	inputs := job.Checksum(fmt.Appendf(nil, "%s\n%s\n%d\n", work.Inputs, o.Name, o.Copies))
	dir := filepath.Join(b.Dir, o.Name)
	r, ok, err := stands(dir, inputs)
	if ok {
		err = job.ClearLock(dir) // of one who was killed with the work done
	}
	switch {
	case err != nil:
		return fail(err)
	case ok:
		return Result{Order: o, State: Unchanged, Record: r}, true
	}
	lock, err := job.LockFile(dir)
	var locked *job.LockedError
	switch {
	case errors.As(err, &locked):
		return Result{}, false
	case err != nil:
		return fail(err)
	}
	defer lock.Release()
	// Another may have made it between the look and the lock.
	r, ok, err = stands(dir, inputs)
	switch {
	case err != nil:
		return fail(err)
	case ok:
		return Result{Order: o, State: Unchanged, Record: r}, true
	}
	if r, err = b.make(ctx, o, work, inputs, dir); err != nil {
		return fail(err)
	}
	if !lock.Held() {
		return Result{}, false // this computer slept, and another went on: see what it made
	}
	return Result{Order: o, State: Made, Record: r}, true
}

// make prepares the order and puts it on record, which is what makes it count: an
// order without its record is made again.
func (b *run) make(ctx context.Context, o Order, work Work, inputs, dir string) (Record, error) {
	before, _ := readRecord(dir)
	h, err := work.Prepare(ctx, dir)
	if err != nil {
		return Record{}, err
	}
	r, err := newRecord(o, inputs, dir, h)
	if err != nil {
		return Record{}, err
	}
	if err := r.write(dir); err != nil {
		return Record{}, err
	}
	r.removeOthers(dir, before)
	return r, nil
}
