package picture

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// Part says where a plane lies on the picture area: how many of its pixels there
// are to a millimetre, and how far right and down its upper left corner lies from
// the area's. The whole area lies at 0, 0.
type Part struct {
	PerMM       float64
	Right, Down layout.MM
}

// Whole is the part that covers the area, with perMM pixels a millimetre.
func Whole(perMM float64) Part { return Part{PerMM: perMM} }

// Validate refuses a scale that is none and a corner that is nowhere.
func (p Part) Validate() error {
	if !(p.PerMM > 0) || math.IsInf(p.PerMM, 1) {
		return fmt.Errorf("picture of %g pixels a mm is not possible: give the pixels of its width over its millimetres", p.PerMM)
	}
	if at := math.Abs(float64(p.Right)) + math.Abs(float64(p.Down)); math.IsNaN(at) || math.IsInf(at, 1) {
		return fmt.Errorf("part of the picture at %v, %v mm is nowhere: give the place of its upper left corner", float64(p.Right), float64(p.Down))
	}
	return nil
}

// x and y are the places of a pixel's centre in mm from the area's upper left corner.
func (p Part) x(column int) float64 { return float64(p.Right) + (float64(column)+0.5)/p.PerMM }
func (p Part) y(row int) float64    { return float64(p.Down) + (float64(row)+0.5)/p.PerMM }
