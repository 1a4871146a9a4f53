package fit

import (
	"fmt"
	"strings"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/layout"
)

// Range is what the swatches of a fit were burned at, as it stands in the fitted
// stack's origin.
type Range coat.Covered

func (in *input) covered() Range {
	first := in.samples[0]
	r := Range{
		PowerPercent:  [2]float64{first.setting.PowerPercent, first.setting.PowerPercent},
		SpeedMMPerMin: [2]float64{first.setting.Speed.PerMinute(), first.setting.Speed.PerMinute()},
		PitchMM:       [2]layout.MM{first.setting.Pitch, first.setting.Pitch},
		Passes:        [2]int{first.setting.Passes, first.setting.Passes},
		DoseJCM2:      [2]float64{doseOf(&first), doseOf(&first)},
	}
	for _, s := range in.samples {
		widen(&r.PowerPercent, s.setting.PowerPercent)
		widen(&r.SpeedMMPerMin, s.setting.Speed.PerMinute())
		widen(&r.PitchMM, s.setting.Pitch)
		widen(&r.Passes, s.setting.Passes)
		widen(&r.DoseJCM2, doseOf(&s))
	}
	return r
}

func widen[T int | float64 | layout.MM](r *[2]T, v T) {
	r[0], r[1] = min(r[0], v), max(r[1], v)
}

// Covers is empty where a setting lies within what the chart covered, else a
// caution that says how it leaves it. Powers below those of the chart burn less and
// are no matter.
func (r Range) Covers(s burn.Setting) string {
	const rounding = 1e-6
	var leaves []string
	outside := func(name string, v, low, high float64, unit string) {
		if v < low*(1-rounding) || v > high*(1+rounding) {
			leaves = append(leaves, fmt.Sprintf("%s %.6g %s (the chart has %s)", name, v, unit, span(low, high)))
		}
	}
	outside("power", s.PowerPercent, 0, r.PowerPercent[1], "%")
	outside("speed", s.Speed.PerMinute(), r.SpeedMMPerMin[0], r.SpeedMMPerMin[1], "mm/min")
	outside("pitch", float64(s.Pitch), float64(r.PitchMM[0]), float64(r.PitchMM[1]), "mm")
	outside("passes", float64(s.Passes), float64(r.Passes[0]), float64(r.Passes[1]), "")
	if len(leaves) == 0 {
		return ""
	}
	text := strings.ReplaceAll(strings.Join(leaves, ", "), "  ", " ")
	return "the job leaves what the chart covered: " + text + "; an equal dose need not be an equal burn there, so burn swatches at this setting first"
}

func span(low, high float64) string {
	switch {
	case low == high:
		return fmt.Sprintf("%.6g", low)
	case low == 0:
		return fmt.Sprintf("up to %.6g", high)
	}
	return fmt.Sprintf("%.6g to %.6g", low, high)
}
