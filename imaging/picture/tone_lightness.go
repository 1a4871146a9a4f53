package picture

import (
	"math"
	"sync"

	"undercoat/imaging/colour"
)

// Inside the tone filters lightness is a whole number: L* 100 is lightest. It is
// fine enough that every light in 1/65535 has a lightness of its own, and whole
// numbers add up the same in any order, so that sums over a neighbourhood do not
// depend on where a core begins.
const lightest = 1 << 18

// perLStar is lightness a unit of L*.
const perLStar = lightest / 100.0

// lightnesses is the lightness of each light in 1/65535.
var lightnesses = sync.OnceValue(func() *[full + 1]int32 {
	var table [full + 1]int32
	for v := range table {
		table[v] = int32(math.Round(colour.LStar(float64(v)/full) * perLStar))
	}
	return &table
})

// The two branches of lightness to light. Source: CIE 15:2004, 8.2.1.
const (
	darkestCubed = 8 * perLStar // from L* 8 on, light is a cube
	darkSlope    = 27.0 / 24389 * full / perLStar
)

// lightOf is the light in 1/65535 of a lightness. The conversions keep the compiler
// from fusing products into sums, which would make the last bit depend on the
// processor.
func lightOf(lightness float64) uint16 {
	v := float64(lightness * darkSlope)
	if lightness > darkestCubed {
		f := (lightness + 16*perLStar) / (116 * perLStar)
		v = float64(f*f*f) * full
	}
	return uint16(min(max(v, 0), full) + 0.5)
}
