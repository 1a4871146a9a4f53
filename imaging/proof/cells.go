package proof

import (
	"context"
	"image"

	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
)

// cells is the field of the mean looks of the dots' cells: worked out once for
// every pattern of neighbours, then looked up.
type cells struct {
	near  *neighbours
	dots  *plane.Bits
	looks [][3]float32 // of every pattern
}

// newCells works the looks out on the neighbours' grid of points; full is the dose
// of a fully burned area.
func newCells(ctx context.Context, near *neighbours, dots *plane.Bits, table *coat.LookTable, full float32) (*cells, error) {
	c := &cells{near, dots, make([][3]float32, near.patterns())}
	err := plane.SplitRows(ctx, len(c.looks), func(ctx context.Context, p0, p1 int) error {
		points := near.k * near.k
		shares, looks := make([]float32, points), make([][3]float32, points)
		for p := p0; p < p1; p++ {
			if p%1024 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			near.sharesOf(p, shares)
			table.Looks(shares, full, looks)
			c.looks[p] = mean(looks)
		}
		return nil
	})
	return c, err
}

func mean(looks [][3]float32) [3]float32 {
	var sum [3]float32
	for _, l := range looks {
		sum[0], sum[1], sum[2] = sum[0]+l[0], sum[1]+l[1], sum[2]+l[2]
	}
	n := float32(len(looks))
	return [3]float32{sum[0] / n, sum[1] / n, sum[2] / n}
}

func (c *cells) grid() int { return 1 }

func (c *cells) rows(ctx context.Context, region image.Rectangle, emit func(int, [][3]float32) error) error {
	line := make([][3]float32, region.Dx())
	return c.near.rows(ctx, c.dots, region, func(row int, patterns []uint16) error {
		for x, p := range patterns {
			line[x] = c.looks[p]
		}
		return emit(row, line)
	})
}
