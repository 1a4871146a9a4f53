package fit

import (
	"math"
)

// The scorched ground darkens as the coat model has it: a log-normal of this
// width whose middle lies two widths above the scorch dose.
const scorchWidth = 0.2

// model is the look of a swatch for any values of the parameters: the same
// coats, nested break-throughs and mean in linear light as coat.Model, kept apart
// so that its slopes are exact and a colour need not be a whole code value.
type model struct {
	parameters
	givenExponent float64 // where it is not fitted
}

// layers is what the model needs of x for all swatches: the linear light of each
// layer and how it moves with the layer's CIELAB.
type layers struct {
	light []triple
	slope []square3
}

func (m *model) layers(x []float64) layers {
	n := m.coats + 1 + one(m.scorch)
	l := layers{make([]triple, n), make([]square3, n)}
	for i := range n {
		at := m.look(i)
		l.light[i] = ofLinear(triple{x[at], x[at+1], x[at+2]}.lab().Linear())
		slope := labSlope(l.light[i])
		l.slope[i] = slope.inverse()
	}
	return l
}

// lnDose is the logarithm of a swatch's dose, with its slopes.
func (m *model) lnDose(x []float64, s *sample) (ln, byOffset, byExponent float64) {
	offset, exponent := s.offset, m.givenExponent
	if m.offset {
		offset = x[m.offsetAt()]
	}
	if m.passes {
		exponent = x[m.passesAt()]
	}
	return s.lnDose(offset, exponent)
}

// show predicts a swatch. shares has one place for each layer; rows may be nil.
func (m *model) show(x []float64, l *layers, s *sample, shares []float64, rows *[3][]float64) triple {
	lnDose, byOffset, byExponent := m.lnDose(x, s)
	if rows == nil {
		return m.mix(x, l, lnDose, s.bands, shares, nil)
	}
	n := m.count()
	bend := make([]triple, n+1) // of linear light; the last along ln dose
	light := m.mix(x, l, lnDose, s.bands, shares, bend)
	for layer, share := range shares {
		at := m.look(layer)
		for k := range 3 {
			for r := range 3 {
				bend[at+k][r] = share * l.slope[layer][r][k]
			}
		}
	}
	if m.offset {
		bend[m.offsetAt()].add(byOffset, bend[n])
	}
	if m.passes {
		bend[m.passesAt()].add(byExponent, bend[n])
	}
	slope := labSlope(light)
	for k := range n {
		v := slope.times(bend[k])
		for r := range 3 {
			rows[r][k] = v[r]
		}
	}
	return light
}

// mix is the mean light over the bands of a field, and, where bend is not nil,
// its slopes along break-throughs, spreads, scorch dose and, last, ln dose.
func (m *model) mix(x []float64, l *layers, lnDose float64, bands []band, shares []float64, bend []triple) triple {
	clear(shares)
	ground := m.coats
	var burnt triple // scorched less bare ground
	if m.scorch {
		burnt = l.light[ground+1].minus(l.light[ground])
	}
	for _, b := range bands {
		ln := lnDose + b.lnShare
		scorched, scorchDensity := 0.0, 0.0
		if m.scorch {
			z := (ln-x[m.scorchDose()])/scorchWidth - 2
			scorched, scorchDensity = normal(z), density(z)/scorchWidth
		}
		above, owner, ownZ, ownDensity := 1.0, 0, 0.0, 0.0
		for i := range m.coats {
			spread := math.Exp(x[m.spread(i)])
			z := (ln - x[m.breakThrough(i)]) / spread
			if lost := normal(z); lost < above || i == 0 {
				shares[i] += b.area * (above - lost)
				above, owner, ownZ = lost, i, z
				if bend != nil {
					ownDensity = density(z) / spread
				}
			}
			if bend == nil || ownDensity == 0 {
				continue
			}
			uncovered := l.light[i+1].minus(l.light[i])
			if i+1 == ground && m.scorch {
				uncovered.add(scorched, burnt)
			}
			f := b.area * ownDensity
			bend[m.breakThrough(owner)].add(-f, uncovered)
			bend[m.spread(owner)].add(-f*ownZ*math.Exp(x[m.spread(owner)]), uncovered)
			bend[len(bend)-1].add(f, uncovered)
		}
		shares[ground] += b.area * above * (1 - scorched)
		if m.scorch {
			shares[ground+1] += b.area * above * scorched
			if bend != nil {
				f := b.area * above * scorchDensity
				bend[m.scorchDose()].add(-f, burnt)
				bend[len(bend)-1].add(f, burnt)
			}
		}
	}
	var light triple
	for i, share := range shares {
		light.add(share, l.light[i])
	}
	return light
}

// normal is the share of a standard normal distribution below z, density its
// height there. Far out both are exactly 0 or 1: nothing there can be seen.
func normal(z float64) float64 {
	switch {
	case z < -7:
		return 0
	case z > 7:
		return 1
	}
	return 0.5 * math.Erfc(-z*math.Sqrt2/2)
}

func density(z float64) float64 {
	if z < -7 || z > 7 {
		return 0
	}
	return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
}
