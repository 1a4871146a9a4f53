package burn

import (
	"math"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// minSpeedMMPerMin keeps doses finite; no machine burns that slowly.
const minSpeedMMPerMin = 1

const minBeamMM, maxBeamMM = 0.01, 2

// pitchBound lets rounding pass at both ends: 2540 dpi is a hair under 0.01 mm.
func pitchBound(pitch layout.MM) strict.Range {
	const rounding = 1e-12
	p := float64(pitch)
	if math.Abs(p-float64(layout.MinPitch)) < rounding || math.Abs(p-float64(layout.MaxPitch)) < rounding {
		p = math.Min(math.Max(p, float64(layout.MinPitch)), float64(layout.MaxPitch))
	}
	return strict.In("pitch_mm", p, float64(layout.MinPitch), float64(layout.MaxPitch), "mm")
}

func perSecond(mmPerMin float64) layout.MMPerSecond { return layout.MMPerSecond(mmPerMin / 60) }
