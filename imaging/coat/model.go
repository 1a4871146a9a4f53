package coat

import (
	"fmt"
	"math"

	"undercoat/imaging/colour"
)

// Options are what the look depends on besides the stack. The zero value is
// the bare panel with no light wandering sideways.
type Options struct {
	YuleNielsen float64 // n, 1 to 10; 0 reads as 1: none
	Finish      Finish
}

const maxYuleNielsen = 10.0

func (o Options) validate() error {
	if o.YuleNielsen != 0 && !(o.YuleNielsen >= 1 && o.YuleNielsen <= maxYuleNielsen) {
		return outside("yule-nielsen n", o.YuleNielsen, "between 1 and 10, or 0 for none")
	}
	_, err := o.Finish.glareKept()
	return err
}

// scorchWidth is the log-normal width of the ground's darkening. It sets in two
// widths below its middle, so at the scorch dose 2 % of the ground has
// darkened, at one and a half times that dose half, at two and a half times all.
// Common practice, no source.
const scorchWidth = 0.2

// Model is a stack made ready to be asked. It never changes.
type Model struct {
	stack  Stack
	curve  *depthCurve
	breaks []breakThrough
	scorch breakThrough    // of the ground
	looks  []colour.Linear // coats from the top down, ground, scorched ground; under the finish
	rooted []colour.Linear // looks to the power 1/n
	n      float64         // Yule-Nielsen, at least 1
}

// breakThrough is the log-normal loss of one coat.
type breakThrough struct {
	doseJCM2 float64 // +Inf: never
	lnDose   float64
	spread   float64
	drawn    bool // past the last point of the curve
}

// lost is the share of area that has lost the coat.
func (b breakThrough) lost(doseJCM2, lnDose float64) float64 {
	switch {
	case math.IsInf(b.doseJCM2, 1):
		return 0
	case b.spread > 0:
		return normal((lnDose - b.lnDose) / b.spread)
	case doseJCM2 < b.doseJCM2:
		return 0
	case doseJCM2 == b.doseJCM2:
		return 0.5
	}
	return 1
}

// Compile checks the stack and makes it ready.
func (s Stack) Compile(o Options) (*Model, error) {
	if err := s.Validate(); err != nil {
		return nil, fmt.Errorf("stack %q: %w", s.Name, err)
	}
	if err := o.validate(); err != nil {
		return nil, err
	}
	m := &Model{stack: s.Clone(), curve: newDepthCurve(s.Curve.Points), n: math.Max(1, o.YuleNielsen)}
	for i := range s.Coats {
		dose, drawn := m.curve.doseFor(s.DepthOfUM(i))
		m.breaks = append(m.breaks, breakThrough{dose, math.Log(dose), s.Curve.Spread[i], drawn})
	}
	m.scorch = breakThrough{doseJCM2: math.Inf(1)}
	if d := s.Curve.ScorchDoseJCM2; d > 0 {
		middle := d * math.Exp(2*scorchWidth)
		m.scorch = breakThrough{doseJCM2: middle, lnDose: math.Log(middle), spread: scorchWidth}
	}
	return m, m.setLooks(o.Finish)
}

func (m *Model) setLooks(f Finish) error {
	bare := make([]colour.Stored, 0, len(m.stack.Coats)+2)
	for _, c := range m.stack.Coats {
		bare = append(bare, c.Colour)
	}
	for _, c := range append(bare, m.stack.Ground.Colour, m.stack.Curve.ScorchColour) {
		seen, err := f.Seen(c.Linear())
		if err != nil {
			return err
		}
		m.looks = append(m.looks, seen)
		m.rooted = append(m.rooted, power(seen, 1/m.n))
	}
	return nil
}

func power(c colour.Linear, p float64) colour.Linear {
	if p == 1 {
		return c
	}
	return colour.Linear{R: math.Pow(c.R, p), G: math.Pow(c.G, p), B: math.Pow(c.B, p)}
}

