package picture

import (
	"context"
	"image"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

func benchProfiles(b *testing.B) map[string]*profile {
	out := map[string]*profile{}
	for name, icc := range map[string][]byte{
		"three lights": iccThreeLights(4, p3Columns, iccPara(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)),
		"grey":         iccGrey(2, "XYZ ", iccGamma(1.8)),
		"inks":         iccInks(),
	} {
		p, err := openProfile(icc, profileChannels[string(icc[iccColoursAt:iccColoursAt+4])])
		require.NoError(b, err)
		out[name] = p
	}
	return out
}

// What a profile adds to opening a picture.
func BenchmarkProfileSpace(b *testing.B) {
	for name, p := range benchProfiles(b) {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err := p.space(context.Background())
				require.NoError(b, err)
			}
		})
	}
}

// What a profile adds to reading a picture of 12 MP.
func BenchmarkRGBThroughAProfile(b *testing.B) {
	profiles := benchProfiles(b)
	photo := benchPhoto(b).img
	inks := image.NewCMYK(photo.Bounds())
	for i := range inks.Pix {
		inks.Pix[i] = uint8(i * 2654435761 >> 9)
	}
	for name, img := range map[string]image.Image{"three lights": photo, "inks": inks} {
		s, err := profiles[name].space(context.Background())
		require.NoError(b, err)
		p, err := New(img)
		require.NoError(b, err)
		p.space = s
		b.Run(name, func(b *testing.B) {
			b.SetBytes(4000 * 3000)
			b.ReportAllocs()
			for b.Loop() {
				_, err := p.RGB(context.Background(), Turn{}, colour.Stored{})
				require.NoError(b, err)
			}
		})
	}
}
