package swatch

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// ParsePowers reads powers in percent, `5:60:5` from 5 to 60 in steps of 5, or
// `10, 20, 30`, or both mixed. They come back in rising order, each above 0 and at
// most 100.
func ParsePowers(text string) ([]float64, error) {
	powers, err := parseValues(text, func(item string) (float64, error) {
		v, err := strconv.ParseFloat(strings.TrimSpace(strings.TrimSuffix(item, "%")), 64)
		if err != nil || !(v > 0 && v <= 100) {
			return 0, fmt.Errorf("%q is not above 0 and up to 100 %%", shortened(item))
		}
		return v, nil
	})
	if err != nil {
		return nil, fmt.Errorf("powers %q: %w: write, for instance, 5:60:5 or 10,20,30", shortened(text), err)
	}
	return powers, nil
}

// ParseSpeeds reads speeds like ParsePowers does powers: `1500mm/min`,
// `1000,1500mm/min`, `10:50:10 mm/s`. A unit at the end holds for all; without one
// they are mm/min.
func ParseSpeeds(text string) ([]layout.MMPerSecond, error) {
	values, err := parseValues(unitForAll(text), func(item string) (float64, error) {
		v, err := layout.ParseSpeed(item)
		return v.PerMinute(), err
	})
	if err != nil {
		return nil, fmt.Errorf("speeds %q: %w", shortened(text), err)
	}
	speeds := make([]layout.MMPerSecond, len(values))
	for i, v := range values {
		speeds[i] = layout.MMPerSecond(v / 60)
	}
	return speeds, nil
}

// ParsePitches reads pitches like ParsePowers does powers: `0.08,0.1mm`,
// `254,318dpi`, in rising order of length.
func ParsePitches(text string) ([]layout.MM, error) {
	values, err := parseValues(unitForAll(text), func(item string) (float64, error) {
		v, err := layout.ParsePitch(item)
		return float64(v), err
	})
	if err != nil {
		return nil, fmt.Errorf("pitches %q: %w", shortened(text), err)
	}
	pitches := make([]layout.MM, len(values))
	for i, v := range values {
		pitches[i] = layout.MM(v)
	}
	return pitches, nil
}

// ParsePasses reads numbers of passes, `1`, `1,2,4` or `1:4:1`.
func ParsePasses(text string) ([]int, error) {
	values, err := parseValues(text, func(item string) (float64, error) {
		n, err := strconv.Atoi(item)
		if err != nil || n < 1 || n > burn.MaxPasses {
			return 0, fmt.Errorf("%q is not a whole number from 1 to %d", shortened(item), burn.MaxPasses)
		}
		return float64(n), nil
	})
	if err != nil {
		return nil, fmt.Errorf("passes %q: %w: write, for instance, 1 or 1,2,4", shortened(text), err)
	}
	passes := make([]int, len(values))
	for i, v := range values {
		passes[i] = int(v)
	}
	return passes, nil
}

// ParseTints reads tints in percent like ParsePowers does powers, `5:95:10` or `5,25,50`,
// and gives them as shares from MinTint to MaxTint.
func ParseTints(text string) ([]float64, error) {
	tints, err := parseValues(text, func(item string) (float64, error) {
		v, err := strconv.ParseFloat(item, 64)
		if err != nil || !(v >= 100*MinTint && v <= 100*MaxTint) {
			return 0, fmt.Errorf("%q is not a tint of %g to %g %%", shortened(item), 100*MinTint, 100*MaxTint)
		}
		return v, nil
	})
	if err != nil {
		return nil, fmt.Errorf("tints %q: %w: write, for instance, 5:95:10 or 5,25,50,75,95", shortened(text), err)
	}
	for i := range tints {
		tints[i] /= 100
	}
	return tints, nil
}

// unitForAll gives the unit at the end of a list to every number without one.
func unitForAll(text string) string {
	trimmed := strings.TrimSpace(text)
	digits := strings.LastIndexAny(trimmed, "0123456789.")
	unit := strings.TrimSpace(trimmed[digits+1:])
	if unit == "" {
		return text
	}
	var b strings.Builder
	for i, r := range trimmed {
		if b.Len() > 0 && strings.ContainsRune(",;:", r) && endsInNumber(trimmed[:i]) {
			b.WriteString(unit)
		}
		b.WriteRune(r)
	}
	return b.String()
}

func endsInNumber(text string) bool {
	text = strings.TrimSpace(text)
	return text != "" && strings.ContainsRune("0123456789.", rune(text[len(text)-1]))
}

// parseValues reads a list of values and ranges first:last:step.
func parseValues(text string, one func(string) (float64, error)) ([]float64, error) {
	var values []float64
	for item := range strings.FieldsFuncSeq(text, func(r rune) bool { return r == ',' || r == ';' }) {
		more, err := parseItem(strings.TrimSpace(item), one)
		if err != nil {
			return nil, err
		}
		if values = append(values, more...); len(values) > MaxSwatches {
			return nil, fmt.Errorf("more than %d values", MaxSwatches)
		}
	}
	if len(values) == 0 {
		return nil, fmt.Errorf("no value is given")
	}
	slices.Sort(values)
	for i := 1; i < len(values); i++ {
		if values[i] == values[i-1] {
			return nil, fmt.Errorf("%g stands there twice", values[i])
		}
	}
	return values, nil
}

func parseItem(item string, one func(string) (float64, error)) ([]float64, error) {
	parts := strings.Split(item, ":")
	if len(parts) != 1 && len(parts) != 3 {
		return nil, fmt.Errorf("%q is no range: write first:last:step", shortened(item))
	}
	numbers := make([]float64, len(parts))
	for i, part := range parts {
		v, err := one(strings.TrimSpace(part))
		if err != nil {
			return nil, err
		}
		numbers[i] = v
	}
	if len(numbers) == 1 {
		return numbers, nil
	}
	first, last, step := numbers[0], numbers[1], numbers[2]
	if last < first {
		return nil, fmt.Errorf("%q runs downwards: write the smaller end first", shortened(item))
	}
	const rounding = 1e-9
	count := math.Floor((last-first)/step+rounding) + 1
	if !(count <= MaxSwatches) {
		return nil, fmt.Errorf("%q makes more than %d values: choose a larger step", shortened(item), MaxSwatches)
	}
	var values []float64
	for i := range int(count) {
		// Rounded, so that 0.1 three times over is 0.3.
		values = append(values, math.Round((first+float64(i)*step)*1e9)/1e9)
	}
	return values, nil
}
