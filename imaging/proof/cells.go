package proof

import (
	"context"
	"image"

	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
)

// cells is a source that looks every dot up by the pattern of its neighbours:
// the looks at the k x k samples of its cell are worked out once a pattern, not
// once a dot. Most dots lie within one pixel, so that the mean of the cell is
// enough; for those that an edge cuts there are sums over every corner of the cell,
// so that the cut is as exact as sample by sample. No pixel may be finer than a dot.
type cells struct {
	near  *neighbours
	dots  *plane.Bits
	k     int
	means []coat.Light // of each pattern's cell
	// corners holds, for each pattern, (k+1) x (k+1) sums over the samples above
	// and to the left of a corner, as shares of the cell; heights the k+1 of
	// them on its right side.
	corners, heights []coat.Light
}

// newCells works the looks out; full is the dose of a fully burned area.
func newCells(ctx context.Context, near *neighbours, dots *plane.Bits, table *coat.LookTable, full float32) (*cells, error) {
	n, k := near.patterns(), near.k
	c := &cells{
		near: near, dots: dots, k: k,
		means: make([]coat.Light, n), corners: make([]coat.Light, n*(k+1)*(k+1)), heights: make([]coat.Light, n*(k+1)),
	}
	return c, plane.SplitRows(ctx, n, func(ctx context.Context, p0, p1 int) error {
		shares, looks := make([]float32, k*k), make([]coat.Light, k*k)
		for p := p0; p < p1; p++ {
			if p%1024 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			near.sharesOf(p, shares)
			table.Looks(shares, full, looks)
			c.add(p, looks)
		}
		return nil
	})
}

// add sums the k x k looks of a pattern's cell up.
func (c *cells) add(pattern int, looks []coat.Light) {
	k := c.k
	corners := c.cornersOf(uint16(pattern))
	share := 1 / float32(k*k)
	for y := range k {
		var line coat.Light // of the samples to the left
		for x := range k {
			line = plus(line, times(looks[y*k+x], share))
			corners[(y+1)*(k+1)+x+1] = plus(line, corners[y*(k+1)+x+1])
		}
		c.heights[pattern*(k+1)+y+1] = corners[(y+1)*(k+1)+k]
	}
	c.means[pattern] = corners[len(corners)-1]
}

func (c *cells) cornersOf(pattern uint16) []coat.Light {
	n := (c.k + 1) * (c.k + 1)
	return c.corners[int(pattern)*n:][:n]
}

func (c *cells) grid() int { return 1 }

func (c *cells) pixels(ctx context.Context, region image.Rectangle, across, down []edge, emit func([]sum)) error {
	d := descent{down: down, sums: make([]sum, len(across)-1), emit: emit}
	first, end := d.rows()
	band := image.Rect(region.Min.X, region.Min.Y+first, region.Max.X, region.Min.Y+end)
	line := make([]coat.Light, region.Dx())
	cuts := make([]place, len(across)) // where the edges cut their cells
	for i, e := range across {
		cuts[i] = c.place(e.way)
	}
	return c.near.rows(ctx, c.dots, band, func(row int, patterns []uint16) error {
		d.row(row+first, func(a, b float32) {
			s := strip{c, c.place(a), c.place(b)}
			s.whole(patterns, line)
			s.sum(patterns, line, across, cuts, d.sums)
		})
		return nil
	})
}

// place is a place along one side of a cell: between the corners at and at+1,
// past the share way of the sample there.
type place struct {
	at  int
	way float32
}

func (c *cells) place(share float32) place {
	f := share * float32(c.k)
	at := min(c.k-1, int(f))
	return place{at, f - float32(at)}
}

// isStart and isEnd tell whether the place is the beginning or end of the side.
func (p place) isStart() bool    { return p.at == 0 && p.way == 0 }
func (p place) isEnd(k int) bool { return p.at == k-1 && p.way == 1 }

// strip is a row of cells from top to bottom, or a part of its height.
type strip struct {
	*cells
	top, bottom place
}

// whole puts the light of each cell into line.
func (s strip) whole(patterns []uint16, line []coat.Light) {
	line = line[:len(patterns)]
	fromTop, toBottom := s.top.isStart(), s.bottom.isEnd(s.k)
	if fromTop && toBottom {
		for x, p := range patterns {
			line[x] = s.means[p]
		}
		return
	}
	for x, p := range patterns {
		heights := s.heights[int(p)*(s.k+1):][:s.k+1]
		light := mix(heights[s.bottom.at], heights[s.bottom.at+1], s.bottom.way)
		if !fromTop {
			light = less(light, mix(heights[s.top.at], heights[s.top.at+1], s.top.way))
		}
		line[x] = light
	}
}

// left is the light of a cell to the left of x.
func (s strip) left(pattern uint16, x place) coat.Light {
	corners := s.cornersOf(pattern)
	light := s.above(corners, x, s.bottom)
	if !s.top.isStart() {
		light = less(light, s.above(corners, x, s.top))
	}
	return light
}

// above is the light of a cell above y and left of x; between the corners it
// runs straight, as the look is even within a sample.
func (s strip) above(corners []coat.Light, x, y place) coat.Light {
	lower := corners[(y.at+1)*(s.k+1)+x.at:][:2]
	if y.way == 1 {
		return mix(lower[0], lower[1], x.way)
	}
	upper := corners[y.at*(s.k+1)+x.at:][:2]
	return mix(mix(upper[0], upper[1], x.way), mix(lower[0], lower[1], x.way), y.way)
}

// sum adds the strip's light to the pixels; line is what whole gave.
func (s strip) sum(patterns []uint16, line []coat.Light, across []edge, cuts []place, sums []sum) {
	var rest coat.Light // to the right of the edge, in the cell that it cuts
	if e := across[0]; e.way > 0 {
		rest = less(line[e.at], s.left(patterns[e.at], cuts[0]))
	}
	for p := range sums {
		a, b := across[p], across[p+1]
		light := rest
		inner := line[a.at:b.at]
		if a.way > 0 && len(inner) > 0 {
			inner = inner[1:]
		}
		for _, l := range inner {
			light = plus(light, l)
		}
		rest = coat.Light{}
		if b.way > 0 {
			left := s.left(patterns[b.at], cuts[p+1])
			light = plus(light, left)
			rest = less(line[b.at], left)
		}
		sums[p].add(light, 1)
	}
}
