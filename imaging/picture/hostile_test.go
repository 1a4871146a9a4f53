package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"image"
	"image/color"
	"image/gif"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"

	"undercoat/imaging/colour"
)

// allocated is the bytes set aside by f, whether or not they are still held: never
// less than the most that it held at a time.
func allocated(f func()) int64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	f()
	runtime.ReadMemStats(&after)
	return int64(after.TotalAlloc - before.TotalAlloc)
}

// oneSentence is what an error for the window has to be.
func oneSentence(t testing.TB, err error) {
	t.Helper()
	require.Error(t, err)
	require.NotContains(t, err.Error(), "\n")
	require.NotContains(t, err.Error(), "runtime error")
	require.False(t, strings.HasSuffix(err.Error(), "."))
	require.Contains(t, err.Error(), ": ", "says what to do")
}

// survive decodes whatever it is given, and wants a sentence or a picture, in no
// more memory than the header announced.
func survive(t testing.TB, data []byte, lim Limits) {
	t.Helper()
	h, probeErr := Probe(data)
	announced := h.MemoryBytes
	require.True(t, probeErr != nil || announced > 0)
	require.NotContains(t, h.ProfileNote, "\n")
	require.Less(t, len(h.ProfileNote), 400)
	taken := allocated(func() {
		p, err := Decode(context.Background(), data, lim)
		if err != nil {
			oneSentence(t, err)
			return
		}
		require.NoError(t, probeErr, "what cannot be probed cannot be decoded")
		g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		require.Equal(t, [2]int{h.W, h.H}, [2]int{g.W, g.H})
	})
	if probeErr != nil {
		oneSentence(t, probeErr)
	}
	// Garbage counts as well, and looking into a file takes something by itself.
	require.Less(t, taken/2-4<<20, announced, "announced %d", announced)
}

// Every file of the goldens, broken off at every sixteenth of its length and a few
// bytes before its end.
func TestFilesBrokenOff(t *testing.T) {
	for name := range formatGoldens(t) {
		t.Run(name, func(t *testing.T) {
			data := sample(t, name)
			for i := range 16 {
				survive(t, data[:len(data)*i/16], Limits{})
			}
			for i := range 4 {
				survive(t, data[:len(data)-1-i], Limits{})
			}
		})
	}
}

// Every file of the goldens with single bytes changed all over.
func TestFilesWithFlippedBits(t *testing.T) {
	for name := range formatGoldens(t) {
		if strings.HasPrefix(name, "profile-") {
			continue // their profiles have a test of their own
		}
		t.Run(name, func(t *testing.T) {
			data := sample(t, name)
			step := max(1, len(data)/25)
			for at := 0; at < len(data); at += step {
				for _, flip := range []byte{0x01, 0xff} {
					hurt := bytes.Clone(data)
					hurt[at] ^= flip
					survive(t, hurt, Limits{MaxPixels: 1 << 20})
				}
			}
		})
	}
}

// A file is told by its bytes; each format under each other's first bytes.
func TestFilesUnderAWrongStart(t *testing.T) {
	for name := range formatGoldens(t) {
		if strings.HasPrefix(name, "profile-") {
			continue
		}
		for _, f := range formats {
			data := sample(t, name)
			copy(data, strings.ReplaceAll(f.magics[0], "?", "\x40"))
			survive(t, data, Limits{})
		}
	}
}

func gifOf(t testing.TB, frames ...*image.Paletted) []byte {
	t.Helper()
	var out bytes.Buffer
	g := &gif.GIF{Image: frames, Delay: make([]int, len(frames)), Config: image.Config{Width: 30, Height: 20}}
	require.NoError(t, gif.EncodeAll(&out, g))
	return out.Bytes()
}

func bmpOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, bmp.Encode(&out, img))
	return out.Bytes()
}

// with returns data with bytes replaced at a place.
func with(data []byte, at int, bytes ...byte) []byte {
	out := slices.Clone(data)
	copy(out[at:], bytes)
	return out
}

