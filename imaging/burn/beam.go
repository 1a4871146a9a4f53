package burn

import (
	"fmt"
	"math"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// beam is the spot's standard deviations, in pitches of the raster.
//
// Source: ISO 11146: the width of a Gaussian beam, D4sigma, is four standard
// deviations, and its 1/e2 radius two (from memory).
type beam struct{ along, across float64 }

// beam is the machine's spot on a raster of the given pitch.
func (m Machine) beam(pitch layout.MM) (beam, error) {
	err := strict.Within(
		pitchBound(pitch),
		strict.In("beam_width_along_mm", float64(m.BeamAlong), minBeamMM, maxBeamMM, "mm"),
		strict.In("beam_width_across_mm", float64(m.BeamAcross), minBeamMM, maxBeamMM, "mm"),
	)
	return beam{float64(m.BeamAlong / pitch / 4), float64(m.BeamAcross / pitch / 4)}, err
}

// cell is what a dot burned over its cell [0,1] gives at the place u on its row,
// as a share of an endless line.
func (b beam) cell(u float64) float64 { return normalBetween((u-1)/b.along, u/b.along) }

// line is what a burned row gives at the distance d from its middle: 1 in the mean
// over an endless field of rows.
func (b beam) line(d float64) float64 {
	return math.Exp(-d*d/(2*b.across*b.across)) / (b.across * math.Sqrt(2*math.Pi))
}

// lineMean is the mean of line from d0 to d1.
func (b beam) lineMean(d0, d1 float64) float64 {
	return normalBetween(d0/b.across, d1/b.across) / (d1 - d0)
}

// normalBetween is the share of a standard normal distribution from a to b, exact
// in its tails too.
func normalBetween(a, b float64) float64 {
	switch {
	case a > 0:
		return (math.Erfc(a/math.Sqrt2) - math.Erfc(b/math.Sqrt2)) / 2
	case b < 0:
		return (math.Erfc(-b/math.Sqrt2) - math.Erfc(-a/math.Sqrt2)) / 2
	}
	return (math.Erf(b/math.Sqrt2) - math.Erf(a/math.Sqrt2)) / 2
}

// MaxGrid is the finest grid of sub-cells: MaxGrid x MaxGrid in a dot.
const MaxGrid = 8

// ChooseGrid is the coarsest grid k, 1..MaxGrid, whose samples, pitch/k apart, are
// at most a quarter of the beam's 1/e2 radius in its narrower direction. Where
// that would take more than MaxGrid it is MaxGrid.
func ChooseGrid(m Machine, pitch layout.MM) int {
	const rounding = 1e-9
	quarter := min(m.BeamAlong, m.BeamAcross) / 2 / 4
	k := math.Ceil(float64(pitch/quarter) - rounding)
	return int(min(max(k, 1), MaxGrid))
}

// Ripple is the lowest and the highest dose of an even, fully burned field as
// shares of its mean: between two lines, and on one. At a 1/e2 diameter of one
// pitch they are 0.43 and 1.60; from two pitches on the lines have gone.
func Ripple(m Machine, pitch layout.MM) (low, high float64, err error) {
	b, err := m.beam(pitch)
	if err != nil {
		return 0, 0, err
	}
	const reach = 9 // standard deviations: 1e-18 of the peak is left out
	for i := range int(reach*b.across) + 2 {
		low += 2 * b.line(float64(i)+0.5)
		high += 2 * b.line(float64(i))
	}
	return low, high - b.line(0), nil
}

func checkGrid(k int) error {
	if k < 1 || k > MaxGrid {
		return fmt.Errorf("grid %d is out of range: choose 1 to %d sub-cells a dot", k, MaxGrid)
	}
	return nil
}
