package resample

import (
	"context"
	"slices"

	"undercoat/imaging/plane"
)

// ring holds the source rows that one target row is made of, already resampled
// across. It moves down the picture and works each source row out once.
type ring struct {
	src    *plane.Grey16
	across taps
	padded []float32   // one source row, its edge pixels repeated as far as the taps reach
	rows   [][]float32 // rows[k] is the source row first+k
	first  int
	filled bool
}

func newRing(src *plane.Grey16, across taps, n int) *ring {
	from, to := across.span()
	r := &ring{src: src, across: across, padded: make([]float32, to-from), rows: make([][]float32, n)}
	cells := make([]float32, n*len(across.first))
	for k := range r.rows {
		r.rows[k], cells = cells[:len(across.first):len(across.first)], cells[len(across.first):]
	}
	return r
}

// advance moves the ring so that it begins at the source row first, which never
// goes back.
func (r *ring) advance(ctx context.Context, first int) error {
	fresh := len(r.rows)
	if r.filled {
		fresh = min(fresh, first-r.first)
	}
	rotate(r.rows, fresh)
	r.first, r.filled = first, true
	for k := len(r.rows) - fresh; k < len(r.rows); k++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		y := min(max(first+k, 0), r.src.H-1)
		r.pad(r.src.Row(y))
		resampleRow(r.rows[k], r.padded, r.across)
	}
	return nil
}

// rotate brings the first n rows to the end, in order.
func rotate(rows [][]float32, n int) {
	slices.Reverse(rows[:n])
	slices.Reverse(rows[n:])
	slices.Reverse(rows)
}

func (r *ring) pad(row []uint16) {
	from, to := r.across.span()
	lo, hi := min(max(from, 0), len(row)), min(max(to, 0), len(row))
	for i := range lo - from {
		r.padded[i] = float32(row[0])
	}
	middle := r.padded[lo-from : hi-from]
	for i, v := range row[lo:hi] {
		middle[i] = float32(v)
	}
	tail := r.padded[hi-from:]
	for i := range tail {
		tail[i] = float32(row[len(row)-1])
	}
}

// sum adds the rows up with their shares, four at a time, so that acc is walked
// through a quarter as often.
func (r *ring) sum(acc []float64, weight []float32) {
	clear(acc)
	for k := 0; k+4 <= len(weight); k += 4 {
		addRows(acc, (*[4][]float32)(r.rows[k:]), (*[4]float32)(weight[k:]))
	}
}
