package picture

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
)

// cube is a colour profile's table, evened out: the stored sRGB values, on the
// scale of 65535 and not yet cut to it, at evenly spread stored values of three
// or four channels. Between them lies the simplex that holds the value, as the
// tetrahedron does for three channels.
//
// Source: Kasson, Nin, Plouffe, Hafner, 1995, Performing color space conversions
// with three-dimensional linear interpolation, J. Electronic Imaging 4(3), 226-250.
type cube struct {
	channels int
	cells    uint32 // steps along a channel
	step     [4]int // from one node to the next along each channel, in nodes
	nodes    [][3]float32
}

// cubeCells bounds what the evening out loses. With three channels a table of 33
// steps, the largest in common use, keeps each second node of the cube.
var cubeCells = map[int]int{3: 48, 4: 24}

// cubeBytes is the memory of a cube of so many channels.
func cubeBytes(channels int) int64 {
	n := int64(12)
	for range channels {
		n *= int64(cubeCells[channels] + 1)
	}
	return n
}

// newCube asks stored for every node. It gives the stored sRGB values, 0..1 and
// beyond, of stored values 0..1, and is called from one goroutine for each asker.
func newCube(ctx context.Context, channels int, asker func() func(v [4]float64) ([3]float64, error)) (*cube, error) {
	cells := cubeCells[channels]
	if cells == 0 {
		return nil, fmt.Errorf("a table of %d channels is outside 3..4", channels)
	}
	c := &cube{channels: channels, cells: uint32(cells)}
	slab := 1 // nodes that share their first channel's value
	for i := channels - 1; i >= 0; i-- {
		c.step[i] = slab
		slab *= cells + 1
	}
	c.nodes = make([][3]float32, slab)
	slab = c.step[0]
	err := plane.SplitRows(ctx, cells+1, func(ctx context.Context, from, to int) error {
		stored := asker()
		for node := from * slab; node < to*slab; node++ {
			if node%1024 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
			var v [4]float64
			for i := range channels {
				v[i] = float64(node/c.step[i]%(cells+1)) / float64(cells)
			}
			rgb, err := stored(v)
			if err != nil {
				return err
			}
			for i := range rgb {
				c.nodes[node][i] = float32(rgb[i] * full)
			}
		}
		return nil
	})
	return c, err
}

// light takes one pixel's stored values to linear light, each channel cut to 0..1.
func (c *cube) light(stored, light []uint16) {
	var fraction [4]float32
	var step [4]int
	node := 0
	for i, v := range stored {
		p := uint32(v) * c.cells
		cell := p / full
		node += int(cell) * c.step[i]
		f, s := float32(p-cell*full)*(1.0/full), c.step[i]
		j := i
		for ; j > 0 && f > fraction[j-1]; j-- { // the largest fraction first
			fraction[j], step[j] = fraction[j-1], step[j-1]
		}
		fraction[j], step[j] = f, s
	}
	// From the lower corner of the cell to the upper one, one channel at a time.
	var r, g, b float32
	rest := float32(1)
	for i := range len(stored) {
		n, w := &c.nodes[node], rest-fraction[i]
		r, g, b = r+w*n[0], g+w*n[1], b+w*n[2]
		rest = fraction[i]
		if rest == 0 {
			break // at the upper end there is no next node
		}
		node += step[i]
	}
	if rest > 0 {
		n := &c.nodes[node]
		r, g, b = r+rest*n[0], g+rest*n[1], b+rest*n[2]
	}
	table := srgbCurve()
	light[0], light[1], light[2] = table[cut16(float64(r))], table[cut16(float64(g))], table[cut16(float64(b))]
}

// row takes a row of stored values of three channels to light.
func (c *cube) row(light []uint16) {
	for i := 0; i+2 < len(light); i += 3 {
		c.light(light[i:i+3], light[i:i+3])
	}
}
