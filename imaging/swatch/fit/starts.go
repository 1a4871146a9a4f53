package fit

import (
	"context"
	"math"
)

// A fit goes downhill, and what lies at the bottom depends on where it set out:
// coats of like colour can be taken for one another. So it sets out from several
// places, always the same ones, and keeps the lowest bottom.

// starts are the places: the coats told apart in the order in which they must
// come, told apart by colour alone, the stack's own curve slid along the dose, and
// the break-throughs spread evenly over the chart.
func starts(ctx context.Context, p *problem, beforehand []float64) [][]float64 {
	doses := make([]float64, len(p.samples))
	for i := range p.samples {
		doses[i], _, _ = p.lnDose(beforehand, &p.samples[i])
	}
	first, last := doses[0], doses[len(doses)-1]
	for i := 0; math.IsInf(first, -1) && i < len(doses); i++ {
		first = doses[i]
	}
	if math.IsInf(first, -1) {
		return [][]float64{beforehand}
	}
	path := newPath(p, beforehand)
	spaced := append([]float64(nil), beforehand...)
	for i := range p.coats {
		spaced[p.breakThrough(i)] = first + (last-first)*(float64(i)+0.5)/float64(p.coats)
	}
	return [][]float64{
		withCrossings(p, beforehand, doses, path.inOrder()),
		withCrossings(p, beforehand, doses, isotonic(path.nearest(), nil)),
		slid(ctx, p, beforehand),
		spaced,
		beforehand,
	}
}

// slid moves all doses of the stack's own curve by one factor, the best of 1/12
// to 12.
func slid(ctx context.Context, p *problem, beforehand []float64) []float64 {
	best, least := beforehand, math.Inf(1)
	for step := -25; step <= 25 && ctx.Err() == nil; step++ {
		x := append([]float64(nil), beforehand...)
		for i := range p.coats {
			x[p.breakThrough(i)] += float64(step) * 0.1
		}
		if p.scorch {
			x[p.scorchDose()] += float64(step) * 0.1
		}
		if v := p.at(x); v < least {
			best, least = x, v
		}
	}
	return best
}

// withCrossings puts each break-through where the depth, which never falls along
// the doses, passes the middle of its coat.
func withCrossings(p *problem, beforehand, doses, depths []float64) []float64 {
	x := append([]float64(nil), beforehand...)
	last := len(doses) - 1
	for i := range p.coats {
		middle := float64(i) + 0.5
		at := p.breakThrough(i)
		switch {
		case depths[last] < middle:
			x[at] = doses[last] + 0.3*(1+middle-math.Max(depths[last], float64(i)-0.5))
		case depths[0] >= middle:
			x[at] = doses[0] - 0.1
		default:
			k := 1
			for depths[k] < middle {
				k++
			}
			t := (middle - depths[k-1]) / (depths[k] - depths[k-1])
			from := doses[k-1]
			if math.IsInf(from, -1) {
				from = doses[k] - 0.5
			}
			x[at] = from + t*(doses[k]-from)
		}
	}
	p.hold(x)
	return x
}

// path is the looks from the untouched top coat down to the ground, with what
// each swatch costs at each place.
type path struct {
	depths []float64   // of the places
	costs  [][]float64 // of each swatch
}

const stepsACoat = 8

func newPath(p *problem, x []float64) path {
	l := p.layers(x)
	var way path
	var looks []triple
	bottom := p.coats + one(p.scorch)
	for k := 0; k <= bottom*stepsACoat; k++ {
		i := min(k/stepsACoat, bottom-1)
		t := float64(k)/stepsACoat - float64(i)
		light := l.light[i]
		light.add(t, l.light[i+1].minus(l.light[i]))
		looks = append(looks, light)
		way.depths = append(way.depths, float64(i)+t)
	}
	for i := range p.samples {
		s := &p.samples[i]
		costs := make([]float64, len(looks))
		for k, light := range looks {
			if s.eye {
				off := math.Max(0, math.Max(s.word.low-way.depths[k], way.depths[k]-s.word.high))
				costs[k] = 400 * off * off
				continue
			}
			// Labels are only so good: beyond 30 steps more says no more.
			costs[k] = math.Min(900, math.Pow(p.noise*p.apart(s, light).length(), 2))
		}
		way.costs = append(way.costs, costs)
	}
	return way
}

// nearest is the depth at which each swatch costs least, by itself.
func (w path) nearest() []float64 {
	out := make([]float64, len(w.costs))
	for i, costs := range w.costs {
		best := 0
		for k, c := range costs {
			if c < costs[best] {
				best = k
			}
		}
		out[i] = w.depths[best]
	}
	return out
}

// inOrder is the depths of least cost in all that never rise to a lower dose: the
// shortest way through the table of costs. It tells a dark coat at the bottom from
// a dark one at the top.
func (w path) inOrder() []float64 {
	n, k := len(w.costs), len(w.depths)
	sum := make([]float64, k)
	came := make([][]int, n)
	for i, costs := range w.costs {
		came[i] = make([]int, k)
		best := 0
		for j := range k {
			if sum[j] < sum[best] {
				best = j
			}
			came[i][j] = best
		}
		next := make([]float64, k)
		for j := range k {
			next[j] = sum[came[i][j]] + costs[j]
		}
		sum = next
	}
	at := 0
	for j := range k {
		if sum[j] < sum[at] {
			at = j
		}
	}
	out := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		out[i] = w.depths[at]
		at = came[i][at]
	}
	return out
}
