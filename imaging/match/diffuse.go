package match

import (
	"context"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// Choice is the number of the look that each dot gets.
type Choice struct {
	W, H int
	Pix  []uint8 // W*H numbers, row after row
}

// Row is the row y.
func (c *Choice) Row(y int) []uint8 { return c.Pix[y*c.W : (y+1)*c.W : (y+1)*c.W] }

// Diffuse chooses a look for every pixel of a picture, to and fro from the top
// down, and passes on what the choice misses by the weights of Floyd and
// Steinberg, in linear light. What can never be made up, since a colour lies
// beyond all looks, does not pile up further than room.
// Source of the weights: Floyd and Steinberg, "An adaptive algorithm for spatial
// greyscale", Proc. SID 17(2), 1976.
func Diffuse(ctx context.Context, picture *plane.RGB16, looks []colour.Linear) (*Choice, error) {
	p, err := newPalette(ctx, looks)
	if err != nil {
		return nil, err
	}
	c := &Choice{W: picture.W, H: picture.H, Pix: make([]uint8, picture.W*picture.H)}
	// One pixel more at either end takes what falls off the edge.
	here, below := make([]float32, 3*(picture.W+2)), make([]float32, 3*(picture.W+2))
	for y := range picture.H {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		p.row(picture.Row(y), c.Row(y), here, below, y%2 == 0)
		here, below = below, here
		clear(below)
	}
	return c, nil
}

// row chooses the looks of one row. here holds what was passed on to it.
func (p *palette) row(light []uint16, out []uint8, here, below []float32, forth bool) {
	x, step := 0, 1
	if !forth {
		x, step = len(out)-1, -1
	}
	for range out {
		at := 3 * (x + 1)
		ahead, under, behind := here[at+3*step:], below[at:], below[at-3*step:]
		beyond := below[at+3*step:]
		var want [3]float32
		for i := range want {
			want[i] = min(1+room, max(-room, float32(light[3*x+i])/65535+here[at+i]))
		}
		chosen := p.choose(want[0], want[1], want[2])
		out[x] = chosen
		for i, got := range p.light[chosen] {
			missed := want[i] - got
			ahead[i] += missed * (7. / 16)
			behind[i] += missed * (3. / 16)
			under[i] += missed * (5. / 16)
			beyond[i] += missed * (1. / 16)
		}
		x += step
	}
}
