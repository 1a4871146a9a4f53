package match

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// MaxLooks bounds what a dot can be chosen from.
const MaxLooks = 256

// lattice is how many points of light a side the palette is worked out at. They
// reach room beyond black and white, since that is how far the light of a pixel
// comes with what its neighbours missed: a choice that could not see the whole of
// it would not make up for it. The points are even in the square root of light,
// which is about how the eye sees.
const (
	lattice = 41
	room    = 0.75
)

// root is the square root of light, carried on below black.
func root(v float64) float64 { return math.Copysign(math.Sqrt(math.Abs(v)), v) }

var lowest, highest = root(-room), root(1 + room)

// palette finds the nearest look to a colour by the nearest lattice point. The
// difference is a few CIEDE2000 at worst, and what a choice misses is passed on.
type palette struct {
	light   [][3]float32
	nearest [lattice * lattice * lattice]uint8
	side    [1 << 12]uint8 // lattice coordinate of light from -room to 1+room
}

func newPalette(ctx context.Context, looks []colour.Linear) (*palette, error) {
	if len(looks) < 2 || len(looks) > MaxLooks {
		return nil, fmt.Errorf("%d looks to choose from: give 2 to %d", len(looks), MaxLooks)
	}
	p := &palette{}
	labs := make([]colour.Lab, len(looks))
	for i, l := range looks {
		p.light = append(p.light, [3]float32{float32(l.R), float32(l.G), float32(l.B)})
		labs[i] = l.Lab()
	}
	for i := range p.side {
		v := float64(i)/float64(len(p.side)-1)*(1+2*room) - room
		p.side[i] = uint8(math.Round((root(v) - lowest) / (highest - lowest) * (lattice - 1)))
	}
	return p, plane.SplitRows(ctx, lattice, func(ctx context.Context, r0, r1 int) error {
		for r := r0; r < r1; r++ {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			p.fill(r, labs)
		}
		return nil
	})
}

// fill works out the plane of the lattice with one red.
func (p *palette) fill(r int, labs []colour.Lab) {
	light := func(i int) float64 {
		v := lowest + float64(i)/(lattice-1)*(highest-lowest)
		return math.Copysign(v*v, v)
	}
	for g := range lattice {
		for b := range lattice {
			c := colour.Linear{R: light(r), G: light(g), B: light(b)}.Lab()
			best, least := 0, math.Inf(1)
			for i, l := range labs {
				if d := colour.DE2000(c, l); d < least {
					best, least = i, d
				}
			}
			p.nearest[(r*lattice+g)*lattice+b] = uint8(best)
		}
	}
}

// choose is the look for a colour within -room..1+room.
func (p *palette) choose(r, g, b float32) uint8 {
	return p.nearest[(p.at(r)*lattice+p.at(g))*lattice+p.at(b)]
}

func (p *palette) at(v float32) int {
	return int(p.side[int((v+room)*(float32(len(p.side)-1)/(1+2*room)))])
}
