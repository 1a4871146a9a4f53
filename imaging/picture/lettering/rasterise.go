package lettering

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// sweepRows is how many rows of dots are worked on at a time.
const sweepRows = 64

// Rasterise makes two masks of the raster's own dots, never screened: burn has
// the dots of burned letters, keep those that must not burn, which are the
// letters left in the top coat and the margins round either. No dot is in both; a
// later line lies over an earlier one. A dot belongs to a letter if its centre
// lies inside the outline by the non-zero rule.
//
// It takes memory for the two masks only and time by the letters' size.
func Rasterise(ctx context.Context, placed []Placed, pl layout.Placement) (burn, keep *plane.Bits, err error) {
	return RasterisePart(ctx, placed, pl, image.Rect(0, 0, pl.Grid.Cols, pl.Grid.Rows))
}

// RasterisePart is the part of Rasterise's masks inside a rectangle of dots, with
// the part's upper left dot at (0, 0). The part must lie inside the raster.
func RasterisePart(ctx context.Context, placed []Placed, pl layout.Placement, part image.Rectangle) (burn, keep *plane.Bits, err error) {
	if whole := image.Rect(0, 0, pl.Grid.Cols, pl.Grid.Rows); part.Empty() || !part.In(whole) {
		return nil, nil, fmt.Errorf("part %v does not lie inside the raster of %d x %d dots: choose a part of it", part, pl.Grid.Cols, pl.Grid.Rows)
	}
	if !(pl.Grid.Pitch > 0) {
		return nil, nil, fmt.Errorf("pitch %g mm is no distance between dots: choose a pitch above 0", pl.Grid.Pitch)
	}
	d := dots{left: pl.Corners[0].X, top: pl.Corners[0].Y, pitch: pl.Grid.Pitch, part: part}
	d.burn, d.keep = plane.NewBits(part.Dx(), part.Dy()), plane.NewBits(part.Dx(), part.Dy())
	err = plane.SplitRows(ctx, part.Dy(), func(ctx context.Context, y0, y1 int) error {
		return d.rows(ctx, placed, y0, y1)
	})
	if err != nil {
		return nil, nil, err
	}
	return d.burn, d.keep, nil
}

// dots is a part of a raster being filled.
type dots struct {
	left, top, pitch layout.MM // of the whole raster
	part             image.Rectangle
	burn, keep       *plane.Bits
}

func (d dots) rows(ctx context.Context, placed []Placed, y0, y1 int) error {
	letters, rim := newSweep(d.top, d.pitch, sweepRows), newSweep(d.top, d.pitch, sweepRows)
	for y := y0; y < y1; y += sweepRows {
		lines := min(sweepRows, y1-y)
		for _, p := range placed {
			letters.start(d.part.Min.Y+y, lines)
			rim.start(d.part.Min.Y+y, lines)
			some, err := p.sweep(ctx, letters, rim, d.pitch/200)
			if err != nil {
				return err
			}
			if !some {
				continue
			}
			for i := range lines {
				d.apply(p.Line.Burn, y+i, letters.spans[i], rim.spans[i])
			}
		}
	}
	return nil
}

// sweep finds where the lines of the sweeps lie in the letters, and within the
// margin of their outlines; false where no letter is near.
func (p Placed) sweep(ctx context.Context, letters, rim *sweep, tolerance layout.MM) (some bool, err error) {
	low, high := letters.y(len(letters.spans)-1), letters.y(0)
	margin := p.Line.Margin
	for _, g := range p.Glyphs {
		if !g.hull.some || g.hull.min.Y-margin > high || g.hull.max.Y+margin < low {
			continue
		}
		if err := ctx.Err(); err != nil {
			return false, err
		}
		some = true
		letters.add(g.Path, tolerance)
		if margin > 0 {
			rim.grow(g.Path, margin, 10*tolerance) // a pen smooths its path
		}
	}
	return some, nil
}

// apply puts one line of lettering on a row of the part.
func (d dots) apply(burned bool, y int, letters, rim []span) {
	burn, keep := d.burn.Row(y), d.keep.Row(y)
	on, off := keep, burn
	for _, s := range rim {
		from, to := d.columns(s)
		setRun(keep, from, to)
		clearRun(burn, from, to)
	}
	if burned {
		on, off = burn, keep
	}
	for _, s := range letters {
		from, to := d.columns(s)
		setRun(on, from, to)
		clearRun(off, from, to)
	}
}

// columns are those of the part whose centres lie in a span: from..to-1.
func (d dots) columns(s span) (from, to int) {
	column := func(x layout.MM) int {
		at := math.Ceil(float64((x-d.left)/d.pitch) - 0.5)
		return int(math.Max(0, math.Min(at-float64(d.part.Min.X), float64(d.part.Dx()))))
	}
	return column(s.from), column(s.to)
}

// setRun sets the bits from..to-1 of a packed row, clearRun clears them.
func setRun(row []byte, from, to int) {
	eachByte(from, to, func(i int, mask byte) { row[i] |= mask })
}

func clearRun(row []byte, from, to int) {
	eachByte(from, to, func(i int, mask byte) { row[i] &^= mask })
}

// eachByte gives the bytes of a run of bits, most significant bit first, with the
// bits of each that belong to the run.
func eachByte(from, to int, do func(i int, mask byte)) {
	if from >= to {
		return
	}
	first, last := from>>3, (to-1)>>3
	for i := first; i <= last; i++ {
		mask := byte(0xff)
		if i == first {
			mask &= 0xff >> (from & 7)
		}
		if i == last {
			mask &= 0xff << (7 - (to-1)&7)
		}
		do(i, mask)
	}
}
