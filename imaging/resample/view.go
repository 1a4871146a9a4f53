package resample

import (
	"context"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// maxView bounds a view's sides, in pixels; a screen is smaller.
const maxView = 16384

// ViewSize is the size of a view: the largest of the crop's shape that fits in
// maxW x maxH, at least 1 x 1.
func ViewSize(crop layout.Crop, maxW, maxH int) (w, h int) {
	scale := math.Min(float64(maxW)/crop.W, float64(maxH)/crop.H)
	fit := func(side float64, most int) int { return min(max(int(math.Round(side*scale)), 1), most) }
	return fit(crop.W, maxW), fit(crop.H, maxH)
}

// View is the crop as a screen shows it, in linear light, of the size ViewSize
// tells; it enlarges as well as shrinks. A crop of two or more pixels a view
// pixel is first averaged in whole cells, so fine detail is softer than ToSize
// makes it. What a view shows lies within a view pixel of its true place.
func View(ctx context.Context, src *plane.RGB16, crop layout.Crop, maxW, maxH int) (*plane.RGB16, error) {
	f, err := newFrame(src.W, src.H, crop, maxW, maxH)
	if err != nil {
		return nil, err
	}
	out := plane.NewRGB16(f.x.size, f.y.size)
	return out, f.fill(ctx, src.Row, 3, out.Row)
}

// GreyView is View for a grey plane.
func GreyView(ctx context.Context, src *plane.Grey16, crop layout.Crop, maxW, maxH int) (*plane.Grey16, error) {
	f, err := newFrame(src.W, src.H, crop, maxW, maxH)
	if err != nil {
		return nil, err
	}
	out := plane.NewGrey16(f.x.size, f.y.size)
	return out, f.fill(ctx, src.Row, 1, out.Row)
}

// fill makes the view out of the source, both with `channels` values a pixel.
func (f frame) fill(ctx context.Context, source func(y int) []uint16, channels int, view func(y int) []uint16) error {
	cells := newSheet(f.x.cells, f.y.cells, channels)
	if err := f.gather(ctx, source, channels, cells.pack); err != nil {
		return err
	}
	big, err := resized(ctx, cells, f.x.scaled, f.y.scaled)
	if err != nil {
		return err
	}
	for y := range f.y.size {
		big.unpack(f.x.skip, f.y.skip+y, view(y))
	}
	return nil
}
