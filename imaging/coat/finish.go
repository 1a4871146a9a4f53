package coat

import (
	"fmt"

	"undercoat/imaging/colour"
)

// Finish is what the burned panel is sealed with.
type Finish string

// The finishes. A matt clear coat scatters the reflection of its surface into
// all directions, the eye's too, as the bare film does: it changes nothing here. A
// gloss one throws it to one side, so that the darks deepen wherever the glare
// is turned away. Satin stands halfway between, which is a plain choice and no
// measured value.
const (
	Bare  Finish = ""
	Matt  Finish = "matt"
	Satin Finish = "satin"
	Gloss Finish = "gloss"
)

// Finishes lists what a panel can be finished with, from none to gloss.
func Finishes() []Finish { return []Finish{Bare, Matt, Satin, Gloss} }

// glareKept is the part of the surface's reflection that still meets the eye.
func (f Finish) glareKept() (float64, error) {
	switch f {
	case Bare, Matt:
		return 1, nil
	case Satin:
		return 0.5, nil
	case Gloss:
		return 0, nil
	}
	return 0, fmt.Errorf("finish %q is not known: choose matt, satin or gloss, or none", string(f))
}

// The surface of a film with a refractive index of 1.5: the part of incoming
// light that turns back at the surface, and of the light inside that the surface
// throws back in.
// Source: J. L. Saunderson, "Calculation of the color of pigmented plastics",
// J. Opt. Soc. Am. 32, 1942; values after E. Allen, 1980, in Optical Radiation
// Measurements vol. 2.
const (
	surfaceOut = 0.04
	surfaceIn  = 0.6
)

// Saunderson is the reflectance that a film of the inner reflectance r shows
// through its surface, when the part glare, 0..0.04, of the incoming light
// comes to the eye straight from the surface. All values are linear, 0..1.
// Source: J. L. Saunderson, J. Opt. Soc. Am. 32, 1942.
func Saunderson(r, glare float64) float64 {
	return glare + (1-surfaceOut)*(1-surfaceIn)*r/(1-surfaceIn*r)
}

// Inner undoes Saunderson: the reflectance within the film from the one seen.
func Inner(seen, glare float64) float64 {
	under := seen - glare
	return under / ((1-surfaceOut)*(1-surfaceIn) + surfaceIn*under)
}

// Seen is a bare colour under the finish.
//
// A colour darker than 8 % cannot hold the full 4 % of a matt surface and
// still be a colour; glare is white, so it is taken to be at most half of the
// darkest part. That half is a choice of this program, it keeps dark paints
// apart from one another under gloss.
func (f Finish) Seen(bare colour.Linear) (colour.Linear, error) {
	kept, err := f.glareKept()
	if err != nil || kept == 1 {
		return bare, err
	}
	glare := min(surfaceOut, min(bare.R, bare.G, bare.B)/2)
	under := func(v float64) float64 { return Saunderson(Inner(v, glare), glare*kept) }
	return colour.Linear{R: under(bare.R), G: under(bare.G), B: under(bare.B)}, nil
}
