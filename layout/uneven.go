package layout

import (
	"fmt"
	"math"
)

// Acuity is the finest angle that an eye with full sight makes out, a sixtieth of
// a degree, in radians.
// Source: the definition of decimal visual acuity 1.0 in ISO 8596, from memory.
const Acuity = math.Pi / 180 / 60

// Resolved is the finest difference that shows from a distance: d tan 1'.
func Resolved(from MM) MM { return MM(float64(from) * math.Tan(Acuity)) }

// Noticed is the share of a border's width by which it must differ from the one
// it is compared with before anybody notices, however near they stand. Common
// practice, no source.
const Noticed = 0.1

// Uneven is the worst difference that a slip makes between two widths of border
// that were meant to be alike: those of two facing sides, or of the two ends of
// one side.
type Uneven struct {
	By MM // how far the two differ more than they were meant to
	Of MM // the mean width of the two
}

// Shows tells whether the difference is seen from a distance. It must be wide
// enough for the eye to make out, see Resolved, and be at least the share
// Noticed of the border.
func (u Uneven) Shows(from MM) bool {
	return u.By > 0 && u.By >= Resolved(from) && u.By >= Noticed*u.Of
}

// uneven compares the two widths at the ends of each side; left and right run
// from the top down, top and bottom from left to right. A border that was asked
// to be uneven counts as even.
func (p Placement) uneven(left, right, top, bottom [2]MM) Uneven {
	worst := Uneven{By: -1}
	look := func(a, b, meant MM) {
		u := Uneven{By: abs(a - b - meant), Of: max(0, (a+b)/2)}
		if u.By > worst.By || (u.By == worst.By && u.Of < worst.Of) {
			worst = u
		}
	}
	for end := range 2 {
		look(left[end], right[end], p.Left.Left-p.Left.Right)
		look(top[end], bottom[end], p.Left.Top-p.Left.Bottom)
	}
	for _, side := range [][2]MM{left, right, top, bottom} {
		look(side[0], side[1], 0)
	}
	return worst
}

// Care is how even a border shall look.
type Care string

// The kinds of care, by the share of the border's width that a difference
// between facing sides may have. The shares are common practice, no source.
const (
	PlainCare Care = "plain" // as much as the border itself: 3 mm may become 1.5 and 4.5
	GoodCare  Care = "good"  // a third
	FineCare  Care = "fine"  // a tenth: nobody notices, see Noticed
)

func (c Care) share() (float64, error) {
	switch c {
	case PlainCare:
		return 1, nil
	case GoodCare:
		return 1.0 / 3, nil
	case FineCare:
		return Noticed, nil
	}
	return 0, fmt.Errorf("care %q is unknown: choose plain, good or fine", shortened(string(c)))
}

// LeastBorder is the narrowest even border with which a slip of this size, to
// whichever side, keeps the raster on the panel and does not show more than the
// care allows from a distance. Where the difference is too fine for the eye at
// that distance, only the raster must stay on the panel.
//
// It reckons with a raster as large as the panel, which is a little more than it
// will be.
func LeastBorder(panel Size, s Slip, c Care, from MM) (MM, error) {
	if err := panel.Validate(); err != nil {
		return 0, fmt.Errorf("panel: %w", err)
	}
	if err := s.Validate(); err != nil {
		return 0, err
	}
	if !(from > 0 && from <= 100*MaxLength) {
		return 0, fmt.Errorf("viewing distance %s is not possible: choose one above 0 and up to 1000 m", Millimetre.Format(from))
	}
	share, err := c.share()
	if err != nil {
		return 0, err
	}
	sin, cos := math.Sincos(math.Abs(s.Degrees) * math.Pi / 180)
	// The corners move out by the shift, and by the turn as far as the other half
	// side swings; facing sides then differ by twice that.
	reach := func(shift, along, across MM) MM {
		return abs(shift) + max(0, across/2*MM(sin)-along/2*MM(1-cos))
	}
	out := max(reach(s.X, panel.W, panel.H), reach(s.Y, panel.H, panel.W))
	uneven := 2 * max(abs(s.X)+panel.H/2*MM(sin), abs(s.Y)+panel.W/2*MM(sin))
	least := out
	if uneven >= Resolved(from) {
		least = max(least, uneven/MM(share))
	}
	if least > min(panel.W, panel.H)/2 {
		return 0, fmt.Errorf("a slip of %s and %g degrees takes a border of %s, more than a panel of %s has room for: lay the panel down with more care",
			Millimetre.Format(max(abs(s.X), abs(s.Y))), s.Degrees, Millimetre.Format(least), Millimetre.FormatSize(panel))
	}
	return least, nil
}
