package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// loss is what a swatch costs that lies e standard deviations from the model, and
// the weight at which it pulls. Near 0 both are those of plain squares.
type loss func(e float64) (cost, weight float64)

// huber lets far swatches pull no harder than those at huberEdge: it has one
// minimum only, so it serves on the way in. Source: P. J. Huber, "Robust estimation of
// a location parameter", Ann. Math. Statist. 35, 1964. The edge holds 94 % of
// three normal parts together.
func huber(e float64) (cost, weight float64) {
	const huberEdge = 2.7
	if e <= huberEdge {
		return e * e, 1
	}
	return huberEdge * (2*e - huberEdge), huberEdge / e
}

// tukey lets go of swatches beyond tukeyEdge: a speck, a scratch, a misread mark.
// Source: A. E. Beaton and J. W. Tukey, "The fitting of power series, meaning
// polynomials, illustrated on band-spectroscopic data", Technometrics 16, 1974.
func tukey(e float64) (cost, weight float64) {
	if e >= tukeyEdge {
		return tukeyEdge * tukeyEdge / 3, 0
	}
	u := 1 - e*e/(tukeyEdge*tukeyEdge)
	return tukeyEdge * tukeyEdge / 3 * (1 - u*u*u), u * u
}

const tukeyEdge = 9.0

// usualNoise is what a photograph usually leaves, in even steps a part: CIEDE2000
// of about 1 between two readings of one paint. Common practice, no source.
const usualNoise = 0.6

// tukeyKept is the share of the squares of three normal parts that tukey's
// weights leave: (3 - 2 15/c2 + 105/c4) / 3, from the moments of chi squared.
const tukeyKept = (3 - 30/(tukeyEdge*tukeyEdge) + 105/(tukeyEdge*tukeyEdge*tukeyEdge*tukeyEdge)) / 3

// belief holds a parameter, or the step from one to another, to what is known
// beforehand.
type belief struct {
	at, from int // from below 0: the parameter alone
	mean, sd float64
}

func (b belief) off(x []float64) float64 {
	v := x[b.at]
	if b.from >= 0 {
		v -= x[b.from]
	}
	return (v - b.mean) / b.sd
}

// problem is all swatches and beliefs against the parameters: the sum of squares,
// robust over swatches, that the fit makes small.
type problem struct {
	model
	samples    []sample
	beliefs    []belief
	noise      float64 // standard deviation of one even step
	loss       loss
	mostOffset float64 // percent

	shares []float64
	rows   [3][]float64
}

func newProblem(m model, samples []sample, beliefs []belief) *problem {
	p := &problem{model: m, samples: samples, beliefs: beliefs, noise: usualNoise, loss: huber}
	p.shares = make([]float64, m.coats+1+one(m.scorch))
	for r := range p.rows {
		p.rows[r] = make([]float64, m.count())
	}
	p.mostOffset = 90
	for _, s := range samples {
		// A little below the lowest power: what lies beneath the offset gets no
		// light, and no slope leads back from there.
		p.mostOffset = math.Min(p.mostOffset, 0.98*s.setting.PowerPercent)
	}
	return p
}

func (p *problem) hold(x []float64) { p.parameters.hold(x, p.mostOffset) }

func (p *problem) at(x []float64) float64 {
	l := p.layers(x)
	sum := p.believed(x)
	for i := range p.samples {
		s := &p.samples[i]
		if s.eye {
			sum -= 2 * math.Log(p.judged(x, s, nil))
			continue
		}
		light := p.show(x, &l, s, p.shares, nil)
		cost, _ := p.loss(p.apart(s, light).length())
		sum += cost
	}
	return sum
}

func (p *problem) believed(x []float64) float64 {
	sum := 0.0
	for _, b := range p.beliefs {
		r := b.off(x)
		sum += r * r
	}
	return sum
}

// apart is how far a predicted look is from the swatch's, in even steps over the noise.
func (p *problem) apart(s *sample, light triple) triple {
	d := s.steps.times(ofLab(light.linear().Lab()).minus(ofLab(s.look)))
	for i := range d {
		d[i] /= p.noise
	}
	return d
}

func (p *problem) slope(x []float64, normal *mat.SymDense, half []float64) float64 {
	normal.Zero()
	clear(half)
	sum := p.slopeOfBeliefs(x, normal, half)
	l := p.layers(x)
	for i := range p.samples {
		sum += p.slopeOfSample(x, &l, &p.samples[i], normal, half)
	}
	return sum
}

func (p *problem) slopeOfBeliefs(x []float64, normal *mat.SymDense, half []float64) float64 {
	for _, b := range p.beliefs {
		r, w := b.off(x)/b.sd, 1/(b.sd*b.sd)
		half[b.at] += r
		normal.SetSym(b.at, b.at, normal.At(b.at, b.at)+w)
		if b.from >= 0 {
			half[b.from] -= r
			normal.SetSym(b.from, b.from, normal.At(b.from, b.from)+w)
			normal.SetSym(b.at, b.from, normal.At(b.at, b.from)-w)
		}
	}
	return p.believed(x)
}

// slopeOfSample adds one swatch to the normal matrix and half gradient.
func (p *problem) slopeOfSample(x []float64, l *layers, s *sample, normal *mat.SymDense, half []float64) float64 {
	if s.eye {
		row := p.rows[0]
		share := p.judged(x, s, row)
		for k, v := range row {
			half[k] -= v / share
		}
		addOuter(normal, row, 1/(share*(1-share)))
		return -2 * math.Log(share)
	}
	light := p.show(x, l, s, p.shares, &p.rows)
	r := p.apart(s, light)
	cost, weight := p.loss(r.length())
	p.toSteps(s)
	for part := range 3 {
		for k, v := range p.rows[part] {
			half[k] += weight * r[part] * v
		}
		addOuter(normal, p.rows[part], weight)
	}
	return cost
}

// toSteps turns the rows from CIELAB to even steps over the noise.
func (p *problem) toSteps(s *sample) {
	for k := range p.rows[0] {
		v := s.steps.times(triple{p.rows[0][k], p.rows[1][k], p.rows[2][k]})
		for r := range 3 {
			p.rows[r][k] = v[r] / p.noise
		}
	}
}

// addOuter adds weight * row row^T. Most swatches show two coats of many, so most
// of a row is 0.
func addOuter(normal *mat.SymDense, row []float64, weight float64) {
	if weight == 0 {
		return
	}
	raw := normal.RawSymmetric()
	for i, a := range row {
		if a == 0 {
			continue
		}
		a *= weight
		line := raw.Data[i*raw.Stride:]
		for j := i; j < len(row); j++ {
			line[j] += a * row[j]
		}
	}
}
