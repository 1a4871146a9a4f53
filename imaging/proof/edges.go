package proof

import (
	"math"

	"undercoat/imaging/coat"
)

// edge is where a pixel begins or ends in a row of samples: in the sample at,
// past the share way of it. way is 0..1, 1 excluded.
type edge struct {
	at  int
	way float32
}

// edges lays m pixels over n samples and gives their m+1 edges. They are worked
// out in whole numbers, so that neighbouring pixels share a sample without gap
// or double.
func edges(n, m int) []edge {
	all := make([]edge, m+1)
	for i := range all {
		all[i] = edge{i * n / m, float32(i*n%m) / float32(m)}
	}
	return all
}

// edgesWithin lays m pixels over the stretch of width samples from start on, out
// of n samples in a row; the stretch may begin and end within a sample.
func edgesWithin(start, width float64, n, m int) []edge {
	all := make([]edge, m+1)
	for i := range all {
		x := min(float64(n), max(0, start+width*float64(i)/float64(m)))
		at := math.Floor(x)
		all[i] = edge{int(at), float32(x - at)}
		if all[i].way == 1 { // rounded up
			all[i] = edge{int(at) + 1, 0}
		}
	}
	return all
}

// lengths are the pixels' widths in samples.
func lengths(edges []edge) []float64 {
	all := make([]float64, len(edges)-1)
	for i := range all {
		a, b := edges[i], edges[i+1]
		all[i] = float64(b.at-a.at) + float64(b.way) - float64(a.way)
	}
	return all
}

// last is the last sample that a pixel which ends at e has a part of.
func (e edge) last() int {
	if e.way == 0 {
		return e.at - 1
	}
	return e.at
}

// sumRow puts the light of a row of samples that falls on each pixel into sums,
// in samples: a pixel's mean is its sum over its length.
func sumRow(edges []edge, samples, sums []coat.Light) {
	for p := range sums {
		a, b := edges[p], edges[p+1]
		var sum coat.Light
		for _, s := range samples[a.at:b.at] {
			sum = plus(sum, s)
		}
		if a.way > 0 {
			sum = less(sum, times(samples[a.at], a.way))
		}
		if b.way > 0 {
			sum = plus(sum, times(samples[b.at], b.way))
		}
		sums[p] = sum
	}
}

func plus(a, b coat.Light) coat.Light { return coat.Light{R: a.R + b.R, G: a.G + b.G, B: a.B + b.B} }
func less(a, b coat.Light) coat.Light { return coat.Light{R: a.R - b.R, G: a.G - b.G, B: a.B - b.B} }
func times(a coat.Light, f float32) coat.Light {
	return coat.Light{R: f * a.R, G: f * a.G, B: f * a.B}
}
func mix(a, b coat.Light, t float32) coat.Light { return plus(a, times(less(b, a), t)) }

// sum is the light on a pixel.
type sum struct{ r, g, b float64 }

func (s *sum) add(l coat.Light, f float64) {
	s.r += f * float64(l.R)
	s.g += f * float64(l.G)
	s.b += f * float64(l.B)
}
