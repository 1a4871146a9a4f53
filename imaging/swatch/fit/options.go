package fit

import (
	"fmt"

	"undercoat/imaging/burn"
)

// Options are what a fit can be told. The zero value is a good choice.
type Options struct {
	// Machine is taken where readings do not name the machine that burned them;
	// nil takes the light of each reading, a power scale from zero and an even dose.
	Machine *burn.Machine
	// Draws is how often the swatches are drawn anew to see how much hangs on
	// single ones, up to 5000; 0 reads as 200, -1 leaves it out.
	Draws int
	// Next is how many swatches to propose for the next chart, up to 50; 0 reads as
	// 5, -1 proposes none.
	Next int
	// KeepPowerOffset holds the power offset to the machine's, even where the
	// chart could tell it.
	KeepPowerOffset bool
	// Progress is told how far the fit has come, 0 to 1; may be nil.
	Progress func(fraction float64)
}

const (
	usualDraws, mostDraws = 200, 5000
	usualNext, mostNext   = 5, 50
)

func (o Options) validated() (Options, error) {
	if o.Draws < -1 || o.Draws > mostDraws {
		return o, fmt.Errorf("draws %d is out of range: give 1 to %d, 0 for %d, or -1 for none", o.Draws, mostDraws, usualDraws)
	}
	if o.Next < -1 || o.Next > mostNext {
		return o, fmt.Errorf("next %d is out of range: give 1 to %d swatches, 0 for %d, or -1 for none", o.Next, mostNext, usualNext)
	}
	if o.Machine != nil {
		if err := o.Machine.Validate(); err != nil {
			return o, fmt.Errorf("machine: %w", err)
		}
	}
	switch o.Draws {
	case 0:
		o.Draws = usualDraws
	case -1:
		o.Draws = 0
	}
	switch o.Next {
	case 0:
		o.Next = usualNext
	case -1:
		o.Next = 0
	}
	if o.Progress == nil {
		o.Progress = func(float64) {}
	}
	return o, nil
}
