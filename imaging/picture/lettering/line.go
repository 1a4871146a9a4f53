package lettering

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"undercoat/layout"
)

// The ranges of a line's values; ends are allowed.
const (
	MinCapHeight layout.MM = 0.5
	MaxCapHeight layout.MM = 500
	MaxMargin    layout.MM = 50
	MaxSpacing   layout.MM = 500
	MaxLetters             = 500 // in one line
	MaxLines               = 100
)

// Align says which part of a line lies at its anchor. Empty reads as Centre.
type Align string

// The ways to align.
const (
	Left   Align = "left"
	Centre Align = "centre"
	Right  Align = "right"
)

// Line is one line of lettering. Lines later in a list lie over earlier ones.
type Line struct {
	Text string `json:"text"`
	Font string `json:"font"` // a name that the job's Fonts know
	// CapHeight is the height of the capital H above the baseline, 0.5 to 500 mm:
	// what a ruler on the panel shows. The em of common fonts is 1.4 to 1.6 times as much.
	CapHeight layout.MM `json:"cap_height_mm"`
	// At lies on the baseline, from the panel's centre with y up: at the left end,
	// the middle or the right end of the letters' ink, as Align says.
	At    layout.Point `json:"at_mm"`
	Align Align        `json:"align,omitempty"` // left, centre or right; empty: centre
	// Spacing is added between letters, on top of the font's own spacing; below 0
	// it draws them together, down to half the cap height.
	Spacing layout.MM `json:"letter_spacing_mm,omitempty"`
	// ArcRadius bends the baseline: 0 straight, above 0 bulging up, below 0 bulging
	// down. The circle passes through At, where the baseline runs level; so a
	// centred line is even to both sides. At least the cap height.
	ArcRadius layout.MM `json:"arc_radius_mm,omitempty"`
	// RotationDegrees turns the whole line about At, counter-clockwise, -360 to 360.
	RotationDegrees float64 `json:"rotation_degrees,omitempty"`
	// Burn burns the letters out of the paint; otherwise they are left in the top
	// coat and no dot of the picture touches them.
	Burn bool `json:"burn"`
	// Margin keeps the picture's dots this far away from the outline, 0 to 50 mm,
	// of burned letters as of letters left.
	Margin layout.MM `json:"margin_mm,omitempty"`
}

// Validate names the first value that is out of range and what to do about it.
// Whether the font has every letter is for [Layout] to say.
func (l Line) Validate() error {
	if err := l.validateText(); err != nil {
		return err
	}
	switch l.Align {
	case "", Left, Centre, Right:
	default:
		return fmt.Errorf("align is %q: choose left, centre or right", l.Align)
	}
	if !within(l.CapHeight, MinCapHeight, MaxCapHeight) {
		return fmt.Errorf("cap height %s is out of range: choose %s to %s", show(l.CapHeight), show(MinCapHeight), show(MaxCapHeight))
	}
	if !within(l.At.X, -layout.MaxLength, layout.MaxLength) || !within(l.At.Y, -layout.MaxLength, layout.MaxLength) {
		return fmt.Errorf("anchor %s, %s is off every panel: choose a place on the panel", show(l.At.X), show(l.At.Y))
	}
	if !within(l.Spacing, -l.CapHeight/2, MaxSpacing) {
		return fmt.Errorf("letter spacing %s is out of range: choose %s to %s for this cap height", show(l.Spacing), show(-l.CapHeight/2), show(MaxSpacing))
	}
	if r := layout.MM(math.Abs(float64(l.ArcRadius))); r != 0 && !within(r, l.CapHeight, layout.MaxLength) {
		return fmt.Errorf("arc radius %s is out of range: choose 0 for a straight line, or %s (the cap height) to %s", show(l.ArcRadius), show(l.CapHeight), show(layout.MaxLength))
	}
	if !within(l.RotationDegrees, -360, 360) {
		return fmt.Errorf("rotation %g degrees is out of range: choose -360 to 360", l.RotationDegrees)
	}
	if !within(l.Margin, 0, MaxMargin) {
		return fmt.Errorf("margin %s is out of range: choose 0 to %s", show(l.Margin), show(MaxMargin))
	}
	return nil
}

func (l Line) validateText() error {
	switch {
	case strings.TrimSpace(l.Text) == "":
		return errors.New("text is empty: write something or remove the line")
	case !utf8.ValidString(l.Text):
		return errors.New("text is not valid UTF-8: write it again")
	case utf8.RuneCountInString(l.Text) > MaxLetters:
		return fmt.Errorf("text has %d letters: split it into lines of at most %d", utf8.RuneCountInString(l.Text), MaxLetters)
	case strings.TrimSpace(l.Font) == "":
		return errors.New("font is empty: choose a font")
	}
	_, err := readText(l.Text)
	return err
}

// within is false for NaN, which lies nowhere.
func within[N ~float64](v, low, high N) bool { return v >= low && v <= high }

func show(l layout.MM) string { return layout.Millimetre.Format(l) }
