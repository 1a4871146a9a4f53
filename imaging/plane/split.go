package plane

import (
	"context"
	"runtime"
	"sync"
)

// SplitRows calls work for contiguous parts of the rows 0..rows-1, one part a
// core, at once, and waits for all. It returns the first error in row order, or
// the context's. A part must look at its context now and then if it runs for
// more than some hundredths of a second; when one part fails, the context of
// the others is cancelled.
func SplitRows(ctx context.Context, rows int, work func(ctx context.Context, y0, y1 int) error) error {
	parts := min(runtime.GOMAXPROCS(0), rows)
	if parts < 1 {
		return ctx.Err()
	}
	inner, cancel := context.WithCancel(ctx)
	defer cancel()
	errs := make([]error, parts)
	var wg sync.WaitGroup
	for i := range parts {
		wg.Go(func() {
			errs[i] = work(inner, rows*i/parts, rows*(i+1)/parts)
			if errs[i] != nil {
				cancel()
			}
		})
	}
	wg.Wait()
	if err := ctx.Err(); err != nil {
		return err
	}
	return firstCause(errs)
}

// firstCause prefers a part's own error to the cancellation it brought on others.
func firstCause(errs []error) error {
	var cancelled error
	for _, err := range errs {
		switch {
		case err == nil:
		case err == context.Canceled:
			cancelled = err
		default:
			return err
		}
	}
	return cancelled
}
