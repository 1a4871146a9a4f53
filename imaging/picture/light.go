package picture

import (
	"math"
	"sync"

	"undercoat/imaging/colour"
)

// full is the light of white, and the alpha of an opaque pixel, at 16 bits.
const full = math.MaxUint16

// srgbCurve takes a stored sRGB value at 16 bits to linear light at 16 bits. Its
// entry 257*v is colour.DecodeByte16(v).
var srgbCurve = sync.OnceValue(func() *curve { return sampled(colour.Decode) })

// straightCurve leaves stored values as they are.
var straightCurve = sync.OnceValue(func() *curve { return sampled(func(v float64) float64 { return v }) })

// weights is what each channel's light counts in the luminance, in 1/weightOne.
type weights [3]int64

const weightOne = 1 << 32

// rec709 sums to exactly one, so that a grey keeps its value.
// Source: ITU-R BT.709-6, item 3.2 (0.2126, 0.7152, 0.0722).
var rec709 = weights{913110047, 3071760610, 310096639}

// luminance is the grey of one pixel, rounded to nearest and cut to 0..65535.
func (w *weights) luminance(r, g, b uint16) uint16 {
	y := (w[0]*int64(r) + w[1]*int64(g) + w[2]*int64(b) + weightOne/2) >> 32
	return uint16(max(0, min(y, full)))
}

// paper is the colour under transparent pixels, in linear light.
type paper [3]uint16

func paperOf(c colour.Stored) paper {
	return paper{colour.DecodeByte16(c.R), colour.DecodeByte16(c.G), colour.DecodeByte16(c.B)}
}

// under is the light of a pixel of alpha a over the light of the paper.
func under(light, paper, a uint16) uint16 {
	return uint16((uint32(light)*uint32(a) + uint32(paper)*(full-uint32(a)) + full/2) / full)
}