// Files that claim more than they hold, or hold more than they claim.
func TestBombs(t *testing.T) {
	grey := image.NewGray(image.Rect(0, 0, 30, 20))
	le := binary.LittleEndian
	tif := tiffOf(t, grey, tiff.Deflate)
	short := func(tag uint16, v uint32) []byte { return withTag(tif, tag, typeLong, 1, le.AppendUint32(nil, v)) }
	sof := bytes.Index(jpegOf(t, grey), []byte{0xff, 0xc0})
	const width, height = 256, 257
	for _, c := range []struct {
		name string
		data []byte
		says string
	}{
		{"PNG 1 x 20000000 in 70 bytes", claiming(pngOf(t, grey), 1, 20_000_000), "the PNG file says 1 x 20000000 pixels but its"},
		{"PNG 1 x 300000000", claiming(pngOf(t, grey), 1, 300_000_000), "more than the 250 million allowed"},
		{"PNG 2147483647 x 268435455", claiming(pngOf(t, grey), 1<<31-1, 1<<28-1), "more than the 250 million allowed"},
		{"JPEG 60000 x 4000", with(jpegOf(t, grey), sof+5, 4000>>8, 4000&255, 60000>>8, 60000&255), "the JPEG file says 60000 x 4000 pixels but its"},
		{"JPEG 65535 x 65535", with(jpegOf(t, grey), sof+5, 255, 255, 255, 255), "more than the 250 million allowed"},
		{"GIF of 3000 x 2000 with a frame of 30 x 20", gifScreenOf(t, 3000, 2000), ""},
		{"GIF frame of 60000 x 4000", gifFrameOf(t, 60000, 4000), "the GIF file says 60000 x 4000 pixels but its"},
		{"GIF without a frame", append(gifOf(t, framePatch(30, 20))[:gifScreenEnd], 0x3b), "the GIF file holds no picture"},
		{"GIF with comments alone", append(gifOf(t, framePatch(30, 20))[:gifScreenEnd], 0x21, 0xfe, 3, 'a', 'b', 'c', 0, 0x3b), "the GIF file holds no picture"},
		{"GIF frame beyond its screen", gifScreenOf(t, 10, 10), "the GIF file is damaged"},
		{"WebP of 16384 x 15000", riffOf(riffChunk("VP8L", []byte{0x2f, 0xff, 0x3f | 0xc0, 0xa5, 0x0e, 0, 0, 0})), "the WebP file says 16384 x"},
		{"WebP with a chunk of 2 GB", with(sample(t, "lossy.webp"), 16, 0xff, 0xff, 0xff, 0x7f), "the WebP file ends too early"},
		{"WebP as a whole of 2 GB", with(sample(t, "lossy.webp"), 4, 0xff, 0xff, 0xff, 0x7f), "the WebP file ends too early"},
		{"animated WebP", riffOf(riffChunk("VP8X", []byte{2, 0, 0, 0, 9, 0, 0, 9, 0, 0}), riffChunk("ANIM", make([]byte, 6))), "the WebP file is an animation"},
		{"TIFF of 200000 x 1000", withTag(short(width, 200_000), height, typeLong, 1, le.AppendUint32(nil, 1000)), "the TIFF file says 200000 x 1000 pixels but its"},
		{"TIFF of 4 x 4 thousand million", withTag(short(width, 1<<32-1), height, typeLong, 1, le.AppendUint32(nil, 1<<32-1)), "the TIFF file is damaged"},
		{"TIFF of no width", short(width, 0), "the TIFF file is damaged"},
		{"TIFF strip past the end", short(tagStripOffsets, 1<<31), "the TIFF file ends too early"},
		{"TIFF strip said to be of 4 GB", short(tagStripBytes, 1<<32-1), ""},
		{"TIFF directory past the end", with(tif, 4, 0xff, 0xff, 0xff, 0x7f), "the TIFF file ends too early"},
		{"TIFF in inks", withTag(tif, tagPhotometric, typeShort, 1, []byte{tiffInks, 0}), "the TIFF file is in inks (CMYK)"},
		{"TIFF in planes", withTag(tiffOf(t, image.NewNRGBA(grey.Rect), tiff.Deflate), tagPlanar, typeShort, 1, []byte{tiffSeparate, 0}), "stores each colour by itself"},
		{"TIFF with a channel of no meaning", withTag(tiffOf(t, image.NewNRGBA(grey.Rect), tiff.Deflate), tagExtra, typeShort, 1, []byte{0, 0}), "has channels beside its colours"},
		{"camera raw", withTag(tif, tagRawVersion, typeByte, 4, []byte{1, 4, 0, 0}), "the file is a camera raw picture"},
		{"camera raw with its preview first", withTag(tif, tagSubfile, typeLong, 1, []byte{1, 0, 0, 0}), "the file is a camera raw picture"},
		{"BMP of 15000 x 15000", with(bmpOf(t, grey), 18, 0x98, 0x3a, 0, 0, 0x98, 0x3a, 0, 0), "the BMP file says 15000 x 15000 pixels but its"},
		{"BMP of run lengths", with(bmpOf(t, grey), 30, 1), "the BMP file uses a feature that is not read here"},
	} {
		t.Run(c.name, func(t *testing.T) {
			survive(t, c.data, Limits{})
			_, err := Decode(context.Background(), c.data, Limits{})
			if c.says == "" {
				require.NoError(t, err)
				return
			}
			require.ErrorContains(t, err, c.says)
		})
	}
}

