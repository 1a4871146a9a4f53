package layout

import (
	"fmt"
	"strconv"
	"strings"
)

// Unit is what a person reads and types lengths in.
type Unit uint8

// The units. The inch as a length is [Inch]; as a unit it is Inches.
const (
	Millimetre Unit = iota
	Centimetre
	Inches
)

// ParseUnit reads `mm`, `cm`, `in` and the ways they are written out.
func ParseUnit(text string) (Unit, error) {
	unit, known := unitNamed(strings.ToLower(strings.TrimSpace(text)))
	if !known {
		return unit, fmt.Errorf("unit %q is unknown: choose mm, cm or in", shortened(text))
	}
	return unit, nil
}

// unitNamed finds the unit of a word in lower case.
func unitNamed(word string) (unit Unit, known bool) {
	switch word {
	case "mm", "millimetre", "millimetres", "millimeter", "millimeters":
		return Millimetre, true
	case "cm", "centimetre", "centimetres", "centimeter", "centimeters":
		return Centimetre, true
	case "in", "in.", "inch", "inches", `"`, "''", "”", "″":
		return Inches, true
	}
	return Millimetre, false
}

// String is "mm", "cm" or "in".
func (u Unit) String() string {
	switch u {
	case Centimetre:
		return "cm"
	case Inches:
		return "in"
	default:
		return "mm"
	}
}

// length is the length of one unit.
func (u Unit) length() MM {
	switch u {
	case Centimetre:
		return 10
	case Inches:
		return Inch
	default:
		return 1
	}
}

// times is a number of units. An inch counts as 254 tenths of a millimetre, so
// that 12 in are 304.8 mm to the last bit, as people write them.
func (u Unit) times(value float64) MM {
	if u == Inches {
		return MM(value*254) / 10
	}
	return MM(value) * u.length()
}

// decimals is how many digits after the point are worth showing: a hundredth of
// a millimetre, a thousandth of an inch.
func (u Unit) decimals() int {
	if u == Millimetre {
		return 2
	}
	return 3
}

// Format writes a length as `254 mm`, `25.4 cm` or `10 in`, to 0.01 mm or
// 0.001 in, without trailing zeros. ParseLength reads it back.
func (u Unit) Format(l MM) string { return u.number(l) + " " + u.String() }

func (u Unit) number(l MM) string {
	text := strconv.FormatFloat(float64(l/u.length()), 'f', u.decimals(), 64)
	if strings.Contains(text, ".") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if text == "-0" {
		return "0"
	}
	return text
}
