package picture

import (
	"context"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// A photograph of 12 MP as a camera's JPEG decodes: 4:2:0.
func benchPhoto(b *testing.B) *Picture {
	img := image.NewYCbCr(image.Rect(0, 0, 4000, 3000), image.YCbCrSubsampleRatio420)
	for i := range img.Y {
		img.Y[i] = uint8(i * 2654435761 >> 9)
	}
	for i := range img.Cb {
		img.Cb[i], img.Cr[i] = uint8(i>>3), uint8(i>>5)
	}
	p, err := New(img)
	require.NoError(b, err)
	return p
}

func BenchmarkGrey(b *testing.B) {
	p := benchPhoto(b)
	for _, c := range []struct {
		name string
		turn Turn
	}{{"upright", Turn{}}, {"quarter turn", Turn{Quarters: 1}}, {"mirrored", Turn{Mirror: true}}} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(4000 * 3000)
			b.ReportAllocs()
			for b.Loop() {
				_, err := p.Grey(context.Background(), c.turn, colour.Stored{})
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkRGB(b *testing.B) {
	p := benchPhoto(b)
	b.SetBytes(4000 * 3000)
	b.ReportAllocs()
	for b.Loop() {
		_, err := p.RGB(context.Background(), Turn{}, colour.Stored{})
		require.NoError(b, err)
	}
}

func BenchmarkToneTable(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		_, err := Tone{Mid: 0.3, Contrast: 0.3}.Table()
		require.NoError(b, err)
	}
}
