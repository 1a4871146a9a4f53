package lettering

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

const (
	// levels is how many level lines a row of pixels is judged by.
	levels = 16
	// drawRows is how many rows of pixels are worked on at a time.
	drawRows = 8
	// maxDrawPixels bounds a view.
	maxDrawPixels = 100_000_000
)

// Draw is a view of part of the panel, w x h pixels: burn and keep are the shares
// of each pixel, of 65535, that burned letters cover and that must not burn. Their
// sum stays within 65535 but for rounding. It shows at any size what
// [Rasterise] makes of the dots.
func Draw(ctx context.Context, placed []Placed, part layout.Area, w, h int) (burn, keep *plane.Grey16, err error) {
	if w < 1 || h < 1 || w > maxDrawPixels/h {
		return nil, nil, fmt.Errorf("view of %d x %d pixels is out of range: choose at least 1 x 1 and at most %d pixels", w, h, maxDrawPixels)
	}
	if !within(part.Size.W, 1e-6, 2*layout.MaxLength) || !within(part.Size.H, 1e-6, 2*layout.MaxLength) {
		return nil, nil, fmt.Errorf("part of %g x %g mm is out of range: choose a part of the panel", part.Size.W, part.Size.H)
	}
	v := view{corner: part.Corners()[0], pixelW: part.Size.W / layout.MM(w), pixelH: part.Size.H / layout.MM(h)}
	v.burn, v.keep = plane.NewGrey16(w, h), plane.NewGrey16(w, h)
	err = plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		return v.rows(ctx, placed, y0, y1)
	})
	if err != nil {
		return nil, nil, err
	}
	return v.burn, v.keep, nil
}

// view is a view being drawn.
type view struct {
	corner         layout.Point // upper left
	pixelW, pixelH layout.MM
	burn, keep     *plane.Grey16
}

func (v view) rows(ctx context.Context, placed []Placed, y0, y1 int) error {
	w := v.burn.W
	step := v.pixelH / levels
	letters, rim := newSweep(v.corner.Y, step, drawRows*levels), newSweep(v.corner.Y, step, drawRows*levels)
	burn, keep := make([]float32, drawRows*w), make([]float32, drawRows*w)
	inLetters, inRim := make([]float32, w+1), make([]float32, w+1)
	for y := y0; y < y1; y += drawRows {
		rows := min(drawRows, y1-y)
		clear(burn)
		clear(keep)
		for _, p := range placed {
			letters.start(y*levels, rows*levels)
			rim.start(y*levels, rows*levels)
			some, err := p.sweep(ctx, letters, rim, min(v.pixelW, v.pixelH)/50)
			if err != nil {
				return err
			}
			if !some {
				continue
			}
			letters.join()
			rim.include(letters)
			rim.join()
			for i := range rows {
				some := v.cover(inLetters, letters.spans[i*levels:(i+1)*levels])
				some = v.cover(inRim, rim.spans[i*levels:(i+1)*levels]) || some
				if some {
					lay(p.Line.Burn, inLetters, inRim, burn[i*w:(i+1)*w], keep[i*w:(i+1)*w])
				}
			}
		}
		for i := range rows {
			store(v.burn.Row(y+i), burn[i*w:])
			store(v.keep.Row(y+i), keep[i*w:])
		}
	}
	return ctx.Err()
}

// cover adds up the share of each pixel that the spans of its level lines cover;
// into has one place more than the row has pixels. False if they cover nothing.
func (v view) cover(into []float32, lines [][]span) (some bool) {
	clear(into)
	w := float64(len(into) - 1)
	for _, spans := range lines {
		for _, s := range spans {
			from := math.Max(0, float64((s.from-v.corner.X)/v.pixelW))
			to := math.Min(w, float64((s.to-v.corner.X)/v.pixelW))
			if from >= to {
				continue
			}
			some = true
			first, last := int(from), int(to)
			if first == last {
				into[first] += float32(to-from) / levels
				continue
			}
			into[first] += float32(float64(first+1)-from) / levels
			for x := first + 1; x < last; x++ {
				into[x] += 1.0 / levels
			}
			into[last] += float32(to-float64(last)) / levels
		}
	}
	return some
}

// lay puts a line over what was drawn before: its rim and letters cover burned
// dots, and burned letters cover what was kept.
func lay(burned bool, letters, rim, burn, keep []float32) {
	for x := range burn {
		if rim[x] == 0 {
			continue
		}
		burn[x] *= 1 - min(rim[x], 1)
		keep[x] += (1 - keep[x]) * min(rim[x], 1)
		if burned {
			share := min(letters[x], 1)
			// Of this pixel's kept share the letter takes its own first: the rim lies
			// round the letter, not beside it.
			keep[x] = max(0, keep[x]-share)
			burn[x] = min(burn[x]+share, 1-keep[x])
		}
	}
}

func store(row []uint16, shares []float32) {
	for x := range row {
		row[x] = uint16(min(shares[x], 1)*65535 + 0.5)
	}
}
