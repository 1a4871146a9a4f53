package bench

import (
	"context"
	"errors"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// keepPause is how long after a change the job is kept: seldom enough not to be felt,
// and soon enough that nothing one would mind is lost.
const keepPause = 2 * time.Second

// JobJournal begins a journal in the user's own folder: for Options.Journal.
func JobJournal(path string) (session.Journal, error) { return job.OpenJournal(path) }

// keep begins to keep the job against a crash.
func (b *Bench) keep(journal func(path string) (session.Journal, error)) {
	if journal == nil {
		return
	}
	told := false // once is enough: it would fail at every change
	b.keeper = b.s.Keep(journal, keepPause, func(err error) {
		b.do(func() {
			if !told {
				told = true
				b.complain(err)
			}
		})
	})
}

// Welcome offers what a crash has left and else, the first time, the tour.
func (b *Bench) Welcome() {
	left, err := job.Leftovers()
	if err != nil {
		b.complain(err)
	}
	if len(left) > 0 {
		b.offer(left)
		return
	}
	b.firstTour()
}

// offer asks what shall become of jobs that were open when the program ended unasked,
// one after another.
func (b *Bench) offer(left []job.Leftover) {
	if len(left) == 0 || len(b.asking) > 0 {
		return
	}
	l := left[0]
	name := l.Name
	if l.Of != "" {
		name = filepath.Base(l.Of)
	}
	text := widgets.NewRemarks(false)
	text.Set(said(lang.X("restore.text", "The program ended before {{.Job}} was saved. It was kept as it stood on {{.When}}.", map[string]any{
		"Job": name, "When": l.Saved.Format("2006-01-02 15:04"),
	})))
	d := dialog.NewCustomWithoutButtons(lang.X("restore.title", "Take up where you left off?"), text, b.win)
	answer := func(label string, then func()) *widget.Button {
		return widget.NewButton(label, func() {
			d.Hide()
			then()
		})
	}
	forget := func() {
		if err := l.Drop(); err != nil {
			b.complain(err)
		}
		b.offer(left[1:])
	}
	restore := answer(lang.X("restore.restore", "Take it up"), func() { b.restore(l) })
	restore.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{
		answer(lang.X("restore.forget", "Let it go"), forget),
		answer(lang.X("restore.later", "Ask again later"), func() {}),
		restore,
	})
	b.ask(d)
	d.Resize(d.MinSize().AddWidthHeight(80, 20))
}

// restore opens what was kept. It is forgotten only once it is kept anew.
func (b *Bench) restore(l job.Leftover) {
	told := func() {}
	b.loadThen(l.Name, func(ctx context.Context) error {
		j, err := l.Job()
		if err != nil {
			return err
		}
		pic, err := j.Open(ctx)
		if err != nil {
			return err
		}
		err = b.s.Restore(ctx, j, pic, l.Of)
		if locked := new(job.LockedError); errors.As(err, &locked) {
			err = b.s.Restore(ctx, j, pic, "")
			told = func() { b.notice.Inform(takenText(l.Of, locked), restoredCopy()) }
		}
		if err != nil {
			return err
		}
		if b.keeper != nil {
			if err := b.keeper.Flush(); err != nil {
				return err
			}
		}
		return l.Drop()
	}, func() { told() })
}
