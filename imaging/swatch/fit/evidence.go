package fit

import (
	"fmt"
	"math"

	"undercoat/imaging/coat"
)

// guessedLnSD is how well a break-through dose is known that nobody has measured: a
// factor of one and a half either way. Common practice, no source.
const guessedLnSD = 0.4

// Update is the stack after a finished panel has spoken. factor is by what all of
// the curve's doses must be multiplied to give what the panel shows, 0.2 to 5, and
// sd the standard error of its logarithm, above 0 and at most 3.
//
// Each break-through dose and the panel's are two measurements of one value: they
// are put together in ln dose, each weighted by the inverse of its variance, as in
// any handbook of measurement (e.g. JCGM 100:2008, from memory). The points between
// move with the coats about them, spreads and colours stay, and so does the mark of
// calibration: one panel is no chart.
func Update(stack coat.Stack, factor, sd float64) (coat.Stack, error) {
	if !(factor >= 0.2 && factor <= 5) {
		return coat.Stack{}, fmt.Errorf("dose factor %g is out of range: it must be 0.2 to 5, so burn a chart where a panel is further off", factor)
	}
	if !(sd > 0 && sd <= coat.MaxSpread) {
		return coat.Stack{}, fmt.Errorf("standard error %g of the ln dose factor is out of range: it must be above 0 and at most %g", sd, coat.MaxSpread)
	}
	if err := stack.Validate(); err != nil {
		return coat.Stack{}, fmt.Errorf("stack %q: %w", stack.Name, err)
	}
	s := stack.Clone()
	shifts := make([]float64, len(s.Coats))
	known := make([]float64, len(s.Coats))
	for i := range shifts {
		was := guessedLnSD
		if len(s.Curve.BreakThroughSD) > 0 {
			was = s.Curve.BreakThroughSD[i]
		}
		trust := was * was / (was*was + sd*sd) // of the panel
		shifts[i] = trust * math.Log(factor)
		known[i] = was * math.Sqrt(1-trust)
	}
	s.Curve.BreakThroughSD = known
	for i, p := range stack.Curve.Points {
		s.Curve.Points[i].DoseJCM2 = p.DoseJCM2 * math.Exp(shiftAt(stack, shifts, p.DepthUM))
	}
	s.Curve.ScorchDoseJCM2 *= math.Exp(shifts[len(shifts)-1])
	keepRising(s.Curve.Points)
	if s.Curve.Origin != nil {
		s.Curve.Origin.Panels++
	}
	return s, s.Validate()
}

// shiftAt is the shift of ln dose at a depth: that of a coat at its lower face,
// between the coats a straight line between theirs.
func shiftAt(s coat.Stack, shifts []float64, depthUM float64) float64 {
	above := 0.0
	for i := range shifts {
		face := s.DepthOfUM(i)
		if depthUM <= face {
			if i == 0 {
				return shifts[0]
			}
			t := (depthUM - above) / (face - above)
			return shifts[i-1] + t*(shifts[i]-shifts[i-1])
		}
		above = face
	}
	return shifts[len(shifts)-1]
}

// keepRising pools the points that unlike shifts would have put past one another,
// and sets them a hair apart again.
func keepRising(points []coat.Point) {
	ln := make([]float64, len(points))
	for i, p := range points {
		ln[i] = math.Log(p.DoseJCM2)
	}
	pooled := isotonic(ln, nil)
	const hair = 1e-6
	for i := range points {
		if i > 0 && pooled[i] < pooled[i-1]+hair {
			pooled[i] = pooled[i-1] + hair
		}
		if pooled[i] != ln[i] {
			points[i].DoseJCM2 = math.Exp(pooled[i])
		}
	}
}
