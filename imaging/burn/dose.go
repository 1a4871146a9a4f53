package burn

import (
	"fmt"
	"time"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// Dose is the mean dose in J/cm2 of an even, fully burned field,
//
//	100 P / (v pitch) N^g
//
// with P the light in watts, v in mm/s, the pitch in mm, N passes and the pass
// exponent g of the stack's curve (0 reads as 1). It holds for every beam width.
// The setting must be valid.
func Dose(m Machine, s Setting, passExponent float64) float64 {
	return 100 * m.OpticalW(s.PowerPercent) / (float64(s.Speed) * float64(s.Pitch)) * s.passFactor(passExponent)
}

// EqualDoseCaution goes beside every number that EqualDose gave.
const EqualDoseCaution = "an equal dose is not an equal burn once speed, pitch or focus leave what the chart covered, for heat has time to travel: burn a test first"

// EqualDose is the power in percent that gives the dose of s, pass for pass, at
// another speed and pitch. A setting without light, a speed or pitch out of
// range, and a power above 100 % are errors. See EqualDoseCaution.
func EqualDose(m Machine, s Setting, speed layout.MMPerSecond, pitch layout.MM) (powerPercent float64, err error) {
	if err := s.Validate(m); err != nil {
		return 0, err
	}
	other := Setting{PowerPercent: s.PowerPercent, Speed: speed, Pitch: pitch, Passes: s.Passes}
	if err := other.Validate(m); err != nil {
		return 0, err
	}
	light := m.OpticalW(s.PowerPercent) * float64(speed) * float64(pitch) / (float64(s.Speed) * float64(s.Pitch))
	if light == 0 {
		return 0, fmt.Errorf("power_percent %g gives no light on this machine, so there is no dose to match: choose more than %g %%", s.PowerPercent, m.PowerOffsetPercent)
	}
	const rounding = 1e-9 // full power must stay full power on the way through watts
	if light > m.OpticalPowerW*(1+rounding) {
		return 0, fmt.Errorf("%g mm/min at %g mm pitch needs %.3g W of light and the machine has %g W: choose a lower speed or a finer pitch",
			speed.PerMinute(), float64(pitch), light, m.OpticalPowerW)
	}
	return min(100, m.PowerOffsetPercent+light/m.OpticalPowerW*(100-m.PowerOffsetPercent)), nil
}

// EqualSetting is a setting that gives the dose of another, and how long it burns.
type EqualSetting struct {
	Setting Setting
	Time    time.Duration // all passes over an area burned from edge to edge
}

// EqualDoseTable lists the settings that give the dose of s at the given pitches
// and speeds, for each pitch all speeds, in the order given; those that would
// take more than full power are left out. The times are for all of area. See
// EqualDoseCaution.
func EqualDoseTable(m Machine, s Setting, area layout.Area, pitches []layout.MM, speeds []layout.MMPerSecond) ([]EqualSetting, error) {
	if err := s.Validate(m); err != nil {
		return nil, err
	}
	full := Dose(m, Setting{100, s.Speed, s.Pitch, s.Passes}, 1) / Dose(m, s, 1) // how much more light there is
	var table []EqualSetting
	for _, pitch := range pitches {
		if err := strict.Within(pitchBound(pitch)); err != nil {
			return nil, err
		}
		grid, err := area.Grid(pitch)
		if err != nil {
			return nil, err
		}
		for _, speed := range speeds {
			const rounding = 1e-9
			if float64(speed)*float64(pitch) > full*float64(s.Speed)*float64(s.Pitch)*(1+rounding) {
				continue
			}
			power, err := EqualDose(m, s, speed, pitch)
			if err != nil {
				return nil, err
			}
			table = append(table, EqualSetting{
				Setting: Setting{power, speed, pitch, s.Passes},
				Time:    time.Duration(s.Passes) * m.Motion(speed).RasterTime(nil, grid),
			})
		}
	}
	return table, nil
}
