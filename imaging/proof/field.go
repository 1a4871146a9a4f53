package proof

import (
	"context"
	"image"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
)

// field gives the look over a raster, line by line, at an even grid of samples.
type field interface {
	// grid is the number of samples across a dot, in both directions.
	grid() int
	// rows gives the looks over the dots of region, top row first: grid times
	// as many rows as region has dots, and as many samples a row, each red, green
	// and blue in linear light. row counts from 0; looks is used again after emit.
	rows(ctx context.Context, region image.Rectangle, emit func(row int, looks []coat.Light) error) error
}

// bySample is a field as a source: sample by sample.
type bySample struct{ field }

func (s bySample) pixels(ctx context.Context, region image.Rectangle, across, down []edge, emit func([]sum)) error {
	d := descent{down: down, sums: make([]sum, len(across)-1), emit: emit}
	line := make([]coat.Light, len(across)-1)
	k := s.grid()
	first, end := d.rows()
	band := image.Rect(region.Min.X, region.Min.Y+first/k, region.Max.X, region.Min.Y+(end+k-1)/k)
	return s.rows(ctx, band, func(row int, looks []coat.Light) error {
		row += first / k * k
		if row < first || row >= end {
			return nil
		}
		sumRow(across, looks, line)
		d.row(row, func(a, b float32) {
			height := float64(b - a)
			for p, l := range line {
				d.sums[p].add(l, height)
			}
		})
		return nil
	})
}

// newSource picks the quickest way to proof a region of dots. Where dots burn or do
// not, and no pixel is finer than a dot, cells serve; else, under a beam too wide for them, or for fewer
// dots than there are patterns, it takes k x k samples a dot.
func newSource(ctx context.Context, r Recipe, raster burn.Source, region image.Rectangle, table *coat.LookTable, pixelFinerThanDot bool, k int) (source, error) {
	if dots, one := burn.Dots(raster); one && !pixelFinerThanDot {
		near, err := newNeighbours(ctx, r)
		if err != nil {
			return nil, err
		}
		if near != nil && near.patterns() <= region.Dx()*region.Dy() {
			return newCells(ctx, near, dots, table, float32(r.FullDose()))
		}
	}
	f, err := newSampled(r, raster, table, k)
	return bySample{f}, err
}

// sampled is the field worked out sample by sample: exposed, then shown through.
type sampled struct {
	exposer *burn.Exposer
	raster  burn.Source
	table   *coat.LookTable
	full    float32 // dose of a fully burned area, J/cm2
}

func newSampled(r Recipe, raster burn.Source, table *coat.LookTable, k int) (sampled, error) {
	exposer, err := r.exposer(k)
	return sampled{exposer, raster, table, float32(r.FullDose())}, err
}

func (s sampled) grid() int { return s.exposer.Grid() }

func (s sampled) rows(ctx context.Context, region image.Rectangle, emit func(int, []coat.Light) error) error {
	looks := make([]coat.Light, s.grid()*region.Dx())
	return s.exposer.Expose(ctx, s.raster, region, nil, func(row int, shares []float32) error {
		s.table.Looks(shares, s.full, looks)
		return emit(row, looks)
	})
}
