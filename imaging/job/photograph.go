package job

import (
	"context"
	"image"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// PhotographView is the whole of an upright photograph, in its colours, on at most
// maxW x maxH points for the screen.
func PhotographView(ctx context.Context, pic *picture.Picture, maxW, maxH int) (*image.RGBA, error) {
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{R: 255, G: 255, B: 255})
	if err != nil {
		return nil, err
	}
	view, err := resample.View(ctx, light, layout.Crop{W: float64(light.W), H: float64(light.H)}, maxW, maxH)
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, view.W, view.H))
	return img, plane.SplitRows(ctx, view.H, func(_ context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			out, row := img.Pix[y*img.Stride:(y+1)*img.Stride], view.Row(y)
			for x := range view.W {
				for c := range 3 {
					out[4*x+c] = colour.EncodeByte16(row[3*x+c])
				}
				out[4*x+3] = 0xff
			}
		}
		return nil
	})
}
