package resample

import "math"

// lobes is the reach of the kernel, in source pixels when enlarging and in
// target pixels when shrinking.
const lobes = 3

// lanczos is the windowed sinc, 1 at 0 and 0 from ±3 on.
// Source: Duchon, "Lanczos filtering in one and two dimensions", Journal of
// Applied Meteorology 18, 1979.
func lanczos(x float64) float64 {
	x = math.Abs(x)
	if x < 1e-8 {
		return 1
	}
	if x >= lobes {
		return 0
	}
	p := math.Pi * x
	return lobes * math.Sin(p) * math.Sin(p/lobes) / (p * p)
}

// taps says, for each target pixel along one axis, which source pixels it is
// made of and in what shares.
type taps struct {
	n      int       // source pixels a target pixel, a multiple of 4
	first  []int32   // the first source pixel; may lie before the picture
	weight []float32 // n a target pixel, summing to 1
}

// newTaps spreads `size` target pixels over the source from `from` on, `length`
// source pixels in all. When shrinking, the kernel widens with the step, so that
// every source pixel counts.
func newTaps(from, length float64, size int) taps {
	step := length / float64(size)
	widen := math.Max(step, 1)
	reach := lobes * widen
	t := taps{n: (int(math.Ceil(2*reach)) + 3) &^ 3}
	t.first = make([]int32, size)
	t.weight = make([]float32, size*t.n)
	exact := make([]float64, t.n)
	for i := range size {
		centre := from + (float64(i)+0.5)*step
		first := int(math.Ceil(centre - reach - 0.5)) // pixel j's centre lies at j+0.5
		t.first[i] = int32(first)
		sum := 0.0
		for k := range exact {
			exact[k] = lanczos((float64(first+k) + 0.5 - centre) / widen)
			sum += exact[k]
		}
		for k, w := range exact {
			t.weight[i*t.n+k] = float32(w / sum)
		}
	}
	return t
}

// span is the source range all target pixels together reach: first..last-1.
func (t taps) span() (first, last int) {
	return int(t.first[0]), int(t.first[len(t.first)-1]) + t.n
}
