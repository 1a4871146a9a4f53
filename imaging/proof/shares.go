package proof

import "math"

// overlap says which of n samples in a row fall on one of m pixels of the same
// row, and how much each counts in the pixel's mean: the samples first and last
// with head and tail, all between with inner. The weights sum to 1. A pixel that
// lies within one sample has first == last and tail 0.
type overlap struct {
	first, last       int
	head, inner, tail float32
}

// newOverlap is for a pixel of which the samples first and last cover the widths
// head and tail, in samples.
func newOverlap(first, last int, head, tail float64) overlap {
	if first == last {
		return overlap{first: first, last: last, head: 1}
	}
	width := head + tail + float64(last-first-1)
	return overlap{first, last, float32(head / width), float32(1 / width), float32(tail / width)}
}

// overlaps lays m pixels over n samples. The ends are worked out in whole
// numbers, so that neighbouring pixels share a sample without gap or double.
func overlaps(n, m int) []overlap {
	all := make([]overlap, m)
	for p := range all {
		from, to := p*n, (p+1)*n // in 1/m samples
		first, last := from/m, (to-1)/m
		head := min(to, (first+1)*m) - from
		all[p] = newOverlap(first, last, float64(head)/float64(m), float64(to-last*m)/float64(m))
	}
	return all
}

// overlapsWithin lays m pixels over the stretch of width samples from start on,
// out of n samples in a row; the stretch may begin and end within a sample.
func overlapsWithin(start, width float64, n, m int) []overlap {
	all := make([]overlap, m)
	step := width / float64(m)
	for p := range all {
		from, to := max(0, start+float64(p)*step), min(float64(n), start+float64(p+1)*step)
		first := min(n-1, int(from))
		last := min(n-1, max(first, int(math.Ceil(to))-1))
		all[p] = newOverlap(first, last, float64(first+1)-from, to-float64(last))
	}
	return all
}

// averageRow puts the mean light of the samples on each pixel into means.
func averageRow(overlaps []overlap, samples, means [][3]float32) {
	for p, o := range overlaps {
		s := samples[o.first]
		r, g, b := o.head*s[0], o.head*s[1], o.head*s[2]
		if o.first != o.last {
			var inner [3]float32
			for _, s := range samples[o.first+1 : o.last] {
				inner[0], inner[1], inner[2] = inner[0]+s[0], inner[1]+s[1], inner[2]+s[2]
			}
			s := samples[o.last]
			r += o.inner*inner[0] + o.tail*s[0]
			g += o.inner*inner[1] + o.tail*s[1]
			b += o.inner*inner[2] + o.tail*s[2]
		}
		means[p] = [3]float32{r, g, b}
	}
}

// weight is how much the sample counts in the pixel.
func (o overlap) weight(sample int) float64 {
	switch sample {
	case o.first:
		return float64(o.head)
	case o.last:
		return float64(o.tail)
	}
	return float64(o.inner)
}
