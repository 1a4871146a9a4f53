package resample

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// frame is how a view is cut from a picture. The resampling library knows whole
// pixels only, so the crop is taken with the part pixels around it, resized a
// little too large, and trimmed to the view.
type frame struct{ x, y side }

// side is a frame along one axis.
type side struct {
	first  int // the first source pixel
	cell   int // source pixels averaged into one cell
	cells  int
	length int // of the source
	scaled int // view pixels all the cells become
	skip   int // view pixels to trim at the beginning
	size   int // view pixels
}

func newFrame(w, h int, crop layout.Crop, maxW, maxH int) (frame, error) {
	if err := inside(crop, w, h); err != nil {
		return frame{}, err
	}
	if maxW < 1 || maxH < 1 || maxW > maxView || maxH > maxView {
		return frame{}, fmt.Errorf("view of at most %d x %d pixels is outside 1..%d: ask for another size", maxW, maxH, maxView)
	}
	vw, vh := ViewSize(crop, maxW, maxH)
	return frame{newSide(crop.X, crop.W, w, vw), newSide(crop.Y, crop.H, h, vh)}, nil
}

// newSide averages as many whole pixels into a cell as leave a cell for each
// view pixel.
func newSide(from, span float64, length, size int) side {
	scale := float64(size) / span
	s := side{length: length, size: size, cell: min(max(int(1/scale), 1), length)}
	s.first = min(max(int(math.Floor(from)), 0), length-1)
	reach := math.Min(from+span, float64(length)) - float64(s.first)
	s.cells = max(1, int(math.Ceil(reach/float64(s.cell))))
	s.skip = max(0, int(math.Round((from-float64(s.first))*scale)))
	s.scaled = max(s.skip+size, int(math.Round(float64(s.cells*s.cell)*scale)))
	return s
}

// gather averages the source into rows of cells and hands them on, from several
// goroutines at once. A row holds `channels` values a cell and is good for the
// one call only.
func (f frame) gather(ctx context.Context, source func(y int) []uint16, channels int, emit func(y int, row []uint16)) error {
	return plane.SplitRows(ctx, f.y.cells, func(ctx context.Context, y0, y1 int) error {
		sums := make([]uint64, channels*f.x.cells)
		mean := make([]uint16, len(sums))
		n := uint64(f.x.cell * f.y.cell)
		for y := y0; y < y1; y++ {
			clear(sums)
			for dy := range f.y.cell {
				if err := ctx.Err(); err != nil {
					return err
				}
				f.x.add(sums, source(min(f.y.first+y*f.y.cell+dy, f.y.length-1)), channels)
			}
			for i, v := range sums {
				mean[i] = uint16((v + n/2) / n)
			}
			emit(y, mean)
		}
		return nil
	})
}

// add adds one source row to the sums of its cells. A cell that reaches past the
// picture sees the last pixel go on.
func (s side) add(sums []uint64, row []uint16, channels int) {
	row = row[channels*s.first:]
	for len(sums) > 0 {
		sum := sums[:channels]
		sums = sums[channels:]
		for range s.cell {
			for c := range sum {
				sum[c] += uint64(row[c])
			}
			if len(row) > channels {
				row = row[channels:]
			}
		}
	}
}
