package proof

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// Ink and Paper are the looks of burned and unburned dots in [Dots].
var (
	Ink   = colour.Stored{R: 0x16, G: 0x16, B: 0x16}
	Paper = colour.Stored{R: 0xf4, G: 0xf4, B: 0xf4}
)

// Dots is the raster itself, burned dots dark, over the dots of region as a
// picture of viewW x viewH pixels, averaged in linear light where a pixel holds
// more than one dot.
func Dots(ctx context.Context, bits *plane.Bits, region image.Rectangle, viewW, viewH int) (*image.RGBA, error) {
	if region.Empty() || !region.In(image.Rect(0, 0, bits.W, bits.H)) {
		return nil, fmt.Errorf("region %v does not lie within the raster of %d x %d dots: choose a part of it", region, bits.W, bits.H)
	}
	if err := checkViewSize(viewW, viewH); err != nil {
		return nil, err
	}
	return viewOf(ctx, bySample{plain{bits, Ink.Linear(), Paper.Linear()}}, region, viewW, viewH, nil)
}

// plain is the field of the dots as such, without a beam.
type plain struct {
	dots       *plane.Bits
	ink, paper colour.Linear
}

func (plain) grid() int { return 1 }

func (p plain) rows(ctx context.Context, region image.Rectangle, emit func(int, []coat.Light) error) error {
	of := func(l colour.Linear) coat.Light {
		return coat.Light{R: float32(l.R), G: float32(l.G), B: float32(l.B)}
	}
	looks := [2]coat.Light{of(p.paper), of(p.ink)}
	line := make([]coat.Light, region.Dx())
	for y := region.Min.Y; y < region.Max.Y; y++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		row := p.dots.Row(y)
		for i := range line {
			x := region.Min.X + i
			line[i] = looks[row[x>>3]>>(7-x&7)&1]
		}
		if err := emit(y-region.Min.Y, line); err != nil {
			return err
		}
	}
	return nil
}
