package swatch

import (
	"undercoat/imaging/burn"
	"undercoat/imaging/strict"
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
	return settingFields{s.PowerPercent, s.Speed.PerMinute(), s.Pitch, s.Passes}
}

func (f settingFields) setting() burn.Setting {
	return burn.Setting{PowerPercent: f.PowerPercent, Speed: layout.MMPerSecond(f.SpeedMMPerMin / 60), Pitch: f.Pitch, Passes: f.Passes}
}

// validateSetting checks a setting by itself: a file of readings need not name
// the machine.
func validateSetting(s burn.Setting) error {
	return strict.Within(
		strict.In("power_percent", s.PowerPercent, 0, 100, "%"),
		strict.In("speed_mm_per_min", s.Speed.PerMinute(), 1, layout.MaxSpeed.PerMinute(), "mm/min"),
		strict.In("pitch_mm", float64(s.Pitch), float64(layout.MinPitch), float64(layout.MaxPitch), "mm"),
		strict.In("passes", float64(s.Passes), 1, burn.MaxPasses, "passes"),
	)
}
