package layout

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"strings"
)

// Size is a width and a height. In files it is [width, height] in mm.
type Size struct{ W, H MM }

// ParseSize reads `12x16in`, `300 x 400 mm`, `11 3/4 x 14 in`, and `10in` for a
// square. One unit holds for both sides; each may have its own. Both sides are
// above 0 and at most MaxLength.
func ParseSize(text string, bare Unit) (Size, error) {
	parts := strings.Split(sizeSeparators.Replace(strings.ToLower(text)), "x")
	if len(parts) > 2 {
		return Size{}, sizeError(text, errors.New("has more than two sides"))
	}
	sides, err := parseLengths(parts, bare)
	if err != nil {
		return Size{}, fmt.Errorf("size %q: %w", shortened(text), err)
	}
	s := Size{sides[0], sides[len(sides)-1]}
	if s.W == 0 || s.H == 0 {
		return Size{}, sizeError(text, errors.New("has a side of no length"))
	}
	return s, nil
}

var sizeSeparators = strings.NewReplacer("×", "x", "by", "x")

func sizeError(text string, reason error) error {
	return fmt.Errorf("size %q %w: write width and height, each above 0 and up to 10000 mm, such as 300 x 400 mm or 12x16in", shortened(text), reason)
}

// parseLengths reads several lengths, of which those without a unit take the one
// that is written beside the others.
func parseLengths(parts []string, bare Unit) ([]MM, error) {
	written := map[Unit]bool{}
	unmarked := false
	for _, part := range parts {
		_, word, err := splitMeasure(part)
		if err != nil {
			return nil, lengthError(part, err)
		}
		if word == "" {
			unmarked = true
			continue
		}
		unit, known := unitNamed(word)
		if !known {
			return nil, lengthError(part, unknownUnit(word))
		}
		written[unit] = true
		bare = unit
	}
	if unmarked && len(written) > 1 {
		return nil, errors.New("some lengths have different units and some have none: write a unit after each")
	}
	lengths := make([]MM, len(parts))
	for i, part := range parts {
		var err error
		if lengths[i], err = ParseLength(part, bare); err != nil {
			return nil, err
		}
	}
	return lengths, nil
}

// FormatSize writes `300 x 400 mm`. ParseSize reads it back.
func (u Unit) FormatSize(s Size) string { return u.number(s.W) + " x " + u.Format(s.H) }

// Aspect is width over height.
func (s Size) Aspect() float64 { return float64(s.W / s.H) }

// Validate refuses sides outside 0..MaxLength, 0 excluded.
func (s Size) Validate() error {
	for _, side := range []MM{s.W, s.H} {
		if !(side > 0 && side <= MaxLength) {
			return fmt.Errorf("size %s is not possible: give each side a length above 0 and up to 10000 mm", Millimetre.FormatSize(s))
		}
	}
	return nil
}

// MarshalJSON writes [width, height] in mm.
func (s Size) MarshalJSON() ([]byte, error) { return json.Marshal([2]MM{s.W, s.H}) }

// UnmarshalJSON reads [width, height] in mm.
func (s *Size) UnmarshalJSON(data []byte) error {
	return readNumbers(data, "[width, height]", &s.W, &s.H)
}

// FitLong is the size in pixels of a picture of the same shape, with so many on its
// long side and at least one on the other.
func (s Size) FitLong(long int) (w, h int) {
	f := float64(long) / float64(max(s.W, s.H))
	return max(1, int(math.Round(float64(s.W)*f))), max(1, int(math.Round(float64(s.H)*f)))
}
