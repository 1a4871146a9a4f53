package main

import (
	"fmt"
	"io"
	"os"
)

// progress shows how far a long run is, on a terminal only.
type progress struct {
	w    io.Writer
	last int
}

// newProgress shows on w if w is a terminal.
func newProgress(w io.Writer) *progress {
	p := &progress{last: -1}
	f, ok := w.(*os.File)
	if !ok {
		return p
	}
	if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
		p.w = f
	}
	return p
}

func (p *progress) show(fraction float64) {
	percent := int(100 * fraction)
	if p.w == nil || percent == p.last {
		return
	}
	p.last = percent
	fmt.Fprintf(p.w, "\r%3d %%", percent)
}

// clear takes the line away again.
func (p *progress) clear() {
	if p.w != nil && p.last >= 0 {
		fmt.Fprint(p.w, "\r     \r")
	}
}
