package picture

import (
	"context"
	"image"
	"image/color"
	"image/color/palette"
	"math/rand/v2"
	"runtime"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// images makes one of every kind in a rectangle, full of noise.
func images(r image.Rectangle) map[string]image.Image {
	random := rand.New(rand.NewPCG(1, 2))
	noise := func(pix []byte) {
		for i := range pix {
			pix[i] = byte(random.Uint32())
			if i%5 == 0 {
				pix[i] = []byte{0, 0xff}[i%2] // none and full, of alpha too
			}
		}
	}
	out := map[string]image.Image{}
	for ratio, name := range map[image.YCbCrSubsampleRatio]string{
		image.YCbCrSubsampleRatio444: "444", image.YCbCrSubsampleRatio422: "422", image.YCbCrSubsampleRatio420: "420",
		image.YCbCrSubsampleRatio440: "440", image.YCbCrSubsampleRatio411: "411", image.YCbCrSubsampleRatio410: "410",
	} {
		img := image.NewYCbCr(r, ratio)
		noise(img.Y)
		noise(img.Cb)
		noise(img.Cr)
		out["YCbCr "+name] = img
	}
	soft := image.NewNYCbCrA(r, image.YCbCrSubsampleRatio420)
	noise(soft.Y)
	noise(soft.Cb)
	noise(soft.Cr)
	noise(soft.A)
	out["YCbCr of video"], out["YCbCr of video with alpha"] = video{&soft.YCbCr}, videoAlpha{soft}
	gray, gray16 := image.NewGray(r), image.NewGray16(r)
	nrgba, nrgba64, cmyk := image.NewNRGBA(r), image.NewNRGBA64(r), image.NewCMYK(r)
	noise(gray.Pix)
	noise(gray16.Pix)
	noise(nrgba.Pix)
	noise(nrgba64.Pix)
	noise(cmyk.Pix)
	out["Gray"], out["Gray16"], out["NRGBA"], out["NRGBA64"], out["CMYK"] = gray, gray16, nrgba, nrgba64, cmyk
	rgba, rgba64 := image.NewRGBA(r), image.NewRGBA64(r) // premultiplied, so made from sound colours
	pal := append(color.Palette{color.NRGBA{200, 10, 90, 100}, color.NRGBA{}}, palette.WebSafe...)
	paletted := image.NewPaletted(r, pal)
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			rgba.Set(x, y, nrgba.At(x, y))
			rgba64.Set(x, y, nrgba64.At(x, y))
			paletted.SetColorIndex(x, y, uint8(random.IntN(len(pal))))
		}
	}
	out["RGBA"], out["RGBA64"], out["Paletted"] = rgba, rgba64, paletted
	inner := paletted.SubImage(image.Rect(r.Min.X, r.Min.Y+r.Dy()/3, r.Min.X+(r.Dx()+1)/2, r.Max.Y)).(*image.Paletted)
	out["framed"] = framed{inner, r}
	return out
}

// hidden keeps an image's kind from the reader, which then goes through At.
type hidden struct{ image.Image }

func TestFastReadersGiveWhatThePlainOneGives(t *testing.T) {
	paper := colour.Stored{R: 200, G: 120, B: 40}
	for _, r := range []image.Rectangle{
		image.Rect(0, 0, 37, 21), image.Rect(0, 0, 1, 1), image.Rect(0, 0, 33, 1), image.Rect(5, 3, 42, 24),
		image.Rect(-7, -4, 13, 9), image.Rect(3, 3, 4, 20),
	} {
		for name, img := range images(r) {
			if r.Min.X < 0 && strings.HasPrefix(name, "YCbCr") {
				continue // the standard library itself finds no chroma left of zero
			}
			t.Run(name+" "+r.String(), func(t *testing.T) {
				fast, err := New(img)
				require.NoError(t, err)
				plain, err := New(hidden{img})
				require.NoError(t, err)
				want, err := plain.RGB(context.Background(), Turn{}, paper)
				require.NoError(t, err)
				got, err := fast.RGB(context.Background(), Turn{}, paper)
				require.NoError(t, err)
				require.Equal(t, want, got)
				wantGrey, err := plain.Grey(context.Background(), Turn{}, paper)
				require.NoError(t, err)
				gotGrey, err := fast.Grey(context.Background(), Turn{}, paper)
				require.NoError(t, err)
				require.Equal(t, wantGrey, gotGrey)
			})
		}
	}
}

// A part of a larger image starts off the origin and has rows wider than itself.
func TestPartsOfLargerImages(t *testing.T) {
	part := image.Rect(7, 5, 29, 18)
	for name, img := range images(image.Rect(1, 2, 40, 30)) {
		if name == "framed" {
			continue // its parts are parts of the frame
		}
		sub := img.(interface {
			SubImage(image.Rectangle) image.Image
		}).SubImage(part)
		fast, err := New(sub)
		require.NoError(t, err)
		plain, err := New(hidden{sub})
		require.NoError(t, err)
		want, err := plain.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		got, err := fast.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		require.Equal(t, want, got, name)
		require.Equal(t, [2]int{22, 13}, [2]int{got.W, got.H})
	}
}

