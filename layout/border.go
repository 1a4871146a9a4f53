package layout

import (
	"fmt"
	"strings"
)

// Border is the untouched top coat round the picture, a side at a time.
type Border struct {
	Left   MM `json:"left"`
	Right  MM `json:"right"`
	Top    MM `json:"top"`
	Bottom MM `json:"bottom"`
}

// Even is the same border on all four sides.
func Even(b MM) Border { return Border{b, b, b, b} }

// ParseBorder reads `6mm` for all sides, or four values in the order left,
// right, top, bottom: `6,6,10,10 mm`. With decimal commas the four are parted by
// semicolons: `6,5; 6,5; 10; 10 mm`. Each is 0..MaxLength.
func ParseBorder(text string, bare Unit) (Border, error) {
	separator := ";"
	if !strings.Contains(text, ";") {
		separator = ","
	}
	parts := strings.Split(text, separator)
	if separator == "," && len(parts) == 2 {
		parts = []string{text} // a decimal comma
	}
	if len(parts) != 1 && len(parts) != 4 {
		return Border{}, fmt.Errorf("border %q has %d values: write one for all sides such as 6mm, or left, right, top, bottom such as 6,6,10,10 mm", shortened(text), len(parts))
	}
	sides, err := parseLengths(parts, bare)
	if err != nil {
		return Border{}, fmt.Errorf("border %q: %w", shortened(text), err)
	}
	if len(sides) == 1 {
		return Even(sides[0]), nil
	}
	return Border{Left: sides[0], Right: sides[1], Top: sides[2], Bottom: sides[3]}, nil
}

// FormatBorder writes `6 mm` or `6, 6, 10, 10 mm`. ParseBorder reads it back.
func (u Unit) FormatBorder(b Border) string {
	left, right, top, bottom := u.number(b.Left), u.number(b.Right), u.number(b.Top), u.number(b.Bottom)
	if left == right && left == top && left == bottom {
		return u.Format(b.Left)
	}
	return fmt.Sprintf("%s, %s, %s, %s %s", left, right, top, bottom, u)
}

// Validate refuses sides outside 0..MaxLength.
func (b Border) Validate() error {
	sides := []struct {
		name  string
		width MM
	}{{"left", b.Left}, {"right", b.Right}, {"top", b.Top}, {"bottom", b.Bottom}}
	for _, side := range sides {
		if !(side.width >= 0 && side.width <= MaxLength) {
			return fmt.Errorf("border %s %s is not possible: choose a width from 0 to 10000 mm", Millimetre.Format(side.width), side.name)
		}
	}
	return nil
}
