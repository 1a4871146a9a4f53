package layout

import (
	"fmt"
	"strings"
)

// The pitches that are read, both ends included: 2540 down to 25.4 dots per inch.
const (
	MinPitch MM = 0.01
	MaxPitch MM = 1
)

// ParsePitch reads `0.08mm`, `0.003in`, `318dpi`, and `0.08` as millimetres.
func ParsePitch(text string) (MM, error) {
	value, word, err := splitMeasure(text)
	if err != nil {
		return 0, pitchError(text, err)
	}
	pitch := MM(value)
	switch strings.ReplaceAll(word, " ", "") {
	case "":
	case "dpi", "dotsperinch":
		pitch = Inch / MM(value) // 0 dpi is an infinite pitch and refused below
	default:
		unit, known := unitNamed(word)
		if !known {
			return 0, pitchError(text, unknownUnit(word))
		}
		pitch *= unit.length()
	}
	if !possiblePitch(pitch) {
		return 0, pitchError(text, errOutside)
	}
	return pitch, nil
}

func pitchError(text string, reason error) error {
	return fmt.Errorf("pitch %q %w: write 0.01 to 1 mm such as 0.08mm, or 25.4 to 2540 dpi such as 318dpi", shortened(text), reason)
}

func possiblePitch(pitch MM) bool { return pitch >= MinPitch && pitch <= MaxPitch }

func validatePitch(pitch MM) error {
	if !possiblePitch(pitch) {
		return fmt.Errorf("pitch %g mm is outside 0.01 to 1 mm: choose one in that range", float64(pitch))
	}
	return nil
}

// DPI is the dots per inch of a pitch.
func DPI(pitch MM) float64 { return float64(Inch / pitch) }
