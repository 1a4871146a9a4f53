package main

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gomedium"

	"undercoat/imaging/colour"
)

func TestTheSamePictureOnEveryRun(t *testing.T) {
	once, again := drawDemo(0.08).(*image.RGBA), drawDemo(0.08).(*image.RGBA)
	require.Equal(t, image.Rect(0, 0, 246, 328), once.Bounds())
	require.True(t, bytes.Equal(once.Pix, again.Pix))
	require.Equal(t, drawIcon(iconSize), drawIcon(iconSize))
}

func TestBuiltInIconIsTheDrawnOne(t *testing.T) {
	data, err := os.ReadFile("../icon.png")
	require.NoError(t, err)
	got, err := png.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	want := drawIcon(iconSize).(*image.NRGBA)
	require.Equal(t, want.Bounds(), got.Bounds())
	requireClose(t, want.Pix, got.(*image.NRGBA).Pix, 2)
}

func TestBuiltInPictureIsTheDrawnOne(t *testing.T) {
	data, err := os.ReadFile("../demo.jpg")
	require.NoError(t, err)
	full, err := jpeg.Decode(bytes.NewReader(data))
	require.NoError(t, err)
	// Drawn small, against the built-in one averaged over the same cells. Fine
	// lines weigh differently at another size, so the mean is what is held.
	const cell = 32
	small := drawDemo(1.0 / cell).(*image.RGBA)
	var off float64
	for y := range small.Rect.Dy() {
		for x := range small.Rect.Dx() {
			var sum float64
			for dy := 2; dy < cell; dy += 4 {
				for dx := 2; dx < cell; dx += 4 {
					r, g, b, _ := full.At(x*cell+dx, y*cell+dy).RGBA()
					sum += float64(r+g+b) / 3 / 257
				}
			}
			i := small.PixOffset(x, y)
			drawn := (float64(small.Pix[i]) + float64(small.Pix[i+1]) + float64(small.Pix[i+2])) / 3
			off += math.Abs(sum/(cell*cell/16) - drawn)
		}
	}
	t.Logf("mean difference %.2f", off/float64(small.Rect.Dx()*small.Rect.Dy()))
	require.Less(t, off/float64(small.Rect.Dx()*small.Rect.Dy()), 6.0, "code values, mean over the picture")
}

// requireClose allows for rounding that differs between processors.
func requireClose(t *testing.T, want, got []byte, tolerance int) {
	t.Helper()
	require.Len(t, got, len(want))
	for i := range want {
		if d := int(want[i]) - int(got[i]); d > tolerance || d < -tolerance {
			t.Fatalf("byte %d: want %d, got %d", i, want[i], got[i])
		}
	}
}

func TestRunWritesWhatIsAskedFor(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, run(dir, 0.02, "", false))
	require.FileExists(t, filepath.Join(dir, "demo.jpg"))
	require.FileExists(t, filepath.Join(dir, "icon.png"))
	require.NoError(t, run(dir, 0.02, "demo", true))
	require.FileExists(t, filepath.Join(dir, "demo.png"))
	for _, scale := range []float64{0, -1, 3, math.NaN()} {
		require.ErrorContains(t, run(dir, scale, "", false), "scale")
	}
	require.ErrorContains(t, run(dir, 1, "both", false), "demo, icon or desktop")
	require.Error(t, run(filepath.Join(dir, "none"), 0.02, "demo", false))
}

func TestNoiseStaysInItsRange(t *testing.T) {
	for i := range 20_000 {
		x, y := float64(i)*0.137-900, float64(i%331)*0.291-40
		require.InDelta(t, 0, noise(7).at(x, y), 1.1)
		require.InDelta(t, 0, noise(7).sum(x, y, 6), 1.1)
		r := noise(7).ridges(x, y, 5)
		require.True(t, r >= 0 && r <= 1, r)
		tone, edge := noise(7).facets(x, y)
		require.True(t, tone >= 0 && tone <= 1 && edge >= 0, "%v %v", tone, edge)
	}
	require.Zero(t, noise(7).at(3, -5), "0 on the lattice")
	require.NotEqual(t, noise(7).at(0.4, 0.4), noise(8).at(0.4, 0.4))
}

func TestEdgesAreSmoothedInLinearLight(t *testing.T) {
	c := newCanvas(0, 0, 2, 1, 1)
	c.each(0, 1, flat(colour.Linear{}))
	c.fill(flat(hex("#ffffff")), rect(0.5, 0, 2, 1))
	require.InDelta(t, 0.5, c.pix[0], 0.003, "half covered is half the light")
	require.InDelta(t, 1, c.pix[4], 1e-6)
}

func TestALineHasItsWidthAtEverySlope(t *testing.T) {
	for _, end := range []point{{80, 50}, {50, 80}, {20, 50}, {50, 20}, {70, 70}, {30, 70}} {
		c := newCanvas(0, 0, 100, 100, 1)
		c.line(flat(hex("#ffffff")), 1.5, point{50, 50}, end)
		var area float64
		for i := 3; i < len(c.pix); i += 4 {
			area += float64(c.pix[i])
		}
		require.InEpsilon(t, 1.5*math.Hypot(end.x-50, end.y-50), area, 0.02, end)
	}
}

func TestLettersStandOnTheirLine(t *testing.T) {
	outlines := letters(gomedium.TTF, "TH", 100, 0, func(p point) point { return p })
	b := bounds(outlines)
	require.InDelta(t, 0, b.y1, 0.5, "feet on the baseline")
	require.Less(t, b.y0, -60.0, "and upright")
	require.Greater(t, textWidth(gomedium.TTF, "THTH", 100, 0), 1.8*b.x1)
}
