package picture

import (
	"math"
	"sync"

	"undercoat/imaging/colour"
)

// full is the light of white, and the alpha of an opaque pixel, at 16 bits.
const full = math.MaxUint16

// light16 takes a stored sRGB value at 16 bits to linear light at 16 bits. Its
// entry 257*v is colour.DecodeByte16(v).
var light16 = sync.OnceValue(func() *[full + 1]uint16 {
	var table [full + 1]uint16
	for v := range table {
		table[v] = uint16(math.Round(colour.Decode(float64(v)/full) * full))
	}
	return &table
})

// The weights of luminance in 1/2^32; they sum to exactly one, so that a grey
// keeps its value. Source: ITU-R BT.709-6, item 3.2 (0.2126, 0.7152, 0.0722).
const (
	weightR = 913110047
	weightG = 3071760610
	weightB = 310096639
)

// luminance is the grey of one pixel in linear light, rounded to nearest.
func luminance(r, g, b uint16) uint16 {
	return uint16((weightR*uint64(r) + weightG*uint64(g) + weightB*uint64(b) + 1<<31) >> 32)
}

// paper is the colour under transparent pixels, in linear light.
type paper [3]uint16

func paperOf(c colour.Stored) paper {
	return paper{colour.DecodeByte16(c.R), colour.DecodeByte16(c.G), colour.DecodeByte16(c.B)}
}

// under is the light of a pixel of alpha a over one channel of the paper.
func under(light uint16, paper uint16, a uint32) uint16 {
	return uint16((uint32(light)*a + uint32(paper)*(full-a) + full/2) / full)
}
