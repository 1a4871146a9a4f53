package proof

import (
	"context"
	"encoding/binary"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// CoatMap shows where on a picture one coat, or the ground, is what one sees.
type CoatMap struct {
	Name string
	// Image has the layer's own look where it shows, and a plain backdrop that
	// stands apart from it where it does not; between them by the share of area.
	Image *image.RGBA
	Share float64 // of the whole picture, 0..1
}

// CoatMaps maps each layer, coats from the top down and then the ground, for a
// picture of tints, 0..65535.
func (t *TintTable) CoatMaps(ctx context.Context, tints *plane.Grey16) ([]CoatMap, error) {
	stack := t.model.Stack()
	shares := t.PictureCoverage(tints)
	var out []CoatMap
	for layer := range t.fast.Layers() {
		name := stack.Ground.Name
		if layer < len(stack.Coats) {
			name = stack.Coats[layer].Name
		}
		img, err := painted(ctx, tints, t.mapColours(layer))
		if err != nil {
			return nil, err
		}
		out = append(out, CoatMap{name, img, shares[layer]})
	}
	return out, nil
}

// mapColours is the packed pixel for each tint, to the nearest of the steps.
func (t *TintTable) mapColours(layer int) *[storedSteps + 1]uint32 {
	look := t.model.PureLook(layer)
	behind := backdrop(look)
	out := new([storedSteps + 1]uint32)
	for i := range out {
		tint, way := between(uint16(min(i<<storedShift, math.MaxUint16)))
		share := t.shares[tint][layer]
		if way > 0 {
			share += way * (t.shares[tint+1][layer] - share)
		}
		out[i] = rgba(colour.Mix(behind, look, share))
	}
	return out
}

// backdrop is ink or, for looks that would not stand apart from it, paper. Ink is
// the better of the two: light is added up, so that a small share of a look can be
// seen on it and is lost on paper.
func backdrop(look colour.Linear) colour.Linear {
	const apart = 25 // in L*
	if colour.LStar(look.Y())-colour.LStar(Ink.Linear().Y()) < apart {
		return Paper.Linear()
	}
	return Ink.Linear()
}

// painted is a picture of tints in the colours of a table.
func painted(ctx context.Context, tints *plane.Grey16, colours *[storedSteps + 1]uint32) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, tints.W, tints.H))
	return img, plane.SplitRows(ctx, tints.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			pix := img.Pix[y*img.Stride:][:4*tints.W]
			for x, v := range tints.Row(y) {
				step := (uint32(v) + 1<<(storedShift-1)) >> storedShift
				binary.LittleEndian.PutUint32(pix[4*x:4*x+4], colours[step])
			}
			if y%64 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
		}
		return nil
	})
}
