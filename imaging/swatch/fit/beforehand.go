package fit

import (
	"math"

	"undercoat/imaging/coat"
)

// What is known before a swatch is burned, as standard deviations. All are wide
// beside what a chart tells; they hold what it leaves open. Common practice, no source.
const (
	scaleSD      = 2.0  // of ln dose: another machine may take seven times as much
	gapSD        = 0.8  // of ln dose from coat to coat
	usualSpread  = 0.15 // where the stack has none
	spreadSD     = 0.6  // of ln spread
	paintSD      = 3.0  // even steps, each part: labels and screens are only so good
	scorchSD     = 0.6  // of ln dose
	charSD       = 8.0  // even steps
	offsetSD     = 5.0  // percent
	exponentSD   = 0.3
	usualEye     = 0.08 // of ln dose: how finely an eye places a break-through
	eyeSD        = 0.7  // of its logarithm
	openGap      = 0.35 // from coat to coat, where the stack's curve does not reach
	darkenedGap  = 0.5  // from the last break-through to a scorch nobody named
	darkenedPart = 0.15 // of the ground's light is left of it then
)

// expected is the values of the parameters beforehand, and the beliefs that hold
// them there.
func expected(in *input, p parameters) (x []float64, beliefs []belief, err error) {
	x = make([]float64, p.count())
	doses, err := expectedDoses(in.stack)
	if err != nil {
		return nil, nil, err
	}
	hold := func(at int, value, sd float64) {
		x[at] = value
		beliefs = append(beliefs, belief{at, -1, value, sd})
	}
	for i, ln := range doses {
		if i == 0 {
			hold(p.breakThrough(0), ln, scaleSD)
		} else {
			x[p.breakThrough(i)] = ln
			beliefs = append(beliefs, belief{p.breakThrough(i), p.breakThrough(i - 1), ln - doses[i-1], gapSD})
		}
		spread := in.stack.Curve.Spread[i]
		if spread == 0 {
			spread = usualSpread
		}
		hold(p.spread(i), math.Log(math.Min(math.Max(spread, 0.03), 0.6)), spreadSD)
	}
	paint := func(layer int, light triple, sd float64) {
		lab := light.linear().Lab()
		wide := stepWidths(lab)
		for k, v := range ofLab(lab) {
			hold(p.look(layer)+k, v, sd*wide[k])
		}
	}
	for i, c := range in.stack.Coats {
		paint(i, ofLinear(c.Colour.Linear()), paintSD)
	}
	ground := ofLinear(in.stack.Ground.Colour.Linear())
	paint(p.coats, ground, paintSD)
	if p.scorch {
		last := doses[p.coats-1]
		if d := in.stack.Curve.ScorchDoseJCM2; d > 0 {
			hold(p.scorchDose(), math.Log(d), scorchSD)
			paint(p.coats+1, ofLinear(in.stack.Curve.ScorchColour.Linear()), charSD)
		} else {
			hold(p.scorchDose(), last+darkenedGap, 2)
			paint(p.coats+1, triple{darkenedPart * ground[0], darkenedPart * ground[1], darkenedPart * ground[2]}, 3*charSD)
		}
	}
	if p.offset {
		hold(p.offsetAt(), in.offset, offsetSD)
	}
	if p.passes {
		hold(p.passesAt(), in.stack.Curve.Passes(), exponentSD)
	}
	if p.eye {
		hold(p.eyeAt(), math.Log(usualEye), eyeSD)
	}
	return x, beliefs, nil
}

// expectedDoses is ln of the stack's own break-through doses, drawn on where its
// curve does not reach.
func expectedDoses(s coat.Stack) ([]float64, error) {
	m, err := s.Compile(coat.Options{})
	if err != nil {
		return nil, err
	}
	doses := make([]float64, m.Coats())
	for i := range doses {
		ln := math.Log(m.BreakThrough(i))
		if math.IsInf(ln, 1) {
			ln = math.Log(s.Curve.Points[len(s.Curve.Points)-1].DoseJCM2)
			if i > 0 {
				ln = doses[i-1] + openGap
			}
		}
		if i > 0 {
			ln = math.Max(ln, doses[i-1]+0.1)
		}
		doses[i] = ln
	}
	return doses, nil
}
