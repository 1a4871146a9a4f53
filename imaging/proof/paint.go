package proof

import (
	"context"
	"encoding/binary"
	"image"

	"undercoat/imaging/plane"
)

// Paint is the instant proof: every pixel of tints, 0..65535, becomes the look
// of that even tint. The dots themselves are not to be seen in it.
func (t *TintTable) Paint(ctx context.Context, tints *plane.Grey16) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, tints.W, tints.H))
	err := plane.SplitRows(ctx, tints.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			t.paintRow(img.Pix[y*img.Stride:][:4*tints.W], tints.Row(y))
			if y%64 == 0 && ctx.Err() != nil {
				return ctx.Err()
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return img, nil
}

func (t *TintTable) paintRow(pix []byte, tints []uint16) {
	for x, v := range tints {
		step := (uint32(v) + 1<<(storedShift-1)) >> storedShift
		binary.LittleEndian.PutUint32(pix[4*x:4*x+4], t.stored[step])
	}
}
