package screen

import (
	"fmt"
	"image"
	"math"
	"math/bits"
	"slices"

	"undercoat/imaging/plane"
)

// Patterns is the number of patterns that a dot and its eight neighbours can make.
//
// A pattern is a number: the columns from left to right, from the highest bits
// down, and in each the dots from the top down. 1 is a burned dot. So 1<<4 is a dot
// by itself, 1<<7 its neighbour to the left, and 1<<5 the one above.
const Patterns = 1 << 9

// shareUnit is what shares are kept in: coarse enough that a table made on another
// machine, where the last bits of its logarithms differ, is the same.
const shareUnit = 1 << 16

// CellTable is what the beam does to one cell of the raster, as far as it depends
// on the dot in it and on its eight neighbours: the share of the cell that is burned
// in each pattern. It never changes and may be used by any number of goroutines.
type CellTable struct {
	shares [Patterns]int32 // in 1/shareUnit
	// gains is what a dot adds to itself and its neighbours, in fine tints, for
	// each pattern of the dots decided before it; for rows that run to the right
	// and to the left.
	gains [2][decidedPatterns]int32
	most  int32 // the largest gain
}

const slack = 1e-3 // in what shares must be

// NewCellTable makes a table; [BeamCells] makes one for a beam. shares are by
// pattern, 0..1: any measure of how far a cell has come from untouched to what it
// is where every dot burns. It need not reach 1; tints are shares of what it does
// reach. An untouched cell has 0, and a further dot never makes the share smaller;
// a thousandth more or less does not matter.
func NewCellTable(shares *[Patterns]float64) (*CellTable, error) {
	for p, s := range shares {
		if !(s >= 0 && s <= 1) {
			return nil, fmt.Errorf("share %g of cell pattern %d is out of range: give 0 to 1", s, p)
		}
		for dot := range 9 {
			if less := p &^ (1 << dot); shares[less] > s+slack {
				return nil, fmt.Errorf("share %g of cell pattern %d is more than the %g of pattern %d, which has a dot more: give a measure that only grows with the dose",
					shares[less], less, s, p)
			}
		}
	}
	if shares[0] > slack {
		return nil, fmt.Errorf("share %g of the cell pattern without a dot is not 0: measure from the untouched panel", shares[0])
	}
	if s := shares[Patterns-1]; s < slack {
		return nil, fmt.Errorf("share %g of the cell pattern with all dots is next to nothing: give the machine more power", s)
	}
	c := &CellTable{}
	for p, s := range shares {
		c.shares[p] = int32(math.Round(s * shareUnit))
	}
	c.shares[0] = 0
	c.gains = [2][decidedPatterns]int32{c.gainsOf(plainly), c.gainsOf(mirrored)}
	c.most = slices.Max(c.gains[0][:])
	return c, nil
}

// Share is the burned share of the cell in the middle of a pattern, 0..Patterns-1.
func (c *CellTable) Share(pattern int) float64 { return float64(c.shares[pattern]) / shareUnit }

// Burned is how much of a region burns, in cells. The region may reach beyond the
// raster, where no dot burns.
func (c *CellTable) Burned(dots *plane.Bits, region image.Rectangle) float64 {
	burns := func(x, y int) int {
		if x < 0 || y < 0 || x >= dots.W || y >= dots.H || !dots.At(x, y) {
			return 0
		}
		return 1
	}
	column := func(x, y int) int { return burns(x, y-1)<<2 | burns(x, y)<<1 | burns(x, y+1) }
	sum := int64(0)
	for y := region.Min.Y; y < region.Max.Y; y++ {
		pattern := column(region.Min.X-1, y)<<3 | column(region.Min.X, y)
		for x := region.Min.X; x < region.Max.X; x++ {
			pattern = (pattern<<3 | column(x+1, y)) & (Patterns - 1)
			sum += int64(c.shares[pattern])
		}
	}
	return float64(sum) / shareUnit
}

// Before a dot is decided those of two rows above and of two places back are, as
// far as they share a cell with it. They make a pattern of their own: for the
// columns from two back to two on, the dots two rows and one row above, from the
// highest bits down, and then the dots two back and one back in the row.
const decidedPatterns = 1 << 12

// decided tells whether the dot at (x, y) from the one to be decided burns in the
// pattern. Those that are not decided yet do not.
func decided(pattern, x, y int) bool {
	bit := -1
	switch {
	case x < -2 || x > 2 || y < -2:
	case y == -2 || y == -1:
		bit = 2 + 2*(2-x)
		if y == -2 {
			bit++
		}
	case y == 0 && x < 0:
		bit = -1 - x
	}
	return bit >= 0 && pattern>>bit&1 == 1
}

func plainly(pattern int) int { return pattern }

// mirrored is a pattern of neighbours with left and right exchanged.
func mirrored(pattern int) int {
	return pattern>>6 | pattern&(7<<3) | pattern&7<<6
}

// gainsOf works out what a dot adds to what is burned, in shares of a full area.
func (c *CellTable) gainsOf(view func(pattern int) int) (gains [decidedPatterns]int32) {
	for p := range gains {
		gain := int64(0)
		for y := -1; y <= 1; y++ {
			for x := -1; x <= 1; x++ {
				without := c.around(p, x, y)
				with := without | 1<<dotBit(-x, -y)
				gain += int64(c.shares[view(with)] - c.shares[view(without)])
			}
		}
		gains[p] = int32(gain * full / int64(c.shares[Patterns-1]))
	}
	return gains
}

// around is the pattern about the cell (x, y) as far as it is decided.
func (c *CellTable) around(decidedPattern, x, y int) int {
	pattern := 0
	for dy := -1; dy <= 1; dy++ {
		for dx := -1; dx <= 1; dx++ {
			if decided(decidedPattern, x+dx, y+dy) {
				pattern |= 1 << dotBit(dx, dy)
			}
		}
	}
	return pattern
}

// dotBit is the bit of a neighbour in a pattern.
func dotBit(dx, dy int) int { return 3*(1-dx) + 1 - dy }

// burnedIn counts the burned dots of packed ones.
func burnedIn(dots []byte) int {
	n := 0
	for _, b := range dots {
		n += bits.OnesCount8(b)
	}
	return n
}
