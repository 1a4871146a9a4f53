package export

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// noise sets about one dot in three, the same ones for the same seed.
func noise(w, h int, seed uint64) *plane.Bits {
	bits := plane.NewBits(w, h)
	random := rand.New(rand.NewPCG(seed, 1))
	for y := range h {
		for x := range w {
			if random.IntN(3) == 0 {
				bits.Set(x, y)
			}
		}
	}
	return bits
}

func rasterBytes(t testing.TB, bits *plane.Bits, pitch layout.MM) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, WriteRaster(&out, bits, pitch))
	return out.Bytes()
}

// requireSameDots decodes with the standard library and wants black where a dot burns.
func requireSameDots(t testing.TB, want *plane.Bits, file []byte) {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(file))
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, want.W, want.H), img.Bounds())
	grey, ok := img.(*image.Gray)
	require.True(t, ok, "decodes as grey, not as %T", img)
	for y := range want.H {
		for x := range want.W {
			got := grey.GrayAt(x, y)
			if want.At(x, y) != (got == color.Gray{Y: 0}) || (got.Y != 0 && got.Y != 255) {
				t.Fatalf("dot %d, %d: burn %v, grey %d", x, y, want.At(x, y), got.Y)
			}
		}
	}
}

func TestRasterRoundTrip(t *testing.T) {
	for _, c := range []struct {
		name string
		bits *plane.Bits
	}{
		{"one dot", noise(1, 1, 5)},
		{"one row", noise(77, 1, 1)},
		{"one column", noise(1, 77, 2)},
		{"whole bytes", noise(64, 9, 3)},
		{"spare bits", noise(1001, 37, 4)},
		{"all blank", plane.NewBits(13, 5)},
		{"several chunks", noise(4000, 700, 6)},
	} {
		t.Run(c.name, func(t *testing.T) { requireSameDots(t, c.bits, rasterBytes(t, c.bits, 0.08)) })
	}
}

func TestRasterRoundTripProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		bits := noise(rapid.IntRange(1, 70).Draw(t, "w"), rapid.IntRange(1, 20).Draw(t, "h"), rapid.Uint64().Draw(t, "seed"))
		var out bytes.Buffer
		require.NoError(t, WriteRaster(&out, bits, 0.1))
		img, err := png.Decode(&out)
		require.NoError(t, err)
		for y := range bits.H {
			for x := range bits.W {
				require.Equal(t, bits.At(x, y), img.(*image.Gray).GrayAt(x, y).Y == 0)
			}
		}
	})
}

func TestRasterChunks(t *testing.T) {
	published := publishedChunks(t)
	file := rasterBytes(t, noise(4000, 700, 6), 0.08)
	chunks := readChunks(t, file)
	require.Equal(t, []string{"IHDR", "pHYs", "IDAT", "IEND"}, kinds(chunks))
	// Source: W3C, 2025, PNG Specification (Third Edition), clause 11.2.1: width, height,
	// bit depth 1, greyscale 0, compression 0, filter 0, interlace 0.
	require.Equal(t, []byte{0, 0, 0x0f, 0xa0, 0, 0, 0x02, 0xbc, 1, 0, 0, 0, 0}, chunks[0].data)
	require.Contains(t, string(file), string(published["phys_12500_0.08mm"]))
	require.True(t, bytes.HasSuffix(file, published["iend"]))
}

func TestRasterSpareBitsAreClean(t *testing.T) {
	tidy, dirty := plane.NewBits(11, 2), plane.NewBits(11, 2)
	dirty.Row(0)[1] |= 0x1f
	dirty.Row(1)[1] |= 0x15
	require.Equal(t, rasterBytes(t, tidy, 0.1), rasterBytes(t, dirty, 0.1))

	line := inflate(t, rasterBytes(t, dirty, 0.1))
	require.Equal(t, []byte{0, 0xff, 0xe0, 0, 0xff, 0xe0}, line)
}

func TestRasterIsTheSameEachTime(t *testing.T) {
	bits := noise(999, 333, 7)
	require.Equal(t, rasterBytes(t, bits, 0.08), rasterBytes(t, bits, 0.08))
}

func TestRasterWithWideStride(t *testing.T) {
	tight := noise(20, 6, 8)
	wide := &plane.Bits{W: 20, H: 6, Stride: 8, Pix: make([]byte, 8*6)}
	for y := range 6 {
		copy(wide.Row(y), tight.Row(y))
	}
	require.Equal(t, rasterBytes(t, tight, 0.1), rasterBytes(t, wide, 0.1))
}

