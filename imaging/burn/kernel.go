package burn

import "math"

// negligible is the share of the peak below which a neighbour is left out.
const negligible = 1e-6

// kernel is what a dot's neighbours in one direction give to its k sub-cells.
type kernel struct {
	reach int // neighbours on either side that count
	// weights[c][reach+t] is what the neighbour t dots on gives to sub-cell c.
	weights [][]float64
}

// alongKernel samples the beam along the rows. Whatever the beam, the whole row
// burned gives 1 in each sub-cell.
func alongKernel(b beam, k int) kernel {
	kern := newKernel(k, func(c, t int) float64 { return b.cell(middle(c, k) - float64(t)) })
	for _, w := range kern.weights {
		scale(w, 1/sum(w))
	}
	return kern
}

// acrossKernel samples the beam across the rows. A field burned all over gives 1
// in the mean of the k sub-cells; between them it ripples.
func acrossKernel(b beam, k int) kernel {
	sample := func(c, t int) float64 { return b.line(middle(c, k) - 0.5 - float64(t)) }
	if misjudged(b.across*float64(k)) > 0.004 {
		sample = func(c, t int) float64 {
			edge := float64(c)/float64(k) - 0.5 - float64(t)
			return b.lineMean(edge, edge+1/float64(k))
		}
	}
	kern := newKernel(k, sample)
	total := 0.0
	for _, w := range kern.weights {
		total += sum(w)
	}
	for _, w := range kern.weights {
		scale(w, float64(k)/total)
	}
	return kern
}

// misjudged is how far the mean of samples may lie from the mean of a field of
// lines, the standard deviation given in steps of the samples: the first term of
// Poisson's sum that the samples take for a mean.
func misjudged(deviation float64) float64 {
	return 2 * math.Exp(-2*math.Pi*math.Pi*deviation*deviation)
}

// middle is the middle of sub-cell c of a dot, in pitches from its upper left.
func middle(c, k int) float64 { return (float64(c) + 0.5) / float64(k) }

// newKernel samples a response that falls to both sides, out to where it is
// negligible.
func newKernel(k int, response func(c, t int) float64) kernel {
	peak := 0.0
	for c := range k {
		peak = max(peak, response(c, 0))
	}
	counts := func(t int) bool {
		for c := range k {
			if response(c, t) >= negligible*peak {
				return true
			}
		}
		return false
	}
	kern := kernel{}
	for counts(kern.reach+1) || counts(-kern.reach-1) {
		kern.reach++
	}
	for c := range k {
		w := make([]float64, 2*kern.reach+1)
		for i := range w {
			if v := response(c, i-kern.reach); v >= negligible*peak {
				w[i] = v
			}
		}
		kern.weights = append(kern.weights, w)
	}
	return kern
}

func sum(w []float64) float64 {
	total := 0.0
	for _, v := range w {
		total += v
	}
	return total
}

func scale(w []float64, by float64) {
	for i := range w {
		w[i] *= by
	}
}
