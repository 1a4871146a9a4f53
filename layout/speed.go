package layout

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// MMPerSecond is a speed.
type MMPerSecond float64

// MaxSpeed is the fastest speed that is read.
const MaxSpeed MMPerSecond = 2000

// ParseSpeed reads `1500mm/min`, `25mm/s`, and `1500` as mm/min. The result is
// above 0 and at most MaxSpeed.
func ParseSpeed(text string) (MMPerSecond, error) {
	value, word, err := splitMeasure(text)
	if err != nil {
		return 0, speedError(text, err)
	}
	v := MMPerSecond(value)
	switch strings.ReplaceAll(word, " ", "") {
	case "", "mm/min":
		v /= 60
	case "mm/s":
	default:
		return 0, speedError(text, unknownUnit(word))
	}
	if !(v > 0 && v <= MaxSpeed) {
		return 0, speedError(text, errOutside)
	}
	return v, nil
}

func speedError(text string, reason error) error {
	return fmt.Errorf("speed %q %w: write a speed above 0 and up to 120000 mm/min or 2000 mm/s such as 1500mm/min or 25mm/s", shortened(text), reason)
}

// PerMinute is the speed in mm/min. A speed that came from decimals in mm/min gives
// them back to the last bit.
func (v MMPerSecond) PerMinute() float64 {
	exact := float64(v) * 60
	if decimals := math.Round(exact*1e6) / 1e6; MMPerSecond(decimals/60) == v {
		return decimals
	}
	return exact
}

// String writes `1500 mm/min`, to a hundredth.
func (v MMPerSecond) String() string {
	text := strconv.FormatFloat(v.PerMinute(), 'f', 2, 64)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".") + " mm/min"
}
