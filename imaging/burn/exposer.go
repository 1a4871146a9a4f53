package burn

import (
	"context"
	"image"

	"undercoat/layout"
)

// Exposer exposes rasters of one machine and pitch on one grid. It is made once
// and may be used by any number of goroutines at once, each with its own Buffer.
type Exposer struct {
	k             int
	along, across kernel
	lookup        *lookup // nil for a beam that reaches too far for one
	alongTaps     [][]tap // for each sub-cell, what counts along the row
	acrossTaps    [][]tap // for each sub-row, what counts across the rows
}

// tap is a neighbour's weight.
type tap struct {
	offset int
	weight float32
}

// NewExposer prepares for the machine's beam, a pitch of 0.01..1 mm, and k x k
// sub-cells a dot, k in 1..MaxGrid.
func NewExposer(m Machine, pitch layout.MM, k int) (*Exposer, error) {
	return newExposer(m, pitch, k, false)
}

// NewTurnedExposer is [NewExposer] for a panel that lies a quarter turned on the bed:
// the machine's lines run along the raster's columns, and the beam with them.
func NewTurnedExposer(m Machine, pitch layout.MM, k int) (*Exposer, error) {
	return newExposer(m, pitch, k, true)
}

func newExposer(m Machine, pitch layout.MM, k int, turned bool) (*Exposer, error) {
	b, err := m.beam(pitch)
	if err != nil {
		return nil, err
	}
	if err := checkGrid(k); err != nil {
		return nil, err
	}
	e := &Exposer{k: k, along: alongKernel(b, k), across: acrossKernel(b, k)}
	if turned {
		e.along, e.across = e.across, e.along
	}
	e.lookup = newLookup(e.along)
	e.alongTaps, e.acrossTaps = e.along.taps(), e.across.taps()
	return e, nil
}

// taps lists what counts for each sub-cell, from the first neighbour on.
func (kern kernel) taps() [][]tap {
	all := make([][]tap, len(kern.weights))
	for c, w := range kern.weights {
		for i, v := range w {
			if v > 0 {
				all[c] = append(all[c], tap{i - kern.reach, float32(v)})
			}
		}
	}
	return all
}

// Grid is the number of sub-cells along each side of a dot.
func (e *Exposer) Grid() int { return e.k }

// Reach is how many dots away, along and across the rows, a dot still counts.
// Exposing a region reads the raster that far beyond it.
func (e *Exposer) Reach() (along, across int) { return e.along.reach, e.across.reach }

// Buffer is an Exposer's memory, kept from one call to the next: after the first
// call on a region no larger one call allocates nothing. The zero value is ready.
type Buffer struct {
	lines  [][]float32 // the last rows, exposed along the row: a ring
	dark   []bool      // rows of the ring with no light at all
	shares []float32   // one row's shares of power
	inside []float32   // the same with the beam's reach on both sides of the region
	plane  []float32   // one sub-cell of each dot
	out    []float32
	terms  []term
}

// Expose calls emit with each row of sub-cells of the region, in order from the
// top: k*region.Dy() rows of k*region.Dx() doses, as shares of the dose of a
// fully burned field. The slice is overwritten after emit returns. The region, in
// dots, may lie partly or wholly outside the raster, where no dot burns; a dose
// does not depend on which region it was asked in. An error of emit ends the call
// and is returned, and so does ctx within a row.
func (e *Exposer) Expose(ctx context.Context, src Source, region image.Rectangle, buf *Buffer, emit func(row int, shares []float32) error) error {
	if buf == nil {
		buf = &Buffer{}
	}
	buf.fit(e, src, region)
	if region.Empty() {
		return ctx.Err()
	}
	reach := e.across.reach
	ring := len(buf.lines)
	for y := region.Min.Y - reach; y < region.Min.Y+reach; y++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		e.line(src, y, region, buf)
	}
	row := 0
	for y := region.Min.Y; y < region.Max.Y; y++ {
		e.line(src, y+reach, region, buf)
		for _, taps := range e.acrossTaps {
			if err := ctx.Err(); err != nil {
				return err
			}
			buf.terms = buf.terms[:0]
			for _, t := range taps {
				at := wrap(y+t.offset, ring)
				if !buf.dark[at] {
					buf.terms = append(buf.terms, term{t.weight, buf.lines[at]})
				}
			}
			mix(buf.out, buf.terms)
			if err := emit(row, buf.out); err != nil {
				return err
			}
			row++
		}
	}
	return nil
}

// line exposes row y of the raster along the row, over the region's columns, into
// its place in the ring.
func (e *Exposer) line(src Source, y int, region image.Rectangle, buf *Buffer) {
	at := wrap(y, len(buf.lines))
	w, h := src.Size()
	if y < 0 || y >= h || region.Max.X+e.along.reach <= 0 || region.Min.X-e.along.reach >= w {
		buf.dark[at] = true
		return
	}
	if dots, ok := src.(oneBit); ok && e.lookup != nil {
		bits := dots.Row(y)
		buf.dark[at] = allZero(bits)
		if !buf.dark[at] {
			e.lookup.row(bits, region.Min.X, buf.lines[at])
		}
		return
	}
	src.ShareRow(y, buf.shares)
	buf.dark[at] = false
	clear(buf.inside)
	x0 := region.Min.X - e.along.reach
	if from, to := max(0, x0), min(w, x0+len(buf.inside)); from < to {
		copy(buf.inside[from-x0:], buf.shares[from:to])
	}
	e.shares(buf.inside, buf, buf.lines[at])
}

// shares exposes a row of power shares, which reaches beyond the region on both
// sides, one sub-cell of all dots after the other.
func (e *Exposer) shares(inside []float32, buf *Buffer, line []float32) {
	n := len(buf.plane)
	for c, taps := range e.alongTaps {
		buf.terms = buf.terms[:0]
		for _, t := range taps {
			buf.terms = append(buf.terms, term{t.weight, inside[t.offset+e.along.reach:][:n]})
		}
		if e.k == 1 {
			mix(line, buf.terms)
			return
		}
		mix(buf.plane, buf.terms)
		for i, v := range buf.plane {
			line[i*e.k+c] = v
		}
	}
}

// fit makes the buffer large enough.
func (buf *Buffer) fit(e *Exposer, src Source, region image.Rectangle) {
	w, _ := src.Size()
	n := max(0, region.Dx())
	ring := 2*e.across.reach + 1
	for len(buf.lines) < ring {
		buf.lines = append(buf.lines, nil)
		buf.dark = append(buf.dark, true)
	}
	buf.lines, buf.dark = buf.lines[:ring], buf.dark[:ring]
	for i := range buf.lines {
		buf.lines[i] = resized(buf.lines[i], n*e.k)
	}
	buf.out = resized(buf.out, n*e.k)
	buf.plane = resized(buf.plane, n)
	buf.shares = resized(buf.shares, w)
	buf.inside = resized(buf.inside, n+2*e.along.reach)
}

func resized(s []float32, n int) []float32 {
	if cap(s) < n {
		return make([]float32, n)
	}
	return s[:n]
}

func wrap(y, ring int) int {
	if y %= ring; y < 0 {
		y += ring
	}
	return y
}

func allZero(bits []byte) bool {
	for _, b := range bits {
		if b != 0 {
			return false
		}
	}
	return true
}
