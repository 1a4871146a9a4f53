package coat

import (
	"slices"

	"undercoat/layout"
)

// Origin is how a calibrated curve came about: which charts, burned by what.
type Origin struct {
	Date     string   `json:"date,omitempty"`    // of the fit, year-month-day
	Machine  string   `json:"machine,omitempty"` // its name
	Photos   []string `json:"photos,omitempty"`  // sha256 of each, in hex
	Swatches int      `json:"swatches"`          // that were used
	Covered  Covered  `json:"covered"`
	Panels   int      `json:"panels,omitempty"` // finished ones that have corrected it since
	// Readings are the names of the charts' readings in the library where the stack is kept.
	Readings []string `json:"readings,omitempty"`
}

// Covered is what the swatches were burned at, from the least to the most of each.
type Covered struct {
	PowerPercent  [2]float64   `json:"power_percent"`
	SpeedMMPerMin [2]float64   `json:"speed_mm_per_min"`
	PitchMM       [2]layout.MM `json:"pitch_mm"`
	Passes        [2]int       `json:"passes"`
	DoseJCM2      [2]float64   `json:"dose_j_per_cm2"` // mean doses, of as many single passes
}

func (o *Origin) clone() *Origin {
	if o == nil {
		return nil
	}
	c := *o
	c.Photos, c.Readings = slices.Clone(o.Photos), slices.Clone(o.Readings)
	return &c
}
