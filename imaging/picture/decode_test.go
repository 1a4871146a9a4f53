package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

const goldens = "../../testdata/goldens/"

func read(t testing.TB, name string) []byte {
	t.Helper()
	data, err := os.ReadFile(goldens + name)
	require.NoError(t, err)
	return data
}

// claiming changes what a PNG's header says of its size.
func claiming(file []byte, w, h uint32) []byte {
	out := bytes.Clone(file)
	binary.BigEndian.PutUint32(out[16:], w)
	binary.BigEndian.PutUint32(out[20:], h)
	binary.BigEndian.PutUint32(out[29:], crc32.ChecksumIEEE(out[12:29]))
	return out
}

func TestProbe(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 30, 20))
	for _, c := range []struct {
		name string
		data []byte
		want Header
	}{
		{"grey JPEG", jpegOf(t, grey), Header{Format: "jpeg", W: 30, H: 20, Orientation: 1, BitDepth: 8}},
		{"turned JPEG", withEXIF(jpegOf(t, grey), orientationTIFF(6)), Header{Format: "jpeg", W: 20, H: 30, Orientation: 6, BitDepth: 8}},
		{"grey PNG", pngOf(t, grey), Header{Format: "png", W: 30, H: 20, Orientation: 1, BitDepth: 8}},
		{"16-bit PNG", pngOf(t, image.NewNRGBA64(image.Rect(0, 0, 3, 5))), Header{Format: "png", W: 3, H: 5, Orientation: 1, BitDepth: 16}},
		{"1-bit PNG", pngOf(t, image.NewPaletted(image.Rect(0, 0, 9, 9), color.Palette{color.Black, color.White})),
			Header{Format: "png", W: 9, H: 9, Orientation: 1, BitDepth: 1}},
		{"huge PNG", claiming(pngOf(t, grey), 60000, 60000), Header{Format: "png", W: 60000, H: 60000, Orientation: 1, BitDepth: 8}},
		{"CMYK JPEG", read(t, "inks.jpg"), Header{Format: "jpeg", W: 128, H: 16, Orientation: 1, BitDepth: 8,
			ProfileNote: "the picture is in inks (CMYK) without a colour profile: they are turned to colours by plain subtraction, which may look harsh"}},
		{"photograph", read(t, "dunes.jpg"), Header{Format: "jpeg", W: 1500, H: 1000, Orientation: 6, BitDepth: 8}},
	} {
		t.Run(c.name, func(t *testing.T) {
			h, err := Probe(c.data)
			require.NoError(t, err)
			require.Greater(t, h.MemoryBytes, 2*int64(h.W)*int64(h.H))
			h.MemoryBytes = 0
			require.Equal(t, c.want, h)
		})
	}
}

// Whatever is wrong, one sentence says what, and what to do next.
func TestFilesThatCannotBeRead(t *testing.T) {
	noise := image.NewGray(image.Rect(0, 0, 90, 80))
	for i := range noise.Pix {
		noise.Pix[i] = uint8(i * i >> 3)
	}
	jpg, pic := jpegOf(t, noise), pngOf(t, noise)
	damaged := bytes.Clone(pic)
	damaged[60] ^= 0x55
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"zero bytes", nil, "the picture file is empty (0 bytes): copy or download it again"},
		{"text", []byte("Dear maker,\nthis is not a picture"), `the file holds text ("Dear maker,\nthis"...), not a picture, whatever its name says: choose a JPEG, PNG, TIFF, WebP, GIF or BMP file`},
		{"noise", []byte{1, 2, 3, 0, 200}, "the file is not one of JPEG, PNG, TIFF, WebP, GIF or BMP (it starts with 01 02 03 00 c8): save the picture as one of these and open that"},
		{"HEIC", []byte("\x00\x00\x00\x18ftypheic"), "the file is a HEIC picture, which is not read here: save it as JPEG, PNG, TIFF, WebP, GIF or BMP and open that"},
		{"SVG", []byte("<?xml version='1.0'?>\n<svg width='10' height='10'/>"), "the file is an SVG drawing, which is not read here: export it as PNG"},
		{"claims 60000 x 60000", claiming(pic, 60000, 60000), "the picture is 60000 x 60000 = 3600 million pixels, more than the 250 million allowed: make it smaller"},
		{"claims more than it can hold", claiming(pic, 15000, 15000), "cannot hold them: copy or download it again"},
		{"claims nothing", claiming(pic, 0, 5), "the PNG file is damaged (png: invalid format: non-positive dimension): export it again"},
		{"half a JPEG", jpg[:len(jpg)/2], "the JPEG file ends too early, as if a copy had been broken off (invalid JPEG format: short Huffman data): copy or download it again"},
		{"JPEG without its end", jpg[:len(jpg)-2], "the JPEG file ends too early"},
		{"start of a JPEG", jpg[:10], "the JPEG file ends too early"},
		{"half a PNG", pic[:len(pic)/2], "the PNG file ends too early"},
		{"start of a PNG", pic[:20], "the PNG file ends too early"},
		{"a flipped bit", damaged, "the PNG file is damaged"},
		{"four channels, no Adobe marker", bytes.Replace(read(t, "inks.jpg"), []byte("Adobe"), []byte("Other"), 1),
			"the JPEG file has four channels and does not say what they stand for (it has no Adobe marker): open it in an image editor and save it as an RGB JPEG or PNG"},
		{"arithmetic coding", bytes.Replace(jpg, []byte{0xff, 0xc0}, []byte{0xff, 0xc9}, 1), "uses a feature that is not read here"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Decode(context.Background(), c.data, Limits{})
			require.ErrorContains(t, err, c.says)
			require.NotContains(t, err.Error(), "\n")
			require.False(t, strings.HasSuffix(err.Error(), "."))
		})
	}
}

