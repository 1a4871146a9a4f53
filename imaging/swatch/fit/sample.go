package fit

import (
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
)

// sample is one swatch, made ready to be compared with the model.
type sample struct {
	id      string
	setting burn.Setting
	machine *burn.Machine // nil where nobody said
	fullW   float64       // light at full power
	offset  float64       // the machine's own, percent
	bands   []band        // of its field

	// seen by a camera
	look  colour.Lab
	steps square3 // CIELAB to even steps about look

	// seen by an eye
	eye  bool
	word depth
}

// lnDose is the logarithm of the mean dose, -Inf for no light, for a power offset
// and a pass exponent, with its slopes along both. It is burn.Dose taken apart:
// ln (100 P / (v pitch)) + g ln N.
func (s *sample) lnDose(offset, exponent float64) (ln, byOffset, byExponent float64) {
	above := s.setting.PowerPercent - offset
	if above <= 0 {
		return math.Inf(-1), 0, 0
	}
	lnPasses := math.Log(float64(s.setting.Passes))
	ln = math.Log(100*s.fullW*above/(100-offset)/(float64(s.setting.Speed)*float64(s.setting.Pitch))) + exponent*lnPasses
	return ln, 1/(100-offset) - 1/above, lnPasses
}

// depth is how many coats an eye saw gone, from low to high: 1.0 is the second
// coat all over, 1.5 half of it gone.
type depth struct{ low, high float64 }