// Stack is the stack the model was made from.
func (m *Model) Stack() Stack { return m.stack.Clone() }

// Calibrated tells whether the curve was fitted to a burned chart.
func (m *Model) Calibrated() bool { return m.stack.Curve.Calibrated }

// Coats is the number of coats, without the ground.
func (m *Model) Coats() int { return len(m.breaks) }

// PureLook is the look of layer i alone: a coat from the top down, or the
// unscorched ground for i = Coats().
func (m *Model) PureLook(i int) colour.Linear { return m.looks[i] }

// DepthUM is how deep a dose burns. Past the last point of the curve it goes
// on in a straight line in ln D to twice the last dose and is level from there;
// see [Model.Drawn].
func (m *Model) DepthUM(doseJCM2 float64) float64 { return m.curve.depthUM(doseJCM2) }

// BreakThrough is the dose in J/cm2 at which half the area has lost coat i,
// +Inf where the curve does not reach.
func (m *Model) BreakThrough(i int) float64 { return m.breaks[i].doseJCM2 }

// Drawn tells whether the break-through of coat i lies past the last point of
// the curve, where it is drawn on and not measured.
func (m *Model) Drawn(i int) bool { return m.breaks[i].drawn }

// BreakThroughRange is the interval which holds the break-through dose of coat
// i with 95 %, from its standard error; ok is false where that is not known.
func (m *Model) BreakThroughRange(i int) (low, high float64, ok bool) {
	dose := m.breaks[i].doseJCM2
	if len(m.stack.Curve.BreakThroughSD) == 0 || math.IsInf(dose, 1) {
		return dose, dose, false
	}
	const within95 = 1.959963984540054 // standard normal deviate, two-sided 95 %
	f := math.Exp(within95 * m.stack.Curve.BreakThroughSD[i])
	return dose / f, dose * f, true
}

// Shown is what a dose leaves to be seen.
type Shown struct {
	Coverage []float64 // share of area: coats from the top down, then the ground; sums to 1
	Scorched float64   // share of the bare ground that has darkened
	DepthUM  float64
	Look     colour.Linear
}

// ShowThrough is everything about one dose, in J/cm2.
func (m *Model) ShowThrough(doseJCM2 float64) Shown {
	s := Shown{Coverage: make([]float64, len(m.breaks)+1), DepthUM: m.DepthUM(doseJCM2)}
	s.Scorched = m.coverage(doseJCM2, s.Coverage)
	s.Look = m.lookOf(s.Coverage, s.Scorched)
	return s
}

// coverage fills into with the shares of coats and ground and returns the
// scorched share of the ground.
func (m *Model) coverage(doseJCM2 float64, into []float64) (scorched float64) {
	lnDose := math.Inf(-1)
	if doseJCM2 > 0 {
		lnDose = math.Log(doseJCM2)
	}
	above := 1.0 // share that has lost everything above
	for i, b := range m.breaks {
		lost := math.Min(above, b.lost(doseJCM2, lnDose))
		into[i] = above - lost
		above = lost
	}
	into[len(m.breaks)] = above
	return m.scorch.lost(doseJCM2, lnDose)
}

// Look is the look of an area under an even dose, in J/cm2. It allocates nothing.
func (m *Model) Look(doseJCM2 float64) colour.Linear {
	var all [MaxCoats + 1]float64
	shares := all[:len(m.breaks)+1]
	return m.lookOf(shares, m.coverage(doseJCM2, shares))
}

// lookOf is the mean look of coats and ground, weighted by area.
func (m *Model) lookOf(shares []float64, scorched float64) colour.Linear {
	ground := len(m.breaks)
	burnt := m.rooted[ground+1].Scale(scorched * shares[ground])
	sum := burnt.Add(m.rooted[ground].Scale((1 - scorched) * shares[ground]))
	for i, share := range shares[:ground] {
		sum = sum.Add(m.rooted[i].Scale(share))
	}
	return power(sum, m.n)
}
