package proof

import (
	"context"
	"image"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
)

// field gives the look over a raster, line by line, at an even grid of points.
type field interface {
	// grid is the number of points across a dot, in both directions.
	grid() int
	// rows gives the looks over the dots of region, top row first: grid times
	// as many rows as region has dots, and as many points a row, each red, green
	// and blue in linear light. row counts from 0; looks is used again after emit.
	rows(ctx context.Context, region image.Rectangle, emit func(row int, looks [][3]float32) error) error
}

// newField picks the quicker way. Where no pixel is finer than a dot the mean
// look of a dot is enough; else, or under a beam too wide for patterns, it takes
// k x k samples a dot.
func newField(ctx context.Context, r Recipe, dots *plane.Bits, table *coat.LookTable, wholeDots bool, k int) (field, error) {
	if wholeDots {
		near, err := newNeighbours(ctx, r)
		if err != nil {
			return nil, err
		}
		if near != nil {
			return newCells(ctx, near, dots, table, float32(r.FullDose()))
		}
	}
	return newSampled(r, dots, table, k)
}

// sampled is the field worked out point by point: exposed, then shown through.
type sampled struct {
	exposer *burn.Exposer
	dots    burn.Source
	table   *coat.LookTable
	full    float32 // dose of a fully burned area, J/cm2
}

func newSampled(r Recipe, dots *plane.Bits, table *coat.LookTable, k int) (sampled, error) {
	exposer, err := r.exposer(k)
	return sampled{exposer, burn.OneBit(dots), table, float32(r.FullDose())}, err
}

func (s sampled) grid() int { return s.exposer.Grid() }

func (s sampled) rows(ctx context.Context, region image.Rectangle, emit func(int, [][3]float32) error) error {
	looks := make([][3]float32, s.grid()*region.Dx())
	return s.exposer.Expose(ctx, s.dots, region, nil, func(row int, shares []float32) error {
		s.table.Looks(shares, s.full, looks)
		return emit(row, looks)
	})
}
