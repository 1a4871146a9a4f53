package picture

import (
	"math"

	"undercoat/imaging/colour"
)

// space tells how the stored values of a file stand to linear light with the
// sRGB primaries. Stored values go through one curve a channel; what comes out is
// the light of the file's own primaries, which the matrix takes to sRGB's. Where
// a file's colours are no such sum of three lights, the cube does all of it.
type space struct {
	curves  [3]*curve
	weights weights // luminance of what the curves give
	matrix  *matrix // nil where the primaries are sRGB's
	cube    *cube   // takes stored values to stored sRGB; the curves of three channels are then straight
}

// curve takes a stored value at 16 bits to linear light at 16 bits.
type curve [full + 1]uint16

// matrix takes light of other primaries to light of sRGB's.
type matrix [3][3]float64

// plainSRGB is the space of a file that says nothing else.
func plainSRGB() *space {
	return &space{curves: same(srgbCurve()), weights: rec709}
}

func same(c *curve) [3]*curve { return [3]*curve{c, c, c} }

// sampled is a curve worked out for each of the 65536 stored values, cut to 0..1.
func sampled(light func(v float64) float64) *curve {
	c := new(curve)
	for v := range c {
		c[v] = to16(light(float64(v) / full))
	}
	return c
}

// bytes are the entries of the curves that 8-bit values reach: small enough to
// stay close to the processor.
func (s *space) bytes() (out [3][256]uint16) {
	for c := range out {
		for v := range out[c] {
			out[c][v] = s.curves[c][257*v]
		}
	}
	return out
}

// to16 rounds 0..1 to 16 bits and cuts off what lies outside.
func to16(v float64) uint16 {
	if !(v > 0) {
		return 0
	}
	return uint16(math.Round(min(v, 1) * full))
}

// withPrimaries is a space of three lights. White is to stay white to the last
// bit: the rounding of the numbers in a profile is taken out of the matrix.
func withPrimaries(curves [3]*curve, m matrix) *space {
	const roundings = 2e-3
	for r := range m {
		if sum := m[r][0] + m[r][1] + m[r][2]; math.Abs(sum-1) < roundings {
			for c := range m[r] {
				m[r][c] /= sum
			}
		}
	}
	if m.nearly(identity, roundings) {
		return &space{curves: curves, weights: rec709}
	}
	return &space{curves: curves, weights: m.weights(), matrix: &m}
}

var identity = matrix{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}

func (m *matrix) nearly(o matrix, by float64) bool {
	for r := range m {
		for c := range m[r] {
			if !(math.Abs(m[r][c]-o[r][c]) <= by) {
				return false
			}
		}
	}
	return true
}

// weights is the luminance of light that the matrix has yet to be laid over: the
// Rec. 709 weights of the light that it makes, before any colour is cut to sRGB.
func (m *matrix) weights() weights {
	var w weights
	for c := range w {
		y := colour.Linear{R: m[0][c], G: m[1][c], B: m[2][c]}.Y()
		w[c] = int64(math.Round(y * weightOne))
	}
	if off := weightOne - (w[0] + w[1] + w[2]); off > -4 && off < 4 {
		w[1] += off // a grey keeps its value
	}
	return w
}

// light lays the matrix over one row of light and cuts each channel to 0..1.
func (m *matrix) light(row []uint16) {
	for i := 0; i+2 < len(row); i += 3 {
		px := row[i : i+3 : i+3]
		r, g, b := float64(px[0]), float64(px[1]), float64(px[2])
		px[0] = cut16(m[0][0]*r + m[0][1]*g + m[0][2]*b)
		px[1] = cut16(m[1][0]*r + m[1][1]*g + m[1][2]*b)
		px[2] = cut16(m[2][0]*r + m[2][1]*g + m[2][2]*b)
	}
}

// cut16 rounds a value on the scale of 65535 and cuts off what lies outside.
func cut16(v float64) uint16 { return uint16(max(0, min(v, full)) + 0.5) }
