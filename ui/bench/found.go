package bench

import (
	"slices"

	"undercoat/ui/session"
)

// finder is a drawer that shows what the worker learned.
type finder interface{ found(f session.Found) }

// foundOut takes what the worker learned and shows it on the main goroutine. When it
// learns more than can be shown, the newest counts.
func (b *Bench) foundOut(f session.Found) {
	b.mu.Lock()
	waiting := b.learned != nil
	b.learned = &f
	b.mu.Unlock()
	if !waiting {
		b.do(b.showFound)
	}
}

func (b *Bench) showFound() {
	b.mu.Lock()
	f := *b.learned
	b.learned = nil
	b.mu.Unlock()
	cautions := b.found.LetterCautions
	b.found = f
	if !slices.Equal(cautions, f.LetterCautions) {
		b.refresh() // they count among the job's
	}
	for _, d := range b.drawers {
		if d, ok := d.(finder); ok {
			d.found(f)
		}
	}
	b.fitColumn()
	b.tellSettled()
}
