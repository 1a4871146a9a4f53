package proof_test

import (
	"context"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/proof"
)

func grey(w, h int, code func(x, y int) uint8) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			c := code(x, y)
			copy(img.Pix[y*img.Stride+4*x:], []uint8{c, c, c, 255})
		}
	}
	return img
}

func distant(t testing.TB, img *image.RGBA, pixelMM, distanceMM float64) *image.RGBA {
	t.Helper()
	out, err := proof.Distant(context.Background(), img, pixelMM, distanceMM)
	require.NoError(t, err)
	require.Equal(t, img.Rect.Size(), out.Rect.Size())
	return out
}

// Source: one arc minute at 500 mm is 0.145444 mm; half of it is the deviation.
func TestEyeSigma(t *testing.T) {
	require.InDelta(t, 0.145444/2, proof.EyeSigmaMM(500), 1e-6)
	require.InDelta(t, 0.581776/2, proof.EyeSigmaMM(2000), 1e-6)
}

// Source: IEC 61966-2-1:1999: half black, half white is code 188 in linear light.
func TestDotsMergeInLinearLight(t *testing.T) {
	checks := grey(60, 50, func(x, y int) uint8 { return uint8((x + y) % 2 * 255) })
	const rim = 12 // the blur reaches 4 deviations of 2.7 pixels
	far := distant(t, checks, 0.08, 1500)
	for y := rim; y < 50-rim; y++ {
		for x := rim; x < 60-rim; x++ {
			require.InDelta(t, 188, at(far, x, y).G, 1)
		}
	}
	near := distant(t, checks, 0.08, 20)
	require.Equal(t, checks.Pix, near.Pix, "from close by nothing merges")
}

func TestBlurIsAGaussian(t *testing.T) {
	const side, middle = 101, 50
	point := grey(side, side, func(x, y int) uint8 {
		if x == middle && y == middle {
			return 255
		}
		return 0
	})
	sigmaPixels := 1.3
	img := distant(t, point, proof.EyeSigmaMM(1000)/sigmaPixels, 1000)
	for d := range 4 {
		want := math.Exp(-float64(d*d)/(2*sigmaPixels*sigmaPixels)) / (2 * math.Pi * sigmaPixels * sigmaPixels)
		require.InDelta(t, want, colour.DecodeByte(at(img, middle+d, middle).G), 0.006, "%d pixels away", d)
		require.Equal(t, at(img, middle+d, middle), at(img, middle, middle-d))
	}
}

func TestBlurKeepsAnEvenPicture(t *testing.T) {
	for _, size := range []image.Point{{}, {X: 1, Y: 1}, {X: 30, Y: 1}, {X: 1, Y: 30}, {X: 20, Y: 10}} {
		img := grey(size.X, size.Y, func(int, int) uint8 { return 77 })
		require.Equal(t, img.Pix, distant(t, img, 0.1, 3000).Pix, "%v", size)
	}
}

func TestDistantOfAPart(t *testing.T) {
	img := grey(40, 30, func(x, y int) uint8 { return uint8(5 * x) })
	part := img.SubImage(image.Rect(10, 5, 30, 25)).(*image.RGBA)
	alone := grey(20, 20, func(x, y int) uint8 { return uint8(5 * (x + 10)) })
	require.Equal(t, distant(t, alone, 0.1, 1000).Pix, distant(t, part, 0.1, 1000).Pix)
}

func TestDistantRefusesAndStops(t *testing.T) {
	img := grey(4, 4, func(int, int) uint8 { return 9 })
	for _, bad := range [][2]float64{{0, 500}, {-1, 500}, {math.NaN(), 500}, {0.1, -1}, {0.1, math.NaN()}, {0.1, math.Inf(1)}} {
		_, err := proof.Distant(context.Background(), img, bad[0], bad[1])
		require.ErrorContains(t, err, "out of range")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err := proof.Distant(ctx, img, 0.1, 500)
	require.ErrorIs(t, err, context.Canceled)
}
