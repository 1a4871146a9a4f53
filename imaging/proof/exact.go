package proof

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/burn"
)

// maxViewSide bounds the pictures that a proof is asked for, in pixels.
const maxViewSide = 16384

// Exact is the proof of the very dots of region, cut out of a raster, as a picture of
// viewW x viewH pixels: each dot exposed with its neighbours, shown
// through, and averaged over the pixel in linear light by the exact share of
// area. It goes through the rows once and needs no more memory than some rows and
// a table. The same input gives the same bytes on any number of cores. progress is
// told the share that is done, and may be nil.
func Exact(ctx context.Context, r Recipe, raster burn.Source, region image.Rectangle, viewW, viewH int, progress func(float64)) (*image.RGBA, error) {
	if err := checkView(r, raster, region, viewW, viewH); err != nil {
		return nil, err
	}
	model, err := r.Stack.Compile(r.Options)
	if err != nil {
		return nil, err
	}
	finer := viewW > region.Dx() || viewH > region.Dy()
	s, err := newSource(ctx, r, raster, region, model.Table(), finer, r.grid())
	if err != nil {
		return nil, err
	}
	return viewOf(ctx, s, region, viewW, viewH, progress)
}

func checkView(r Recipe, raster burn.Source, region image.Rectangle, viewW, viewH int) error {
	if err := r.Validate(); err != nil {
		return err
	}
	if w, h := raster.Size(); region.Empty() || !region.In(image.Rect(0, 0, w, h)) {
		return fmt.Errorf("region %v does not lie within the raster of %d x %d dots: choose a part of it", region, w, h)
	}
	return checkViewSize(viewW, viewH)
}

func checkViewSize(viewW, viewH int) error {
	if viewW < 1 || viewH < 1 || viewW > maxViewSide || viewH > maxViewSide {
		return fmt.Errorf("view of %d x %d pixels is out of range: ask for 1 to %d a side", viewW, viewH, maxViewSide)
	}
	return nil
}
