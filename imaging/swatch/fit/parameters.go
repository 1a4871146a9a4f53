package fit

import "math"

// parameters says where each unknown stands in the vector that is fitted:
//
//	ln break-through dose of each coat, ln spread of each coat,
//	CIELAB of each coat and the ground,
//	then, where fitted: ln scorch dose and CIELAB of the scorched ground,
//	power offset in percent, pass exponent, ln width of an eye's judgement.
type parameters struct {
	coats  int
	scorch bool
	offset bool
	passes bool
	eye    bool
}

func (p parameters) breakThrough(i int) int { return i }
func (p parameters) spread(i int) int       { return p.coats + i }

// look is the first of three places; layer coats is the ground, coats+1 the
// scorched ground.
func (p parameters) look(layer int) int {
	if layer > p.coats {
		return p.scorchDose() + 1
	}
	return 2*p.coats + 3*layer
}

func (p parameters) scorchDose() int { return 2*p.coats + 3*(p.coats+1) }

func (p parameters) offsetAt() int {
	if p.scorch {
		return p.scorchDose() + 4
	}
	return p.scorchDose()
}

func (p parameters) passesAt() int { return p.offsetAt() + one(p.offset) }
func (p parameters) eyeAt() int    { return p.passesAt() + one(p.passes) }
func (p parameters) count() int    { return p.eyeAt() + one(p.eye) }

// moved carries a vector over to a set of parameters that holds more or less;
// what is new comes from fresh.
func (p parameters) moved(x []float64, to parameters, fresh []float64) []float64 {
	y := append([]float64(nil), fresh...)
	copy(y[:p.scorchDose()], x[:p.scorchDose()])
	if p.scorch && to.scorch {
		copy(y[to.scorchDose():to.scorchDose()+4], x[p.scorchDose():])
	}
	if p.offset && to.offset {
		y[to.offsetAt()] = x[p.offsetAt()]
	}
	if p.passes && to.passes {
		y[to.passesAt()] = x[p.passesAt()]
	}
	if p.eye && to.eye {
		y[to.eyeAt()] = x[p.eyeAt()]
	}
	return y
}

// Where the model has a meaning.
const (
	leastLnGap   = 0.01 // between neighbouring break-throughs
	leastSpread  = 0.01
	mostSpread   = 1.5
	mostLnDose   = 13.8 // 1e6 J/cm2
	leastEye     = 0.01
	mostEye      = 1.0
	mostPassExpo = 3.0
)

// hold moves x back to where the model has a meaning: doses rise with depth,
// spreads and widths are those of paint and eyes.
func (p parameters) hold(x []float64, mostOffset float64) {
	for i := range p.coats {
		b := p.breakThrough(i)
		if i > 0 {
			x[b] = math.Max(x[b], x[b-1]+leastLnGap)
		}
		x[b] = math.Min(math.Max(x[b], -mostLnDose), mostLnDose)
		s := p.spread(i)
		x[s] = math.Min(math.Max(x[s], math.Log(leastSpread)), math.Log(mostSpread))
	}
	for layer := 0; layer <= p.coats+one(p.scorch); layer++ {
		l := p.look(layer)
		x[l] = math.Min(math.Max(x[l], 0), 110)
		for _, k := range []int{l + 1, l + 2} {
			x[k] = math.Min(math.Max(x[k], -150), 150)
		}
	}
	if p.scorch {
		d := p.scorchDose()
		x[d] = math.Min(math.Max(x[d], -mostLnDose), mostLnDose)
	}
	if p.offset {
		x[p.offsetAt()] = math.Min(math.Max(x[p.offsetAt()], 0), mostOffset)
	}
	if p.passes {
		x[p.passesAt()] = math.Min(math.Max(x[p.passesAt()], 0.05), mostPassExpo)
	}
	if p.eye {
		x[p.eyeAt()] = math.Min(math.Max(x[p.eyeAt()], math.Log(leastEye)), math.Log(mostEye))
	}
}

func one(b bool) int {
	if b {
		return 1
	}
	return 0
}
