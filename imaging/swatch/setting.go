package swatch

import (
	"fmt"
	"math"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// settingFields are a setting as it stands in charts and readings, among the
// fields of its swatch.
type settingFields struct {
	PowerPercent  float64   `json:"power_percent"`
	SpeedMMPerMin float64   `json:"speed_mm_per_min"`
	Pitch         layout.MM `json:"pitch_mm"`
	Passes        int       `json:"passes"`
}

func fieldsOf(s burn.Setting) settingFields {
	return settingFields{s.PowerPercent, perMinute(s.Speed), s.Pitch, s.Passes}
}

func (f settingFields) setting() burn.Setting {
	return burn.Setting{PowerPercent: f.PowerPercent, Speed: layout.MMPerSecond(f.SpeedMMPerMin / 60), Pitch: f.Pitch, Passes: f.Passes}
}

// perMinute gives the decimals back that a file or a person wrote.
func perMinute(v layout.MMPerSecond) float64 {
	exact := v.PerMinute()
	if round := math.Round(exact*1e6) / 1e6; layout.MMPerSecond(round/60) == v {
		return round
	}
	return exact
}

// validateSetting checks a setting by itself: a file of readings need not name
// the machine.
func validateSetting(s burn.Setting) error {
	return firstOutside(
		bound{"power_percent", s.PowerPercent, 0, 100, "%"},
		bound{"speed_mm_per_min", perMinute(s.Speed), 1, perMinute(layout.MaxSpeed), "mm/min"},
		bound{"pitch_mm", float64(s.Pitch), float64(layout.MinPitch), float64(layout.MaxPitch), "mm"},
		bound{"passes", float64(s.Passes), 1, burn.MaxPasses, "passes"},
	)
}

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
