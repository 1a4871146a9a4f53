package coat

import (
	"slices"

	"undercoat/imaging/colour"
)

// Kind and Version mark a stack file.
const (
	Kind    = "undercoat-stack"
	Version = 1
)

// Stack is the coats, from the top down, over the ground, and the curve that
// says how deep a dose burns into them. Kind and Version may stay empty in a
// stack that is built in code; [Stack.JSON] fills them in.
type Stack struct {
	Kind    string `json:"kind"`
	Version int    `json:"version"`
	Name    string `json:"name"`
	Coats   []Coat `json:"coats"`
	Ground  Ground `json:"ground"`
	Curve   Curve  `json:"curve"`
}

// Coat is one colour of paint.
type Coat struct {
	Name        string        `json:"name"`
	Colour      colour.Stored `json:"colour"`       // the bare, matt film as it is seen
	ThicknessUM float64       `json:"thickness_um"` // dry film, above 0 to MaxThicknessUM
}

// Ground is the bare panel under all coats.
type Ground struct {
	Name   string        `json:"name"`
	Colour colour.Stored `json:"colour"`
}

// Point says that a dose, spread evenly, burns to a depth.
type Point struct {
	DoseJCM2 float64 `json:"dose_j_per_cm2"`
	DepthUM  float64 `json:"depth_um"`
}

// Curve is the calibration of one stack on one machine.
type Curve struct {
	// Calibrated is true for a curve that was fitted to a burned chart. All
	// else is a guess and must be shown as one.
	Calibrated bool `json:"calibrated"`
	// Points rise in dose and never fall in depth. The first lies at depth 0:
	// its dose is the onset, below which nothing burns.
	Points []Point `json:"points"`
	// Spread is the log-normal width of each coat's break-through, one a coat;
	// 0 makes it a sharp step.
	Spread []float64 `json:"spread"`
	// ScorchDoseJCM2 is where the ground begins to darken; 0 means that it does not.
	ScorchDoseJCM2 float64       `json:"scorch_dose_j_per_cm2,omitempty"`
	ScorchColour   colour.Stored `json:"scorch_colour,omitzero"`
	// PassExponent g: N passes burn like N^g doses of one pass. 0 reads as 1.
	PassExponent float64 `json:"pass_exponent,omitempty"`
	// BreakThroughSD is the standard error of ln(break-through dose), one a
	// coat, or empty where nobody has measured it.
	BreakThroughSD []float64 `json:"break_through_ln_sd,omitempty"`
	// Origin is how a calibrated curve came about; nil where nobody has written it down.
	Origin *Origin `json:"origin,omitempty"`
}

// Passes is the pass exponent with the default put in.
func (c Curve) Passes() float64 {
	if c.PassExponent == 0 {
		return 1
	}
	return c.PassExponent
}

// DepthOfUM is the depth of the lower face of coat i, counted from 0 at the top.
func (s Stack) DepthOfUM(i int) float64 {
	depth := 0.0
	for _, c := range s.Coats[:i+1] {
		depth += c.ThicknessUM
	}
	return depth
}

// Equal tells whether two stacks are the same in everything a proof depends on;
// names and marks of the file do not count.
func (s Stack) Equal(t Stack) bool {
	a, b := s.Curve, t.Curve
	return slices.EqualFunc(s.Coats, t.Coats, func(c, d Coat) bool { return c.Colour == d.Colour && c.ThicknessUM == d.ThicknessUM }) &&
		s.Ground.Colour == t.Ground.Colour &&
		slices.Equal(a.Points, b.Points) && slices.Equal(a.Spread, b.Spread) && slices.Equal(a.BreakThroughSD, b.BreakThroughSD) &&
		a.Calibrated == b.Calibrated && a.ScorchDoseJCM2 == b.ScorchDoseJCM2 && a.ScorchColour == b.ScorchColour && a.Passes() == b.Passes()
}

// Clone copies the stack so that a change to the copy leaves s alone.
func (s Stack) Clone() Stack {
	s.Coats = append([]Coat(nil), s.Coats...)
	s.Curve.Points = append([]Point(nil), s.Curve.Points...)
	s.Curve.Spread = append([]float64(nil), s.Curve.Spread...)
	s.Curve.BreakThroughSD = append([]float64(nil), s.Curve.BreakThroughSD...)
	s.Curve.Origin = s.Curve.Origin.clone()
	return s
}
