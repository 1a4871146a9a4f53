package proof

import (
	"fmt"

	"undercoat/layout"
)

// Variation is one of the ways in which a burn comes out other than planned.
type Variation string

// The variations that a maker should look at before a panel is burned. Ten per
// cent of light or paint is what a careful maker must reckon with, and a beam half
// as wide again is a panel some millimetres out of focus. Common practice, no source.
const (
	AsSet        Variation = "as set"
	LessLight    Variation = "10 % less light"
	MoreLight    Variation = "10 % more light"
	ThinnerPaint Variation = "paint 10 % thinner"
	ThickerPaint Variation = "paint 10 % thicker"
	OutOfFocus   Variation = "out of focus"
)

// Variations lists them all, as set first.
func Variations() []Variation {
	return []Variation{AsSet, LessLight, MoreLight, ThinnerPaint, ThickerPaint, OutOfFocus}
}

// Of is the recipe varied.
func (v Variation) Of(r Recipe) (Recipe, error) {
	const widest = layout.MM(2) // of a machine's beam
	var err error
	switch v {
	case AsSet:
	case LessLight:
		r.Machine.OpticalPowerW *= 0.9
	case MoreLight:
		r.Machine.OpticalPowerW *= 1.1
	case ThinnerPaint:
		r.Stack, err = r.Stack.Thicker(0.9)
	case ThickerPaint:
		r.Stack, err = r.Stack.Thicker(1.1)
	case OutOfFocus:
		r.Machine.BeamAlong = min(widest, 1.5*r.Machine.BeamAlong)
		r.Machine.BeamAcross = min(widest, 1.5*r.Machine.BeamAcross)
	default:
		err = fmt.Errorf("variation %q is not known: choose one of %q", string(v), Variations())
	}
	if err != nil {
		return Recipe{}, err
	}
	return r, nil
}
