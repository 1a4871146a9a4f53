package picture

import (
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

	"undercoat/imaging/colour"
)

// A tall and narrow picture is an ordinary one.
func TestOnePixelWide(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 1, 20000))
	for i := range img.Pix {
		img.Pix[i] = uint8(i)
	}
	for name, data := range map[string][]byte{
		"PNG": pngOf(t, img), "JPEG": jpegOf(t, img), "TIFF": tiffOf(t, img, tiff.Deflate), "BMP": bmpOf(t, img),
	} {
		survive(t, data, Limits{})
		for _, turn := range []Turn{{}, {Quarters: 1}} {
			_, g := greyOf(t, data, turn)
			require.Equal(t, 20000, g.W*g.H, name)
		}
	}
}

// A picture that is clear all over shows the paper.
func TestFullyTransparent(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 9, 7))
	paper := colour.Stored{R: 180, G: 180, B: 180}
	clear := image.NewPaletted(image.Rect(0, 0, 30, 20), color.Palette{color.RGBA{}, color.White})
	for name, data := range map[string][]byte{"PNG": pngOf(t, img), "TIFF": tiffOf(t, img, tiff.Uncompressed), "GIF": gifOf(t, clear)} {
		p, err := Decode(context.Background(), data, Limits{})
		require.NoError(t, err)
		g, err := p.Grey(context.Background(), Turn{}, paper)
		require.NoError(t, err)
		for _, v := range g.Pix {
			require.Equal(t, colour.DecodeByte16(180), v, name)
		}
	}
}

// bmpWithAlpha has the longer header, under which the fourth byte may be alpha.
// Source: Microsoft, Windows GDI documentation, BITMAPV4HEADER.
func bmpWithAlpha(pixels ...color.NRGBA) []byte {
	const head, info = 14, 108
	le := binary.LittleEndian
	out := make([]byte, head+info)
	copy(out, "BM")
	le.PutUint32(out[10:], head+info)
	le.PutUint32(out[14:], info)
	le.PutUint32(out[18:], uint32(len(pixels)))
	le.PutUint32(out[22:], 1)
	le.PutUint16(out[26:], 1)
	le.PutUint16(out[28:], 32)
	for _, p := range pixels {
		out = append(out, p.B, p.G, p.R, p.A)
	}
	return out
}

// A BMP whose spare bytes are all zero is opaque; one with any alpha is as it says.
func TestSpareBytesInBMP(t *testing.T) {
	clear, white := color.NRGBA{200, 200, 200, 0}, color.NRGBA{255, 255, 255, 255}
	_, g := greyOf(t, bmpWithAlpha(clear, clear), Turn{})
	require.Equal(t, []uint16{colour.DecodeByte16(200), colour.DecodeByte16(200)}, g.Pix)
	_, g = greyOf(t, bmpWithAlpha(clear, white), Turn{})
	require.Equal(t, []uint16{0, full}, g.Pix)
}

// A frame smaller than its screen stands where the file puts it; the rest is clear.
func TestAFrameInItsPlace(t *testing.T) {
	frame := framePatch(30, 20)
	part := image.NewPaletted(image.Rect(12, 5, 20, 11), frame.Palette)
	for i := range part.Pix {
		part.Pix[i] = 1
	}
	p, got := rgbOf(t, gifOf(t, part, frame))
	require.Equal(t, [2]int{30, 20}, [2]int{p.Header().W, p.Header().H})
	for y := range 20 {
		for x := range 30 {
			want := colour.Linear{}
			if image.Pt(x, y).In(part.Rect) {
				want.R = float64(colour.DecodeByte16(200)) / full
			}
			require.Equal(t, want, lightAt(got, x, y), "%d, %d", x, y)
		}
	}
}

// Fax coding the other way round: with white as zero the same code is the negative.
func TestFaxCodingBothWays(t *testing.T) {
	const whiteIsZero = 0
	file := sample(t, "group4.tif")
	_, g := greyOf(t, file, Turn{})
	_, negative := greyOf(t, withTag(file, tagPhotometric, typeShort, 1, []byte{whiteIsZero, 0}), Turn{})
	for i, v := range g.Pix {
		require.Equal(t, v, full-negative.Pix[i])
	}
}
