package screen

import (
	"fmt"
	"math"
)

// DefaultRadius is the radius of dots that are taken for round, in half diagonals
// of their cell: a quarter more than just covers it.
const DefaultRadius = 1.25

// GeometricCells is a table for dots that burn full discs, overlapping each other.
// The radius is in half diagonals of a cell, 1 (a disc that just covers its cell)
// to the square root of 2 (one that just reaches the middle of the next). It stands
// in where nothing is known of the beam, and is wrong for most: a dot that burns less
// than a whole cell by itself is taken for one that burns more. See [BeamCells].
//
// Source: T. N. Pappas and D. L. Neuhoff, "Printer models and error diffusion",
// IEEE Trans. Image Processing 4/1 (1995) 66-80, equations for alpha, beta and
// gamma (from memory; they agree with the area of the discs).
func GeometricCells(radius float64) (*CellTable, error) {
	if !(radius >= 1 && radius <= math.Sqrt2) {
		return nil, fmt.Errorf("dot radius of %g half diagonals is out of range: give 1 to %.4f", radius, math.Sqrt2)
	}
	alpha, beta, gamma := overlaps(radius)
	var shares [Patterns]float64
	for p := range shares {
		burns := func(dx, dy int) float64 { return float64(p >> dotBit(dx, dy) & 1) }
		if burns(0, 0) == 1 {
			shares[p] = 1
			continue
		}
		left, right, up, down := burns(-1, 0), burns(1, 0), burns(0, -1), burns(0, 1)
		sides := left + right + up + down
		corners := burns(-1, -1)*(1-left)*(1-up) + burns(1, -1)*(1-right)*(1-up) +
			burns(-1, 1)*(1-left)*(1-down) + burns(1, 1)*(1-right)*(1-down)
		pairs := (left + right) * (up + down)
		shares[p] = min(1, max(0, sides*alpha+corners*beta-pairs*gamma)) // but for rounding
	}
	return NewCellTable(&shares)
}

// overlaps gives the parts of a cell that are covered by a disc next to it, by one
// at its corner, and by two neighbours at right angles both.
func overlaps(radius float64) (alpha, beta, gamma float64) {
	r2 := radius * radius
	root := math.Sqrt(2*r2-1) / 4
	wedge := r2 / 2 * math.Asin(1/(math.Sqrt2*radius))
	alpha = root + wedge - 0.5
	beta = math.Pi*r2/8 - wedge - root + 0.25
	gamma = r2/2*math.Asin(math.Sqrt((r2-1)/r2)) - math.Sqrt(r2-1)/2 - beta
	return alpha, max(0, beta), max(0, gamma)
}
