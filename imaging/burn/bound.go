package burn

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// minSpeedMMPerMin keeps doses finite; no machine burns that slowly.
const minSpeedMMPerMin = 1

const minBeamMM, maxBeamMM = 0.01, 2

// bound is a value, by its name in files, and the closed range it must lie in.
type bound struct {
	name             string
	value, low, high float64
	unit             string
}

// firstOutside is the error of the first value out of its range; NaN is out of
// every range.
func firstOutside(bounds ...bound) error {
	for _, b := range bounds {
		if !(b.value >= b.low && b.value <= b.high) {
			return fmt.Errorf("%s %g is out of range: give %g to %g %s", b.name, b.value, b.low, b.high, b.unit)
		}
	}
	return nil
}

// pitchBound lets rounding pass at both ends: 2540 dpi is a hair under 0.01 mm.
func pitchBound(pitch layout.MM) bound {
	const rounding = 1e-12
	p := float64(pitch)
	if math.Abs(p-float64(layout.MinPitch)) < rounding || math.Abs(p-float64(layout.MaxPitch)) < rounding {
		p = math.Min(math.Max(p, float64(layout.MinPitch)), float64(layout.MaxPitch))
	}
	return bound{"pitch_mm", p, float64(layout.MinPitch), float64(layout.MaxPitch), "mm"}
}

func perSecond(mmPerMin float64) layout.MMPerSecond { return layout.MMPerSecond(mmPerMin / 60) }

// perMinute undoes perSecond to the last bit, where v came from a file's decimals.
func perMinute(v layout.MMPerSecond) float64 {
	exact := v.PerMinute()
	if round := math.Round(exact*1e6) / 1e6; perSecond(round) == v {
		return round
	}
	return exact
}
