package bench

import (
	"context"
	"errors"
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// errand is a row that shows how far something beside the window has come, and can
// cancel it. It takes no room while nothing runs.
type errand struct {
	bench   *Bench
	bar     *widget.ProgressBar
	cancel  *widget.Button
	box     *fyne.Container
	name    string             // of what runs
	stopRun context.CancelFunc // nil while nothing runs
	changed func()             // the row came or went
}

// newErrand is a row with nothing to do. changed is told when something starts and when
// it has ended.
func (b *Bench) newErrand(changed func()) *errand {
	e := &errand{bench: b, bar: widget.NewProgressBar(), changed: changed}
	e.bar.TextFormatter = func() string { return fmt.Sprintf("%s %.0f %%", e.name, 100*e.bar.Value) }
	e.cancel = widget.NewButtonWithIcon(lang.X("errand.cancel", "Cancel"), theme.CancelIcon(), e.stop)
	e.box = container.NewBorder(nil, nil, nil, e.cancel, e.bar)
	e.box.Hide()
	return e
}

func (e *errand) busy() bool { return e.stopRun != nil }

// stop cancels what runs.
func (e *errand) stop() {
	if e.stopRun != nil {
		e.stopRun()
	}
}

// send has something done beside the window and takes in on the main goroutine what
// came of it. What fails is told in the notice bar; what is cancelled was not wanted.
// The channel is closed once it has ended, one way or the other. An errand does one
// thing at a time: while it does, this gives nil.
func send[T any](e *errand, name string, work func(ctx context.Context, progress func(float64)) (T, error), took func(T), failed func(error)) (ended <-chan struct{}) {
	if e.busy() {
		return nil
	}
	done := make(chan struct{})
	ctx, cancel := context.WithCancel(e.bench.ctx)
	e.name, e.stopRun = name, cancel
	e.bar.SetValue(0)
	e.box.Show()
	e.changed()
	e.bench.background.Go(func() {
		defer cancel()
		shown := 0.0
		result, err := work(ctx, func(f float64) {
			if f < shown+progressStep && f < 1 {
				return // every step paints the whole window
			}
			shown = f
			e.bench.do(func() { e.bar.SetValue(f) })
		})
		e.bench.do(func() {
			defer close(done)
			e.stopRun = nil
			e.box.Hide()
			switch {
			case errors.Is(err, context.Canceled):
			case err != nil:
				failed(err)
			default:
				took(result)
			}
			e.changed()
		})
	})
	return done
}

// hush closes the notice bar and gives its room back. The toolkit may pass over the room
// of something that hides while other things change.
func (b *Bench) hush() {
	if b.notice.Visible() {
		b.notice.Hide()
		b.win.Content().Refresh()
	}
}
