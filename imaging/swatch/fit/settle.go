package fit

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Swatches differ in more than what a camera adds to each: paint is a little
// thicker here than there, so a swatch may look like one of a few percent more dose.
// On the flanks of a break-through that is worth many times the camera's noise. How
// much it is the swatches tell: the likeliest of these standard deviations of ln
// dose is taken. thicknessSD is what they are expected to be.
var scattersTried = []float64{0, 0.005, 0.01, 0.02, 0.03, 0.045, 0.07, 0.1}

const thicknessSD = 0.03 // common practice, no source

// settle lets go of swatches that fit nothing, measures noise and scatter, and
// comes to rest.
func (in *input) settle(ctx context.Context, p *problem, x []float64) (*fitted, error) {
	var best *fitted
	least := math.Inf(1)
	for _, scatter := range scattersTried {
		// Always from the same start: a fit without scatter may have let go of swatches
		// that only lie a little off, and would not take them back.
		f, err := in.settleWith(ctx, *p, x, scatter)
		if err != nil {
			return nil, err
		}
		if unlikely := f.unlikely(); unlikely < least {
			best, least = f, unlikely
		} else if scatter > thicknessSD && unlikely > least+6 {
			break // it only gets worse
		}
		if !f.hasPhoto() {
			break
		}
	}
	best.slope(best.x, best.normal, make([]float64, best.count()))
	return best, nil
}

func (in *input) settleWith(ctx context.Context, was problem, x []float64, scatter float64) (*fitted, error) {
	p := &was
	p.loss = tukey
	p.samples = append([]sample(nil), in.samples...)
	f := &fitted{problem: p, in: in, x: x, scatter: scatter, normal: mat.NewSymDense(p.count(), nil)}
	for range 4 {
		f.allowScatter()
		m, err := levenberg(ctx, p, f.x, longStretch, 0.01)
		if err != nil {
			return nil, err
		}
		f.x = m.x
		noise, free, err := f.measuredNoise()
		if err != nil {
			return nil, err
		}
		f.freely = free
		done := math.Abs(noise/p.noise-1) < 0.01
		p.noise = noise
		if done {
			break
		}
	}
	return f, nil
}

// allowScatter makes each swatch's steps smaller along the way its look takes with
// the dose: with g that way in even steps a unit of ln dose, the covariance is
// noise2 + scatter2 g g^T, and this is the root of its inverse, noise taken out.
func (f *fitted) allowScatter() {
	if f.scatter == 0 {
		return
	}
	for i, g := range f.ways() {
		s := &f.samples[i]
		s.steps = f.in.samples[i].steps
		length := g.length()
		if length == 0 {
			continue
		}
		short := 1 - 1/math.Sqrt(1+math.Pow(f.scatter*length/f.noise, 2))
		var keep square3
		for r := range keep {
			for c := range keep {
				keep[r][c] = float64(one(r == c)) - short*g[r]*g[c]/(length*length)
			}
		}
		s.steps = keep.product(&s.steps)
	}
}

// ways is by how many even steps each look moves with ln dose; 0 for words.
func (f *fitted) ways() []triple {
	l := f.layers(f.x)
	bend := make([]triple, f.count()+1)
	ways := make([]triple, len(f.samples))
	for i := range f.samples {
		s := &f.samples[i]
		if s.eye {
			continue
		}
		clear(bend)
		ln, _, _ := f.lnDose(f.x, s)
		light := f.mix(f.x, &l, ln, s.bands, f.shares, bend)
		slope := labSlope(light)
		steps := f.in.samples[i].steps
		ways[i] = steps.times(slope.times(bend[len(bend)-1]))
	}
	return ways
}

// strayCost is minus twice the logarithm of the likelihood of a swatch that fits
// nothing, beside that of one that does at a noise of one even step: one in fifty
// shows any colour of some 200 000 that are an even step apart.
const strayCost = 26.7

// unlikely is minus twice the logarithm of the likelihood, up to a constant.
func (f *fitted) unlikely() float64 {
	sum := f.at(f.x) + math.Pow(f.scatter/thicknessSD, 2)
	l := f.layers(f.x)
	for i, g := range f.ways() {
		s := &f.samples[i]
		if s.eye {
			continue
		}
		cost, weight := f.loss(f.apart(s, f.show(f.x, &l, s, f.shares, nil)).length())
		if weight == 0 {
			sum += strayCost - cost
			continue
		}
		sum += 6*math.Log(f.noise) + math.Log(1+math.Pow(f.scatter*g.length()/f.noise, 2))
	}
	return sum
}

func (f *fitted) hasPhoto() bool {
	for i := range f.samples {
		if !f.samples[i].eye {
			return true
		}
	}
	return false
}

// measuredNoise is the standard deviation of one even step and how freely it was
// measured: over as many values as there are more than unknowns in use. It leans
// on the usual noise where there are few.
func (f *fitted) measuredNoise() (noise, free float64, err error) {
	const leaning = 1.0
	n := f.count()
	data, half := mat.NewSymDense(n, nil), make([]float64, n)
	l := f.layers(f.x)
	squares, values := 0.0, 0.0
	for i := range f.samples {
		s := &f.samples[i]
		if s.eye {
			continue
		}
		f.slopeOfSample(f.x, &l, s, data, half)
		e := f.apart(s, f.show(f.x, &l, s, f.shares, nil)).length()
		_, weight := f.loss(e)
		squares += weight * e * e * f.noise * f.noise
		if weight > 0 {
			values += 3
		}
	}
	if values == 0 {
		return usualNoise, math.Inf(1), nil
	}
	f.slope(f.x, f.normal, half)
	inverse, err := inverted(f.normal)
	if err != nil {
		return 0, 0, fmt.Errorf("%w: burn more swatches", err)
	}
	used := 0.0
	for i := range n {
		for j := range n {
			used += inverse.At(i, j) * data.At(i, j)
		}
	}
	free = leaning + math.Max(values-used, 0)
	noise = math.Sqrt((leaning*usualNoise*usualNoise + squares/tukeyKept) / free)
	return math.Max(noise, 0.05), free, nil
}
