package fit

import (
	"context"
	"math"
)

// curved is the standard error of ln dose from which an interval is followed along
// the bottom rather than read off its curvature.
const curved = 0.03

// interval holds the ln break-through dose of a coat with 95 %. Where the
// curvature says that the dose is well known, that is all it takes. Else the bottom
// is no parabola: between two swatches that leave a wide gap it is flat, and rises
// steeply where a swatch would be on the wrong side. Then each end is where the sum
// of squares, all else fitted anew, has risen by the square of within95.
//
// Source: D. J. Venzon and S. H. Moolgavkar, "A method for computing
// profile-likelihood-based confidence intervals", Appl. Statist. 37, 1988 (from memory).
func (f *fitted) interval(ctx context.Context, i int, sd, within95 float64) (low, high float64, err error) {
	middle := f.x[f.breakThrough(i)]
	if sd < curved {
		return middle - within95*sd, middle + within95*sd, nil
	}
	if low, err = f.end(ctx, i, -within95*sd, within95); err != nil {
		return 0, 0, err
	}
	high, err = f.end(ctx, i, within95*sd, within95)
	return low, high, err
}

// end looks for the place where the bottom has risen by within95 squared, on the
// side of reach and at most twice as far away.
func (f *fitted) end(ctx context.Context, i int, reach, within95 float64) (float64, error) {
	middle, base := f.x[f.breakThrough(i)], f.problem.at(f.x)
	x := f.x
	rise := func(away float64) (float64, error) {
		held, value, err := f.heldAt(ctx, x, i, middle+away)
		if err == nil {
			x = held
		}
		return math.Sqrt(math.Max(0, value-base)), err
	}
	inside, outside := 0.0, 2*reach
	for _, far := range []float64{0.5, 1} {
		r, err := rise(far * reach)
		if err != nil {
			return 0, err
		}
		if r >= within95 {
			outside = far * reach
			break
		}
		inside = far * reach
	}
	for math.Abs(outside-inside) > 0.02*math.Abs(reach) {
		half := (inside + outside) / 2
		r, err := rise(half)
		if err != nil {
			return 0, err
		}
		if r >= within95 {
			outside = half
		} else {
			inside = half
		}
	}
	return middle + (inside+outside)/2, nil
}

// heldAt fits all else with one ln break-through dose held.
func (f *fitted) heldAt(ctx context.Context, from []float64, i int, lnDose float64) ([]float64, float64, error) {
	const firmly = 1e-3
	p := *f.problem
	at := f.breakThrough(i)
	p.beliefs = append(append([]belief(nil), f.beliefs...), belief{at, -1, lnDose, firmly})
	x := append([]float64(nil), from...)
	x[at] = lnDose
	for k := at - 1; k >= 0; k-- { // those above give way upwards
		x[k] = math.Min(x[k], x[k+1]-leastLnGap)
	}
	m, err := levenberg(ctx, &p, x, 15, 0.01)
	if err != nil && ctx.Err() == nil {
		return x, math.Inf(1), nil // nothing can be fitted out there
	}
	return m.x, m.value, err
}