func framePatch(w, h int) *image.Paletted {
	p := image.NewPaletted(image.Rect(0, 0, w, h), color.Palette{color.White, color.RGBA{200, 0, 0, 255}})
	for i := range p.Pix {
		p.Pix[i] = uint8(i % 2)
	}
	return p
}

// gifScreenOf claims another screen than its frame of 30 x 20 needs.
func gifScreenOf(t testing.TB, w, h uint16) []byte {
	le := binary.LittleEndian
	return with(gifOf(t, framePatch(30, 20)), 6, le.AppendUint16(le.AppendUint16(nil, w), h)...)
}

// gifFrameOf claims another frame, and the screen it needs.
func gifFrameOf(t testing.TB, w, h uint16) []byte {
	le := binary.LittleEndian
	out := gifScreenOf(t, w, h)
	at := bytes.IndexByte(out[13:], gifMarkFrame) + 13
	return with(out, at+5, le.AppendUint16(le.AppendUint16(nil, w), h)...)
}

// A strip that unpacks to far more than its picture needs ends when it has given
// what a picture of its size could need at most.
func TestAStripThatUnpacksWithoutEnd(t *testing.T) {
	long := tiffOf(t, image.NewGray(image.Rect(0, 0, 1000, 4000)), tiff.Deflate)
	le := binary.LittleEndian
	const width, height = 256, 257
	file := withTag(withTag(long, height, typeLong, 1, le.AppendUint32(nil, 20)), tagStripRows, typeLong, 1, le.AppendUint32(nil, 20))
	file = withTag(file, width, typeLong, 1, le.AppendUint32(nil, 1000))
	survive(t, file, Limits{})
	h, err := Probe(file)
	require.NoError(t, err)
	require.Less(t, h.MemoryBytes, int64(1<<20))
}

// The decoders' own panics come out as sentences.
func TestAPanicIsASentence(t *testing.T) {
	f := formats[0]
	f.decode = func(stoppable) (image.Image, error) { panic("index out of range") }
	data := jpegOf(t, image.NewGray(image.Rect(0, 0, 8, 8)))
	_, err := f.pixels(context.Background(), data)
	require.EqualError(t, f.explain(data, err), "the JPEG file is damaged (index out of range): export it again from where it came")
	f.probe = func([]byte) (facts, error) { panic("divide by zero") }
	_, err = f.look(data)
	require.EqualError(t, err, "the JPEG file is damaged (divide by zero): export it again from where it came")
}

// A decoder that never looks at its reader does not hold up the end of a context.
func TestADecoderThatDoesNotLookUp(t *testing.T) {
	release := make(chan struct{})
	defer close(release)
	f := formats[0]
	f.decode = func(stoppable) (image.Image, error) {
		<-release
		return nil, nil
	}
	ctx, cancel := context.WithTimeout(context.Background(), 10*time.Millisecond)
	defer cancel()
	_, err := f.pixels(ctx, []byte("x"))
	require.ErrorIs(t, err, context.DeadlineExceeded)
}
