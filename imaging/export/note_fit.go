package export

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// NoteFit is how the panel fits the machine.
type NoteFit struct {
	How     layout.How     `json:"how"`
	Turned  bool           `json:"turned"` // a quarter clockwise, the panel's top to the right
	Words   string         `json:"words"`
	Instead *layout.Border `json:"border_that_fits_mm,omitempty"` // where it does not fit
}

// NoteStop is a place that the pointer light is taken to before the burn.
type NoteStop struct {
	Spot   layout.Spot  `json:"spot"`
	At     layout.Point `json:"at_mm"`
	Beside layout.MM    `json:"to_the_edge_mm"` // what a ruler should show; 0 at the centre
}

// NoteSlip is what becomes of the border when the panel is laid down askew.
type NoteSlip struct {
	Shift   layout.MM     `json:"shift_mm"` // to the right
	Degrees float64       `json:"turn_degrees"`
	Least   layout.Border `json:"border_at_its_narrowest_mm"`
	Most    layout.Border `json:"border_at_its_widest_mm"`
	From    layout.MM     `json:"seen_from_mm"`
	Shows   bool          `json:"shows"` // from there
	Words   string        `json:"words"`
}

// NoteEven is the least border that still looks even when the panel is laid down with
// usual care.
type NoteEven struct {
	Shift   layout.MM `json:"shift_mm"` // either way, to the side and up
	Degrees float64   `json:"turn_degrees"`
	From    layout.MM `json:"seen_from_mm"`
	Least   layout.MM `json:"least_border_mm"`
}

// NoteMotion is how the head moves: every line from rest to rest.
type NoteMotion struct {
	AccelerationMMPerS2 float64 `json:"acceleration_mm_per_s2"`
	SkipsBlank          bool    `json:"skips_blank"` // in the time that is told
}

// HeadTravel is what the head covers to burn a raster in one go, the run-up at both
// ends of the lines included: as the panel lies on the bed, or upright where it does
// not fit in one go.
func HeadTravel(p layout.Placement, reach layout.Reach, fit layout.Fit) layout.Size {
	g := p.Grid
	if fit.How == layout.Turned {
		g.Cols, g.Rows = g.Rows, g.Cols
	}
	return layout.Travel(g, reach.RunUp)
}

// InOneGo tells whether a panel is burned without being moved.
func InOneGo(fit layout.Fit) bool { return fit.How == layout.Upright || fit.How == layout.Turned }

// WhyNotInOneGo says why a panel is not burned in one go, and what would help; it
// is empty where it is.
func WhyNotInOneGo(fit layout.Fit, travel layout.Size, bed layout.Bed) string {
	switch {
	case InOneGo(fit):
		return ""
	case fit.How == layout.InSections:
		return fmt.Sprintf("in one go the head would travel %s with its run-up and the bed is %s: %s",
			layout.Millimetre.FormatSize(travel), layout.Millimetre.FormatSize(bed), fit.Words)
	}
	return fit.Words
}

func newFit(fit layout.Fit) NoteFit {
	n := NoteFit{How: fit.How, Turned: fit.Turned, Words: fit.Words}
	if fit.Instead != nil {
		border := roundBorder(*fit.Instead)
		n.Instead = &border
	}
	return n
}

func newWalk(p layout.Placement) []NoteStop {
	var walk []NoteStop
	for _, s := range p.Walk() {
		walk = append(walk, NoteStop{Spot: s.Spot, At: Rounded(s.At), Beside: round(s.Beside)})
	}
	return walk
}

// The slips that a note tells of: what happens to a careful maker, seen from where
// people stand. Common practice, no source.
const (
	usualShift   layout.MM = 2
	usualDegrees           = 0.5
	usuallySeen  layout.MM = 2000
)

// The care with which a panel is laid down by pencil marks and pointer light. Common
// practice, no source.
const (
	carefulShift   layout.MM = 0.5
	carefulDegrees float64   = 0.1
)

// newEven is nil where no border of the panel would do.
func newEven(p layout.Placement) *NoteEven {
	slip := layout.Slip{X: carefulShift, Y: carefulShift, Degrees: carefulDegrees}
	least, err := layout.LeastBorder(p.Panel.Size, slip, layout.GoodCare, usuallySeen)
	if err != nil {
		return nil
	}
	return &NoteEven{carefulShift, carefulDegrees, usuallySeen, layout.MM(math.Ceil(float64(least)*10-1e-6) / 10)}
}

// In says it in unit u.
func (e NoteEven) In(u layout.Unit) string {
	return fmt.Sprintf("laid down to %s and %g degrees, a border of %s or more looks even from %g m",
		u.Format(e.Shift), e.Degrees, u.Format(e.Least), float64(e.From)/1000)
}

func newSlips(p layout.Placement) []NoteSlip {
	var out []NoteSlip
	for _, slip := range []layout.Slip{{X: usualShift}, {Degrees: usualDegrees}} {
		left, err := p.Slipped(slip)
		if err != nil {
			continue // the two above are always possible
		}
		out = append(out, NoteSlip{
			Shift: slip.X, Degrees: slip.Degrees,
			Least: roundBorder(left.Least), Most: roundBorder(left.Most),
			From: usuallySeen, Shows: left.Uneven.Shows(usuallySeen), Words: left.Words(usuallySeen),
		})
	}
	return out
}

// In says in unit u what a slip is and what it leaves of the border.
func (s NoteSlip) In(u layout.Unit) string {
	what := u.Format(s.Shift) + " too far right"
	if s.Degrees != 0 {
		what = fmt.Sprintf("%g degrees askew", s.Degrees)
	}
	side := func(least, most layout.MM, name layout.Side) string {
		if a, b := u.Format(least), u.Format(most); a != b {
			return fmt.Sprintf("%s to %s %s", a, b, name)
		}
		return u.Format(least) + " " + string(name)
	}
	seen := "not visible"
	if s.Shows {
		seen = "visible"
	}
	return fmt.Sprintf("%s leaves %s, %s, %s and %s: %s from %g m", what,
		side(s.Least.Left, s.Most.Left, layout.LeftSide), side(s.Least.Right, s.Most.Right, layout.RightSide),
		side(s.Least.Top, s.Most.Top, layout.TopSide), side(s.Least.Bottom, s.Most.Bottom, layout.BottomSide),
		seen, float64(s.From)/1000)
}
