package picture

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// A raster of 288 x 218 mm at 0.08 mm pitch: 9.8 MP.
const benchCols, benchRows, benchPerMM = 3600, 2722, 12.5

func benchLight() *plane.Grey16 {
	return lightFrom(benchCols, benchRows, func(x, y int) uint16 {
		return uint16(8000 + 10*x + 5*y + (x*x*7919+y*y*10473)%3000)
	})
}

func BenchmarkTone(b *testing.B) {
	all := everyPart(b)
	light := benchLight()
	for _, c := range []struct {
		name string
		tone Tone
	}{
		{"table", all.points()},
		{"local contrast", Tone{Local: all.Local}},
		{"sharpen", Tone{Sharpen: Sharpen{Radius: 0.08, Amount: 1}}},
		{"sharpen with threshold", Tone{Sharpen: Sharpen{Radius: 0.08, Amount: 1, Threshold: 1}}},
		{"sharpen wide", Tone{Sharpen: Sharpen{Radius: 1, Amount: 1}}},
		{"noise", Tone{Noise: all.Noise}},
		{"noise wide", Tone{Noise: Noise{Strength: 3, Radius: 2}}},
		{"all", all},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(2 * benchCols * benchRows)
			b.ReportAllocs()
			for b.Loop() {
				_, err := c.tone.Apply(context.Background(), light, benchPerMM)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkFade(b *testing.B) {
	tints := benchLight()
	for _, c := range []struct {
		name string
		fade Fade
	}{
		{"feather", Fade{Feather: 10, Corner: 10}},
		{"oval and vignette", Fade{Shape: FadeOval, Feather: 20, Vignette: 0.5}},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(2 * benchCols * benchRows)
			b.ReportAllocs()
			for b.Loop() {
				_, err := c.fade.Apply(context.Background(), tints, benchPerMM)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkGreyOf(b *testing.B) {
	light := plane.NewRGB16(benchCols, benchRows)
	b.SetBytes(6 * benchCols * benchRows)
	b.ReportAllocs()
	for b.Loop() {
		_, err := GreyOf(context.Background(), light, Mix{0.5, 0.4, 0.1})
		require.NoError(b, err)
	}
}
