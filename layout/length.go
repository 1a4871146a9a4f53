package layout

import (
	"errors"
	"fmt"
)

// MM is a length in millimetres.
type MM float64

const (
	// Inch is exactly 25.4 mm.
	// Source: international yard and pound agreement, 1959.
	Inch MM = 25.4
	// MaxLength is the longest length that is read: anything longer is a slip.
	MaxLength MM = 10_000
)

// limitSlack lets MaxLength be read back in any unit it was shown in: 393.701 in
// is a little over 10 m.
const limitSlack MM = 0.0005 * Inch

// ParseLength reads `254 mm`, `25.4cm`, `10in`, `9.85"`, `11 3/4 in`; a decimal
// comma is understood. A number without a unit is in unit bare. The result lies
// in 0..MaxLength, both ends included.
//
// Metres and feet are refused on purpose: `3m` is nearly always a slip for `3mm`.
func ParseLength(text string, bare Unit) (MM, error) {
	value, word, err := splitMeasure(text)
	if err != nil {
		return 0, lengthError(text, err)
	}
	unit := bare
	if word != "" {
		var known bool
		if unit, known = unitNamed(word); !known {
			return 0, lengthError(text, unknownUnit(word))
		}
	}
	l := unit.times(value)
	if l > MaxLength+limitSlack {
		return 0, lengthError(text, errTooLong)
	}
	return min(l, MaxLength), nil
}

var errTooLong = errors.New("is longer than ten metres")

func unknownUnit(word string) error { return fmt.Errorf("has the unknown unit %q", shortened(word)) }

func lengthError(text string, reason error) error {
	return fmt.Errorf("length %q %w: write a length from 0 to 10000 mm such as 254 mm, 25.4 cm or 11 3/4 in", shortened(text), reason)
}
