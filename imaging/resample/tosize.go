package resample

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// maxRing bounds the row ring of one core, in values. Only a crop squeezed very
// unevenly gets there; one that keeps its shape needs six times the picture's width.
const maxRing = 1 << 26

// ToSize resamples the crop of src, in linear light, to exactly cols x rows. It
// is a separable Lanczos-3 whose support widens when shrinking. Pixels around
// the crop take part; past the edge of the picture its edge pixels go on.
//
// An even area keeps its value to the last bit and a ramp stays a ramp away from
// the picture's edge. Sums are taken in a fixed order, so the result is the same
// on any number of cores. It needs one row ring a core and no second picture, and
// stops within some rows of the end of ctx.
func ToSize(ctx context.Context, src *plane.Grey16, crop layout.Crop, cols, rows int) (*plane.Grey16, error) {
	r, err := newResizing(src, crop, cols, rows)
	if err != nil {
		return nil, err
	}
	out := plane.NewGrey16(cols, rows)
	if err := plane.SplitRows(ctx, rows, func(ctx context.Context, y0, y1 int) error {
		return r.rows(ctx, y0, y1, out.Row)
	}); err != nil {
		return nil, err
	}
	return out, nil
}

// resizing makes rows of a raster out of a crop; any number of goroutines may do so.
type resizing struct {
	src          *plane.Grey16
	across, down taps
}

func newResizing(src *plane.Grey16, crop layout.Crop, cols, rows int) (resizing, error) {
	if err := inside(crop, src.W, src.H); err != nil {
		return resizing{}, err
	}
	if cols < 1 || rows < 1 || int64(cols)*int64(rows) > layout.MaxDots {
		return resizing{}, fmt.Errorf("raster of %d x %d dots is outside 1 to %d million dots: choose another pitch or size",
			cols, rows, layout.MaxDots/1_000_000)
	}
	r := resizing{src, newTaps(crop.X, crop.W, cols), newTaps(crop.Y, crop.H, rows)}
	if int64(r.down.n)*int64(cols) > maxRing {
		return resizing{}, fmt.Errorf("raster of %d x %d dots squeezes the crop %v too unevenly: give it more nearly the crop's shape", cols, rows, crop)
	}
	return r, nil
}

// rows makes the rows y0..y1-1, each into what row gives for it.
func (r resizing) rows(ctx context.Context, y0, y1 int, row func(y int) []uint16) error {
	ring := newRing(r.src, r.across, r.down.n)
	acc := make([]float64, len(r.across.first))
	for y := y0; y < y1; y++ {
		if err := ring.advance(ctx, int(r.down.first[y])); err != nil {
			return err
		}
		ring.sum(acc, r.down.weight[y*r.down.n:(y+1)*r.down.n])
		round(row(y), acc)
	}
	return nil
}

// inside refuses a crop that is empty, not finite or past the picture's edge, in
// the words of its own package. Any shape will do here.
func inside(crop layout.Crop, w, h int) error {
	shape := crop.W / crop.H
	if !(shape > 0) || math.IsInf(shape, 1) {
		shape = 1 // no shape at all: one of the other checks says why
	}
	return crop.Validate(w, h, shape)
}