func TestRasterRefusals(t *testing.T) {
	for _, c := range []struct {
		name  string
		bits  *plane.Bits
		pitch layout.MM
		want  string
	}{
		{"nil", nil, 0.1, "no raster to write"},
		{"empty", plane.NewBits(0, 0), 0.1, "0 x 0 dots"},
		{"no rows", plane.NewBits(3, 0), 0.1, "3 x 0 dots"},
		{"short", &plane.Bits{W: 9, H: 2, Stride: 2, Pix: make([]byte, 3)}, 0.1, "holds 3 bytes"},
		{"thin stride", &plane.Bits{W: 9, H: 1, Stride: 1, Pix: make([]byte, 3)}, 0.1, "1 a row"},
		{"no pitch", plane.NewBits(1, 1), 0, "pitch 0 mm"},
		{"fine pitch", plane.NewBits(1, 1), 0.009, "0.01 to 1 mm"},
		{"coarse pitch", plane.NewBits(1, 1), 1.01, "0.01 to 1 mm"},
		{"not a number", plane.NewBits(1, 1), layout.MM(math.NaN()), "NaN"},
		{"no end", plane.NewBits(1, 1), layout.MM(math.Inf(1)), "Inf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var out bytes.Buffer
			require.ErrorContains(t, WriteRaster(&out, c.bits, c.pitch), c.want)
			require.Zero(t, out.Len(), "nothing is written before the check")
		})
	}
}

func TestRasterWriterCountsItsRows(t *testing.T) {
	start := func(t *testing.T) *RasterWriter {
		r, err := NewRasterWriter(io.Discard, 9, 2, 0.1)
		require.NoError(t, err)
		return r
	}
	t.Run("too few", func(t *testing.T) {
		r := start(t)
		require.NoError(t, r.WriteRow([]byte{1, 0}))
		require.ErrorContains(t, r.Close(), "closed after 1")
	})
	t.Run("too many", func(t *testing.T) {
		r := start(t)
		require.NoError(t, r.WriteRow([]byte{1, 0}))
		require.NoError(t, r.WriteRow([]byte{1, 0}))
		require.ErrorContains(t, r.WriteRow([]byte{1, 0}), "only 2 rows")
	})
	t.Run("wrong length", func(t *testing.T) {
		r := start(t)
		require.ErrorContains(t, r.WriteRow([]byte{1}), "9 dots take 2 bytes")
		require.Error(t, r.WriteRow([]byte{1, 0}), "the first failure holds")
	})
	t.Run("after the end", func(t *testing.T) {
		r := start(t)
		require.NoError(t, r.WriteRow([]byte{1, 0}))
		require.NoError(t, r.WriteRow([]byte{1, 0}))
		require.NoError(t, r.Close())
		require.ErrorContains(t, r.WriteRow([]byte{1, 0}), "closed")
		require.ErrorContains(t, r.Close(), "closed")
	})
}

func TestRasterStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	var out bytes.Buffer
	w := writerFunc(func(p []byte) (int, error) {
		if out.Len() > 100<<10 {
			cancel()
		}
		return out.Write(p)
	})
	err := WriteRaster(UntilDone(ctx, w), noise(4000, 2000, 9), 0.08)
	require.ErrorIs(t, err, context.Canceled)
	require.Less(t, out.Len(), 300<<10, "stops at the next chunk")
}

func TestABlankRasterStopsWithItsContextToo(t *testing.T) {
	ctx, cancel := context.WithCancel(t.Context())
	writes := 0
	w := writerFunc(func(p []byte) (int, error) {
		if writes++; writes == 2 { // the head, and the first 4 MiB of rows
			cancel()
		}
		return len(p), nil
	})
	bits := plane.NewBits(40_000, 10_000)
	require.ErrorIs(t, WriteRaster(UntilDone(ctx, w), bits, 0.08), context.Canceled)
	require.Equal(t, 2, writes)
}

func TestRasterRoundTripPastAFlush(t *testing.T) {
	bits := plane.NewBits(20_001, 2_000) // 5 MB of rows
	for y := range bits.H {
		bits.Set((y*37)%bits.W, y)
	}
	requireSameDots(t, bits, rasterBytes(t, bits, 0.08))
}

func TestRasterPassesOnTheWritersError(t *testing.T) {
	full := errors.New("full")
	bits := noise(4000, 700, 6)
	whole := len(rasterBytes(t, bits, 0.08))
	for _, room := range []int{0, 10, 100 << 10, whole - 14, whole - 1} {
		left := room
		err := WriteRaster(writerFunc(func(p []byte) (int, error) {
			if left -= len(p); left < 0 {
				return 0, full
			}
			return len(p), nil
		}), bits, 0.08)
		require.ErrorIs(t, err, full, "room for %d bytes", room)
	}
}

type writerFunc func(p []byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }
