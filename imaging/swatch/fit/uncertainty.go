package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"
)

// uncertainty is how well the parameters are known.
type uncertainty struct {
	covariance *mat.SymDense
	sd         []float64 // standard error of each parameter
	drawn      []float64 // the same from swatches drawn anew; nil where not done
	within95   float64   // standard errors on each side that hold 95 %
	low, high  []float64 // of the ln break-through doses, with 95 %
}

// uncertainty takes the curvature at the bottom and, beside it, swatches drawn anew.
func (f *fitted) uncertainty(ctx context.Context, o Options) (uncertainty, error) {
	inverse, err := inverted(f.normal)
	if err != nil {
		return uncertainty{}, err
	}
	u := uncertainty{covariance: inverse, within95: 1.959963984540054}
	if !math.IsInf(f.freely, 1) {
		u.within95 = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: f.freely}.Quantile(0.975)
	}
	for i := range f.count() {
		u.sd = append(u.sd, math.Sqrt(inverse.At(i, i)))
	}
	for i := range f.coats {
		low, high, err := f.interval(ctx, i, u.sd[f.breakThrough(i)], u.within95)
		if err != nil {
			return u, err
		}
		u.low, u.high = append(u.low, low), append(u.high, high)
	}
	// Of fewer swatches some draws leave whole coats out.
	const leastToDraw = 8
	if o.Draws > 0 && len(f.samples) >= leastToDraw {
		u.drawn, err = f.drawAnew(ctx, o.Draws)
	}
	return u, err
}

// drawAnew draws as many swatches as there are, with repeats, and sees how far one
// Newton step from the bottom leads. The spread of where the middle two thirds end
// is a second opinion on the standard errors: it knows nothing of the noise, only
// how much hangs on single swatches. The draws are always the same ones.
//
// Source: B. Efron, "Bootstrap methods: another look at the jackknife", Ann.
// Statist. 7, 1979; one step from the full fit as in A. C. Davison and D. V. Hinkley,
// "Bootstrap Methods and their Application", 1997, section 2 (from memory).
func (f *fitted) drawAnew(ctx context.Context, draws int) ([]float64, error) {
	n := f.count()
	each, halves := f.bySwatch()
	believed, believedHalf := mat.NewSymDense(n, nil), make([]float64, n)
	f.slopeOfBeliefs(f.x, believed, believedHalf)

	random := rand.New(rand.NewPCG(20, 4))
	ends := make([][]float64, n)
	normal, half := mat.NewSymDense(n, nil), make([]float64, n)
	times := make([]float64, len(each))
	for range draws {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		clear(times)
		for range each {
			times[random.IntN(len(each))]++
		}
		normal.CopySym(believed)
		copy(half, believedHalf)
		for i, t := range times {
			if t == 0 {
				continue
			}
			addScaled(normal, t, each[i])
			for k, v := range halves[i] {
				half[k] += t * v
			}
		}
		step, _, ok := dampedStep(normal, half, diagonal(normal), 0)
		if !ok {
			continue
		}
		for k, v := range step {
			ends[k] = append(ends[k], v)
		}
	}
	sd := make([]float64, n)
	for k, all := range ends {
		sd[k] = middleTwoThirds(all)
	}
	return sd, nil
}

// bySwatch is the normal matrix and half gradient of each swatch.
func (f *fitted) bySwatch() (normals []*mat.SymDense, halves [][]float64) {
	l := f.layers(f.x)
	for i := range f.samples {
		normal, half := mat.NewSymDense(f.count(), nil), make([]float64, f.count())
		f.slopeOfSample(f.x, &l, &f.samples[i], normal, half)
		normals, halves = append(normals, normal), append(halves, half)
	}
	return normals, halves
}

func addScaled(to *mat.SymDense, f float64, m *mat.SymDense) {
	a, b := to.RawSymmetric(), m.RawSymmetric()
	for i := range a.N {
		x, y := a.Data[i*a.Stride:i*a.Stride+a.N], b.Data[i*b.Stride:i*b.Stride+b.N]
		for j := i; j < a.N; j++ {
			x[j] += f * y[j]
		}
	}
}

func diagonal(m *mat.SymDense) []float64 {
	d := make([]float64, m.SymmetricDim())
	for i := range d {
		d[i] = m.At(i, i)
	}
	return d
}

// middleTwoThirds is half the range that holds the middle 68 % of values: the
// standard deviation of a normal distribution, whatever its tails.
func middleTwoThirds(values []float64) float64 {
	if len(values) == 0 {
		return 0
	}
	sort.Float64s(values)
	at := func(share float64) float64 { return values[int(share*float64(len(values)-1)+0.5)] }
	return (at(0.8413) - at(0.1587)) / 2
}
