package resample

import (
	"math"

	"undercoat/layout"
)

// cubic is the interpolating cubic: 1 at 0, 0 at the other whole numbers and from
// ±2 on. A straight line stays one.
// Source: R. G. Keys, "Cubic convolution interpolation for digital image
// processing", IEEE Trans. Acoust. Speech Signal Process. 29(6), 1981, with
// a = -1/2.
func cubic(x float64) float64 {
	if x < 0 {
		x = -x
	}
	switch {
	case x < 1:
		return (1.5*x-2.5)*x*x + 1
	case x < cubicReach:
		return ((-0.5*x+2.5)*x-4)*x + 2
	}
	return 0
}

const cubicReach = 2

// warpSampler works out one pixel at a time. It belongs to one goroutine.
type warpSampler struct {
	warpSource
	h            layout.Homography
	across, down warpTaps
	work         int // source pixels looked at
}

func newWarpSampler(src warpSource, h layout.Homography) *warpSampler {
	const most = 2*cubicReach*maxShrink + 2
	taps := func() warpTaps { return warpTaps{make([]int, most), make([]float64, most), 0} }
	return &warpSampler{warpSource: src, h: h, across: taps(), down: taps()}
}

// warpTaps are the source pixels along one axis that a pixel is made of.
type warpTaps struct {
	at     []int // pixels, those past the edge replaced by the edge's
	weight []float64
	n      int
}

// set puts the cubic, so many times as wide, about the place `centre`.
func (t *warpTaps) set(centre, wide float64, length int) {
	wide = min(wide, maxShrink) // between the corners, which were checked, it may be passed by a little
	// Far outside, every pixel is the edge's, and need not be counted from there.
	centre = min(max(centre, -cubicReach*wide), float64(length)+cubicReach*wide)
	if wide == 1 {
		t.setFour(centre, length)
		return
	}
	first := int(math.Ceil(centre - cubicReach*wide - 0.5)) // pixel j's centre lies at j+0.5
	n := int(math.Floor(centre+cubicReach*wide-0.5)) - first + 1
	at, weight := t.at[:n], t.weight[:n]
	step := 1 / wide
	from := (float64(first) + 0.5 - centre) * step
	sum := 0.0
	for k := range weight {
		w := cubic(from + float64(float64(k)*step))
		weight[k] = w
		sum += w
		at[k] = min(max(first+k, 0), length-1)
	}
	over := 1 / sum
	for k := range weight {
		weight[k] *= over
	}
	t.n = n
}

// setFour is set where nothing shrinks: the cubic's four values written out in the
// place between two pixels, which sum to 1 as they are.
func (t *warpTaps) setFour(centre float64, length int) {
	before := math.Floor(centre - 0.5)
	first := int(before) - 1
	t.n = 4
	for k := range 4 {
		t.at[k] = min(max(first+k, 0), length-1)
	}
	w := four(centre - 0.5 - before)
	copy(t.weight, w[:])
}

// four is the cubic at the four pixels about a place x, 0..1, past the second.
func four(x float64) [4]float64 {
	return [4]float64{
		((1-0.5*x)*x - 0.5) * x,
		(1.5*x-2.5)*x*x + 1,
		((2-1.5*x)*x + 0.5) * x,
		(0.5*x - 0.5) * x * x,
	}
}

// sample writes the value at x,y of the result to into. The conversions of each
// product keep the compiler from fusing it into a sum, which would make the last
// bit depend on the processor.
func (s *warpSampler) sample(x, y float64, into []uint16) {
	u, v, wide, high := footprint(s.h, x, y)
	if wide == 1 && high == 1 && s.channels == 1 && u > 2 && v > 2 && u < float64(s.cols-2) && v < float64(s.rows-2) {
		s.work += 16
		into[0] = whole16(s.inside(u, v))
		return
	}
	s.across.set(u, wide, s.cols)
	s.down.set(v, high, s.rows)
	s.work += s.across.n * s.down.n
	if s.channels == 1 {
		into[0] = whole16(s.grey())
		return
	}
	r, g, b := s.colour()
	into[0], into[1], into[2] = whole16(r), whole16(g), whole16(b)
}

// inside is grey for the most of a picture that does not shrink: four taps each
// way, none past the edge. It sums in the same order, to the same bit.
func (s *warpSampler) inside(u, v float64) float64 {
	u, v = u-0.5, v-0.5
	left, top := int(u), int(v)
	across, down := four(u-float64(left)), four(v-float64(top))
	total := 0.0
	from := (top-1)*s.cols + left - 1
	for _, w := range down {
		px := s.pix[from : from+4 : from+4]
		sum := float64(across[0] * float64(px[0]))
		sum += float64(across[1] * float64(px[1]))
		sum += float64(across[2] * float64(px[2]))
		sum += float64(across[3] * float64(px[3]))
		total += float64(w * sum)
		from += s.cols
	}
	return total
}

func (s *warpSampler) grey() float64 {
	total := 0.0
	columns, weights := s.across.at[:s.across.n], s.across.weight[:s.across.n]
	for j, w := range s.down.weight[:s.down.n] {
		row := s.pix[s.down.at[j]*s.cols:][:s.cols]
		sum := 0.0
		for k, x := range columns {
			sum += float64(weights[k] * float64(row[x]))
		}
		total += float64(w * sum)
	}
	return total
}

func (s *warpSampler) colour() (r, g, b float64) {
	columns, weights := s.across.at[:s.across.n], s.across.weight[:s.across.n]
	for j, w := range s.down.weight[:s.down.n] {
		row := s.pix[3*s.down.at[j]*s.cols:][:3*s.cols]
		var sr, sg, sb float64
		for k, x := range columns {
			px := row[3*x : 3*x+3 : 3*x+3]
			sr += float64(weights[k] * float64(px[0]))
			sg += float64(weights[k] * float64(px[1]))
			sb += float64(weights[k] * float64(px[2]))
		}
		r += float64(w * sr)
		g += float64(w * sg)
		b += float64(w * sb)
	}
	return r, g, b
}

// whole16 goes to the nearest of 0..65535; the cubic's negative lobes can leave it.
func whole16(v float64) uint16 { return uint16(min(max(v, 0), 65535) + 0.5) }