func TestAHugeClaimCostsNothing(t *testing.T) {
	file := claiming(pngOf(t, image.NewGray(image.Rect(0, 0, 4, 4))), 60000, 60000)
	require.Less(t, allocated(func() {
		_, err := Decode(context.Background(), file, Limits{})
		require.Error(t, err)
	}), int64(1<<20))
}

func TestLimits(t *testing.T) {
	file := pngOf(t, image.NewGray(image.Rect(0, 0, 30, 20)))
	_, err := Decode(context.Background(), file, Limits{MaxPixels: 600})
	require.NoError(t, err)
	_, err = Decode(context.Background(), file, Limits{MaxPixels: 599})
	require.ErrorContains(t, err, "the picture is 30 x 20")
}

func stopping(ctx context.Context, data []byte) stoppable {
	return stoppable{ctx, data, bytes.NewReader(data)}
}

func TestDecodeStopsWithItsContext(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := Decode(ctx, read(t, "dunes.jpg"), Limits{})
	require.ErrorIs(t, err, context.Canceled)

	// The decoder itself stops at its next read.
	_, err = decodeJPEG(stopping(ctx, read(t, "dunes.jpg")))
	require.ErrorIs(t, err, context.Canceled)
	_, err = decodePNG(stopping(ctx, read(t, "rose.png")))
	require.ErrorIs(t, err, context.Canceled)
}

func TestOnePixelPictures(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 1, 1))
	img.Pix[0] = 200
	for name, data := range map[string][]byte{"jpeg": jpegOf(t, img), "png": pngOf(t, img)} {
		_, g := greyOf(t, data, Turn{})
		require.Equal(t, [2]int{1, 1}, [2]int{g.W, g.H}, name)
		require.InDelta(t, 200, colour.EncodeByte16(g.Pix[0]), 1, name)
	}
}

func TestNewRefusesAnEmptyImage(t *testing.T) {
	_, err := New(image.NewGray(image.Rect(5, 5, 5, 9)))
	require.ErrorContains(t, err, "the picture is 0 x 4 pixels: give one of at least 1 x 1")
}

// The patches of inks.jpg, in shares of 255, come out as light left over by the
// inks: (1-c)(1-k) and so on, as stored values. Source: the script beside the
// file for the shares; the Go standard library's color.CMYK for the rule.
func TestCMYKIsReadable(t *testing.T) {
	patches := [][4]float64{{0, 0, 0, 0}, {255, 0, 0, 0}, {0, 255, 0, 0}, {0, 0, 255, 0},
		{0, 0, 0, 255}, {128, 0, 0, 0}, {64, 128, 192, 32}, {0, 0, 0, 128}}
	p, _ := greyOf(t, read(t, "inks.jpg"), Turn{})
	rgb, err := p.RGB(context.Background(), Turn{}, colour.Stored{})
	require.NoError(t, err)
	for i, inks := range patches {
		px := rgb.Row(8)[3*(16*i+8):]
		for c := range 3 {
			want := (255 - inks[c]) * (255 - inks[3]) / 255
			require.InDelta(t, want, colour.EncodeByte16(px[c]), 3, "patch %d channel %d", i, c)
		}
	}
}
