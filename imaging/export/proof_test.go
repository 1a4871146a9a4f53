package export

import (
	"bytes"
	"compress/zlib"
	"context"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"io"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// inflate gives the filtered rows of a PNG file.
func inflate(t testing.TB, file []byte) []byte {
	t.Helper()
	var stream []byte
	for _, c := range readChunks(t, file) {
		if c.kind == "IDAT" {
			stream = append(stream, c.data...)
		}
	}
	r, err := zlib.NewReader(bytes.NewReader(stream))
	require.NoError(t, err)
	rows, err := io.ReadAll(r)
	require.NoError(t, err)
	return rows
}

// paint is a picture whose every pixel differs a little from its neighbours.
func paint(bounds image.Rectangle) *image.RGBA {
	img := image.NewRGBA(bounds)
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			img.SetRGBA(x, y, color.RGBA{uint8(7 * x), uint8(5 * y), uint8(x ^ y), 255})
		}
	}
	return img
}

func TestProofRoundTrip(t *testing.T) {
	for name, bounds := range map[string]image.Rectangle{
		"at the origin": image.Rect(0, 0, 40, 30),
		"off origin":    image.Rect(-7, 11, 33, 41),
		"one pixel":     image.Rect(3, 3, 4, 4),
		"one row":       image.Rect(0, 0, 300, 1),
	} {
		t.Run(name, func(t *testing.T) {
			want := paint(bounds)
			var out bytes.Buffer
			require.NoError(t, WriteProof(&out, want, 5906))
			got, err := png.Decode(&out)
			require.NoError(t, err)
			require.Equal(t, bounds.Size(), got.Bounds().Size())
			back := image.NewRGBA(image.Rectangle{Max: bounds.Size()})
			draw.Draw(back, back.Bounds(), got, image.Point{}, draw.Src)
			require.Equal(t, want.Pix, back.Pix)
		})
	}
}

func TestProofChunks(t *testing.T) {
	published := publishedChunks(t)
	write := func(perMetre int) []byte {
		var out bytes.Buffer
		require.NoError(t, WriteProof(&out, paint(image.Rect(0, 0, 9, 9)), perMetre))
		return out.Bytes()
	}
	t.Run("with a size", func(t *testing.T) {
		file := write(11811)
		require.Equal(t, []string{"IHDR", "sRGB", "gAMA", "pHYs", "IDAT", "IEND"}, kinds(readChunks(t, file)))
		for _, name := range []string{"srgb_perceptual", "gama_45455", "phys_11811_300dpi"} {
			require.Contains(t, string(file), string(published[name]), name)
		}
	})
	t.Run("without", func(t *testing.T) {
		require.Equal(t, []string{"IHDR", "sRGB", "gAMA", "IDAT", "IEND"}, kinds(readChunks(t, write(0))))
	})
}

func TestProofHeadMayComeInAnyPieces(t *testing.T) {
	var plain bytes.Buffer
	require.NoError(t, png.Encode(&plain, paint(image.Rect(0, 0, 5, 5))))
	want := plain.String()[:headLength] + "EXTRA" + plain.String()[headLength:]
	for piece := 1; piece <= plain.Len(); piece++ {
		var out bytes.Buffer
		h := &headInserter{w: &out, extra: []byte("EXTRA")}
		for rest := plain.Bytes(); len(rest) > 0; {
			n, err := h.Write(rest[:min(piece, len(rest))])
			require.NoError(t, err)
			require.Equal(t, min(piece, len(rest)), n)
			rest = rest[n:]
		}
		require.Equal(t, want, out.String(), "pieces of %d", piece)
	}
}

func TestProofRefusals(t *testing.T) {
	one := image.NewRGBA(image.Rect(0, 0, 1, 1))
	require.ErrorContains(t, WriteProof(io.Discard, nil, 0), "without a pixel")
	require.ErrorContains(t, WriteProof(io.Discard, image.NewRGBA(image.Rect(5, 5, 5, 9)), 0), "without a pixel")
	require.ErrorContains(t, WriteProof(io.Discard, one, -1), "-1 dots per metre")
	require.ErrorContains(t, WriteProof(io.Discard, one, math.MaxInt32+1), "dots per metre")
}

func TestProofStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	cancel()
	require.ErrorIs(t, WriteProof(UntilDone(ctx, io.Discard), paint(image.Rect(0, 0, 9, 9)), 0), context.Canceled)
}
