package burn

import (
	"encoding/json"
	"fmt"
	"math"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// MaxPasses is the most passes a setting may ask for.
const MaxPasses = 20

// Setting is how a raster is burned. In files the speed is in mm/min.
type Setting struct {
	PowerPercent float64            // of the machine's scale, above 0, up to 100
	Speed        layout.MMPerSecond // up to the machine's top speed
	Pitch        layout.MM          // 0.01..1 mm
	Passes       int                // 1..MaxPasses
}

type settingFile struct {
	PowerPercent  float64   `json:"power_percent"`
	SpeedMMPerMin float64   `json:"speed_mm_per_min"`
	Pitch         layout.MM `json:"pitch_mm"`
	Passes        int       `json:"passes"`
}

// UnmarshalJSON reads a setting strictly, but leaves ranges to Validate.
func (s *Setting) UnmarshalJSON(data []byte) error {
	var f settingFile
	if err := strict.Decode(data, &f); err != nil {
		return fmt.Errorf("setting: %w", err)
	}
	*s = Setting{f.PowerPercent, perSecond(f.SpeedMMPerMin), f.Pitch, f.Passes}
	return nil
}

// MarshalJSON writes the setting, the fields in a fixed order.
func (s Setting) MarshalJSON() ([]byte, error) {
	return json.Marshal(settingFile{s.PowerPercent, s.Speed.PerMinute(), s.Pitch, s.Passes})
}

// Validate reports the first value that is out of range on the machine, by its
// name in files.
func (s Setting) Validate(m Machine) error {
	if !(s.PowerPercent > 0 && s.PowerPercent <= 100) {
		return fmt.Errorf("power_percent %g is out of range: give above 0 and up to 100 %%", s.PowerPercent)
	}
	return strict.Within(
		strict.In("speed_mm_per_min", s.Speed.PerMinute(), minSpeedMMPerMin, m.TopSpeed.PerMinute(), "mm/min on this machine"),
		pitchBound(s.Pitch),
		strict.In("passes", float64(s.Passes), 1, MaxPasses, "passes"),
	)
}

// passFactor is how many single passes the setting's passes count for: N^g. An
// exponent of 0 reads as 1, the plain sum.
func (s Setting) passFactor(exponent float64) float64 {
	if exponent == 0 {
		exponent = 1
	}
	return math.Pow(float64(s.Passes), exponent)
}