// Every stored byte of every channel, against the colour package's own numbers.
func TestGreyIsLuminanceInLinearLight(t *testing.T) {
	img := image.NewNRGBA(image.Rect(0, 0, 256, 64))
	for i := range 256 * 64 {
		img.Pix[4*i], img.Pix[4*i+1], img.Pix[4*i+2], img.Pix[4*i+3] = uint8(i), uint8(i*7+i>>8), uint8(255-i*3), 255
	}
	p, err := New(img)
	require.NoError(t, err)
	g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
	require.NoError(t, err)
	for i, v := range g.Pix {
		want := colour.Stored{R: img.Pix[4*i], G: img.Pix[4*i+1], B: img.Pix[4*i+2]}.Linear().Y() * 65535
		require.InDelta(t, want, v, 1.001) // each channel is rounded once, and the sum again
	}
}

func TestGreysKeepTheirValue(t *testing.T) {
	for v := range 65536 {
		require.EqualValues(t, v, rec709.luminance(uint16(v), uint16(v), uint16(v)))
	}
	require.EqualValues(t, weightOne, rec709[0]+rec709[1]+rec709[2])
}

// The 16-bit table and the 8-bit one agree where they meet, and 16 bits tell
// apart what 8 cannot. Source: IEC 61966-2-1:1999 by way of the colour package.
func TestSRGBCurve(t *testing.T) {
	table := srgbCurve()
	for v := range 256 {
		require.Equal(t, colour.DecodeByte16(uint8(v)), table[257*v])
	}
	for v := 1; v < 65536; v++ {
		require.GreaterOrEqual(t, table[v], table[v-1])
	}
	require.Greater(t, table[200*257+1], table[200*257])
	require.InDelta(t, colour.Decode(0.18)*65535, table[11796], 1) // 0.18 of 65535 is 11796.3
}

func TestTransparencyMixesInLinearLight(t *testing.T) {
	paper := colour.Stored{R: 255, G: 255, B: 255}
	for _, c := range []struct {
		name string
		px   color.NRGBA
		want float64
	}{
		{"clear", color.NRGBA{0, 0, 0, 0}, 1},
		{"black", color.NRGBA{0, 0, 0, 255}, 0},
		{"half black", color.NRGBA{0, 0, 0, 128}, 1 - 128.0/255}, // half the light, stored 187 and not 127
		{"a fifth of mid grey", color.NRGBA{118, 118, 118, 51}, 0.8 + 0.2*colour.DecodeByte(118)},
	} {
		t.Run(c.name, func(t *testing.T) {
			img := image.NewNRGBA(image.Rect(0, 0, 1, 1))
			img.SetNRGBA(0, 0, c.px)
			p, err := New(img)
			require.NoError(t, err)
			g, err := p.Grey(context.Background(), Turn{}, paper)
			require.NoError(t, err)
			require.InDelta(t, c.want*65535, g.Pix[0], 1)
		})
	}
}

func TestSixteenBitsSurviveThePNG(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 256, 4))
	for i := range 1024 {
		v := 50000 + i
		img.Pix[2*i], img.Pix[2*i+1] = byte(v>>8), byte(v)
	}
	p, g := greyOf(t, pngOf(t, img), Turn{})
	require.Equal(t, 16, p.Header().BitDepth)
	for i := 1; i < len(g.Pix); i++ {
		require.Greater(t, g.Pix[i], g.Pix[i-1], "every step of the file is a step of light")
	}
}

func TestTheNumberOfWorkersChangesNothing(t *testing.T) {
	p, err := New(images(image.Rect(0, 0, 90, 70))["YCbCr 420"])
	require.NoError(t, err)
	var first *plane.Grey16
	for _, workers := range []int{1, 2, 5} {
		before := runtime.GOMAXPROCS(workers)
		g, err := p.Grey(context.Background(), Turn{Quarters: 3}, colour.Stored{})
		runtime.GOMAXPROCS(before)
		require.NoError(t, err)
		if first == nil {
			first = g
		}
		require.Equal(t, first, g)
	}
}

// ending is an image that ends a context when its pixel `at` is read, and counts
// the pixels read from then on.
type ending struct {
	image.Image
	end    context.CancelFunc
	at     int64
	pixels atomic.Int64
}

func (e *ending) At(x, y int) color.Color {
	if e.pixels.Add(1) == e.at {
		e.end()
	}
	return e.Image.At(x, y)
}

// Each worker may finish the strip it is in, which takes some milliseconds.
func TestGreyStopsWithItsContext(t *testing.T) {
	img := image.NewGray(image.Rect(0, 0, 3000, 2000))
	for _, turn := range []Turn{{}, {Quarters: 1}} {
		ctx, cancel := context.WithCancel(context.Background())
		e := &ending{Image: img, end: cancel, at: 1000}
		p, err := New(e)
		require.NoError(t, err)
		_, err = p.Grey(ctx, turn, colour.Stored{})
		require.ErrorIs(t, err, context.Canceled)
		require.LessOrEqual(t, e.pixels.Load(), int64(runtime.GOMAXPROCS(0))*stripPixels+e.at)

		_, err = p.RGB(ctx, turn, colour.Stored{})
		require.ErrorIs(t, err, context.Canceled)
	}
}
