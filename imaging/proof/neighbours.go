package proof

import (
	"context"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// leftOut is the share of the full dose that dots outside a neighbourhood may
// bring to a point of the dot in its middle before the neighbourhood counts as too
// small.
const leftOut = 5e-4

// neighbourhoods are tried from the smallest on: dots to either side, and lines
// above and below. More than 15 dots would make too many patterns.
var neighbourhoods = []struct{ side, above int }{{1, 1}, {2, 1}, {1, 2}}

// neighbours is the light that a dot's cell gets from the dots about it. Beams
// are hardly wider than the pitch, so that only the next ones count: all that can
// happen on a panel of ten million dots is a few hundred patterns.
//
// A pattern is a number: the columns from left to right, from the highest bits
// down, and in each the lines from the top down. 1 is a burned dot.
type neighbours struct {
	side, above int
	k           int
	byColumn    [][][]float32 // for each column and its bits, the shares of the full dose at k*k points
	spread      [256]uint64   // the bits of a byte, as far apart as there are lines
}

func (n *neighbours) columns() int  { return 2*n.side + 1 }
func (n *neighbours) lines() int    { return 2*n.above + 1 }
func (n *neighbours) patterns() int { return 1 << (n.columns() * n.lines()) }

// newNeighbours gives nil for a beam so wide, against the pitch, that the
// patterns would be too many.
func newNeighbours(ctx context.Context, r Recipe) (*neighbours, error) {
	f, err := exposeDot(ctx, r)
	if err != nil {
		return nil, err
	}
	for _, size := range neighbourhoods {
		if f.outside(size.side, size.above) > leftOut {
			continue
		}
		n := &neighbours{side: size.side, above: size.above, k: f.k}
		for c := -n.side; c <= n.side; c++ {
			n.byColumn = append(n.byColumn, f.column(c, n.above))
		}
		n.fillSpread()
		return n, nil
	}
	return nil, nil
}

func (n *neighbours) fillSpread() {
	for b := range n.spread {
		for bit := range 8 {
			n.spread[b] |= uint64(b>>bit&1) << (bit * n.lines())
		}
	}
}

// sharesOf puts the shares of the full dose, at the k*k points of the cell in a
// pattern's middle, into shares.
func (n *neighbours) sharesOf(pattern int, shares []float32) {
	clear(shares)
	lines := n.lines()
	for c, byBits := range n.byColumn {
		bits := pattern >> (lines * (len(n.byColumn) - 1 - c)) & (1<<lines - 1)
		for i, v := range byBits[bits] {
			shares[i] += v
		}
	}
}

// rows gives the pattern about every dot of region, line after line from the top
// down. Dots outside the raster are not burned. patterns is used again after emit.
func (n *neighbours) rows(ctx context.Context, dots *plane.Bits, region image.Rectangle, emit func(row int, patterns []uint16) error) error {
	first := floorDiv8(region.Min.X - n.side)
	last := floorDiv8(region.Max.X + n.side - 1)
	columns := make([]uint8, 8*(last-first+1))
	from := region.Min.X - n.side - 8*first
	patterns := make([]uint16, region.Dx())
	lines := make([][]byte, n.lines())
	blank := make([]byte, dots.Stride)
	for y := region.Min.Y; y < region.Max.Y; y++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		for l := range lines {
			lines[l] = blank
			if at := y + l - n.above; at >= 0 && at < dots.H {
				lines[l] = dots.Row(at)
			}
		}
		n.stand(lines, first, columns)
		n.slide(columns[from:], patterns)
		if err := emit(y-region.Min.Y, patterns); err != nil {
			return err
		}
	}
	return nil
}

// stand turns lines of packed dots, from the byte first on, into one number for
// each column of dots.
func (n *neighbours) stand(lines [][]byte, first int, columns []uint8) {
	count := n.lines()
	mask := uint64(1)<<count - 1
	for b := 0; len(columns) >= 8; b++ {
		word := uint64(0)
		if at := first + b; at >= 0 && at < len(lines[0]) {
			for _, line := range lines {
				word = word<<1 | n.spread[line[at]]
			}
		}
		out := columns[:8]
		for i := 7; i >= 0; i-- {
			out[i] = uint8(word & mask)
			word >>= uint(count) & 63
		}
		columns = columns[8:]
	}
}

// slide puts the pattern about each dot together from the columns about it.
func (n *neighbours) slide(columns []uint8, patterns []uint16) {
	lines := uint(n.lines()) & 15
	mask := uint16(n.patterns() - 1)
	pattern := uint16(0)
	for _, c := range columns[:2*n.side] {
		pattern = pattern<<lines | uint16(c)
	}
	columns = columns[2*n.side:][:len(patterns)]
	for i, c := range columns {
		pattern = pattern<<lines&mask | uint16(c)
		patterns[i] = pattern
	}
}

func floorDiv8(x int) int { return x >> 3 }

// footprint is what one burned dot gives to the cells about it, as shares of the
// dose of a fully burned area.
type footprint struct {
	k      int
	shares [2*reach + 1][2*reach + 1][]float32 // by line and dot from the burned one; k*k points
}

// reach is how far from its dot a footprint is looked at, in dots.
const reach = 3

func exposeDot(ctx context.Context, r Recipe) (*footprint, error) {
	const around = 2*reach + 1
	k := r.grid()
	exposer, err := r.exposer(k)
	if err != nil {
		return nil, err
	}
	dot := plane.NewBits(around, around)
	dot.Set(reach, reach)
	f := &footprint{k: k}
	return f, exposer.Expose(ctx, burn.OneBit(dot), image.Rect(0, 0, around, around), nil, func(row int, shares []float32) error {
		for x := range around {
			cell := &f.shares[row/k][x]
			*cell = append(*cell, shares[x*k:(x+1)*k]...)
		}
		return nil
	})
}

// at is what a cell gets from a burned dot that lies side dots to its right and
// below lines beneath it.
func (f *footprint) at(side, below int) []float32 { return f.shares[reach-below][reach-side] }

// outside is the largest share of the full dose that burned dots outside a
// neighbourhood bring to a point of the cell in its middle.
func (f *footprint) outside(side, above int) float64 {
	worst := 0.0
	for point := range f.k * f.k {
		sum := 0.0
		for dy := -reach; dy <= reach; dy++ {
			for dx := -reach; dx <= reach; dx++ {
				if max(dx, -dx) > side || max(dy, -dy) > above {
					sum += float64(f.at(dx, dy)[point])
				}
			}
		}
		worst = math.Max(worst, sum)
	}
	return worst
}

// column is what the cell gets from each pattern of the column side dots to its
// right.
func (f *footprint) column(side, above int) [][]float32 {
	lines := 2*above + 1
	all := make([][]float32, 1<<lines)
	for bits := range all {
		all[bits] = make([]float32, f.k*f.k)
		for l := range lines {
			if bits>>(lines-1-l)&1 == 0 {
				continue
			}
			for i, share := range f.at(side, l-above) {
				all[bits][i] += share
			}
		}
	}
	return all
}
