package proof_test

import (
	"context"
	"fmt"
	"image"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

func exact(t testing.TB, r proof.Recipe, bits *plane.Bits, region image.Rectangle, w, h int) *image.RGBA {
	t.Helper()
	img, err := proof.Exact(context.Background(), r, burn.OneBit(bits), region, w, h, nil)
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, w, h), img.Rect)
	return img
}

// plainly is the exact proof done the slow way: the plain dose map, the plain
// look, every sample's share of every pixel.
func plainly(t testing.TB, r proof.Recipe, k int, bits *plane.Bits, region image.Rectangle, w, h int) []colour.Linear {
	t.Helper()
	m, err := r.Stack.Compile(r.Options)
	require.NoError(t, err)
	pixels := make([]colour.Linear, w*h)
	columns, rows := k*region.Dx(), k*region.Dy()
	overlap := func(sample, samples, pixel, count int) float64 { // in parts of the pixel
		a := math.Max(float64(sample)/float64(samples), float64(pixel)/float64(count))
		b := math.Min(float64(sample+1)/float64(samples), float64(pixel+1)/float64(count))
		return math.Max(0, b-a) * float64(count)
	}
	err = burn.Expose(context.Background(), r.Machine, r.Setting, 1, burn.OneBit(bits), region, k, func(row int, doses []float32) error {
		for y := range h {
			down := overlap(row, rows, y, h)
			for column, d := range doses {
				for x := 0; down > 0 && x < w; x++ {
					if share := down * overlap(column, columns, x, w); share > 0 {
						pixels[y*w+x] = pixels[y*w+x].Add(m.Look(float64(d)).Scale(share))
					}
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
	return pixels
}

func requireNear(t testing.TB, want []colour.Linear, img *image.RGBA, codes float64) {
	t.Helper()
	for i, l := range want {
		x, y := i%img.Rect.Dx(), i/img.Rect.Dx()
		w, got := l.Stored(), at(img, x, y)
		far := max(math.Abs(float64(w.R)-float64(got.R)), math.Abs(float64(w.G)-float64(got.G)), math.Abs(float64(w.B)-float64(got.B)))
		require.LessOrEqual(t, far, codes, "pixel %d, %d: want %s, got %s", x, y, w, got)
	}
}

func TestExactAgainstThePlainWay(t *testing.T) {
	bits := dots(t, picture(61, 47), screen.Options{})
	for _, beam := range []layout.MM{0.06, 0.08, 0.3} {
		for _, c := range []struct {
			region image.Rectangle
			w, h   int
		}{
			{image.Rect(0, 0, 61, 47), 20, 15},
			{image.Rect(0, 0, 61, 47), 61, 47},
			{image.Rect(17, 9, 40, 30), 7, 5},
			{image.Rect(17, 9, 24, 13), 90, 50}, // finer than samples
			{image.Rect(3, 2, 12, 40), 20, 3},
			{image.Rect(60, 46, 61, 47), 1, 1},
			{image.Rect(0, 20, 61, 21), 13, 1},
			{image.Rect(30, 0, 31, 47), 1, 11},
		} {
			t.Run(fmt.Sprintf("beam %.2f %v to %dx%d", beam, c.region, c.w, c.h), func(t *testing.T) {
				r := recipe(threeCoats())
				r.Machine.BeamAlong, r.Machine.BeamAcross = beam, beam*1.2
				r.Grid = 4
				img := exact(t, r, bits, c.region, c.w, c.h)
				requireNear(t, plainly(t, r, 4, bits, c.region, c.w, c.h), img, 1)
			})
		}
	}
}

// Source: IEC 61966-2-1:1999: half black, half white is code 188 in linear light.
func TestExactAveragesInLinearLight(t *testing.T) {
	s := darkOnLight()
	s.Coats[0].Colour, s.Ground.Colour = colour.Stored{}, colour.Stored{R: 255, G: 255, B: 255}
	s.Curve = coat.Curve{Points: []coat.Point{{DoseJCM2: 5}, {DoseJCM2: 50, DepthUM: 25}}, Spread: []float64{0}}
	r := recipe(s)
	// Wide bands: burned well past the step on one half, not at all on the other.
	bits := plane.NewBits(400, 8)
	for y := range 8 {
		for x := range 200 {
			bits.Set(x, y)
		}
	}
	r.Machine.BeamAlong, r.Machine.BeamAcross = 0.02, 0.16
	img := exact(t, r, bits, image.Rect(0, 3, 400, 5), 1, 1)
	require.InDelta(t, 188, at(img, 0, 0).G, 1)
}

func TestExactDoesNotDependOnTheCores(t *testing.T) {
	bits := dots(t, picture(300, 200), screen.Options{})
	for _, beam := range []layout.MM{0.08, 0.3} {
		r := recipe(threeCoats())
		r.Machine.BeamAlong, r.Machine.BeamAcross = beam, beam
		want := exact(t, r, bits, whole(bits), 131, 87)
		for _, cores := range []int{1, 3, 7} {
			before := runtime.GOMAXPROCS(cores)
			got := exact(t, r, bits, whole(bits), 131, 87)
			runtime.GOMAXPROCS(before)
			require.Equal(t, want.Pix, got.Pix)
		}
	}
}

func TestExactOfAPartIsThePartOfTheExact(t *testing.T) {
	bits := dots(t, picture(200, 160), screen.Options{})
	r := recipe(threeCoats())
	all := exact(t, r, bits, whole(bits), 50, 40)
	part := exact(t, r, bits, image.Rect(40, 80, 120, 160), 20, 20)
	for y := range 20 {
		for x := range 20 {
			require.Equal(t, at(all, x+10, y+20), at(part, x, y))
		}
	}
}

func TestExactReportsAndStops(t *testing.T) {
	bits := dots(t, picture(400, 300), screen.Options{})
	r := recipe(threeCoats())
	var told []float64
	_, err := proof.Exact(context.Background(), r, burn.OneBit(bits), whole(bits), 100, 75, func(f float64) { told = append(told, f) })
	require.NoError(t, err)
	require.Len(t, told, 75)
	for i, f := range told {
		require.InDelta(t, float64(i+1)/75, f, 1e-12)
	}
	for _, beam := range []layout.MM{0.08, 0.3} {
		r.Machine.BeamAlong, r.Machine.BeamAcross = beam, beam
		ctx, cancel := context.WithCancel(context.Background())
		_, err = proof.Exact(ctx, r, burn.OneBit(bits), whole(bits), 100, 75, func(f float64) {
			if f > 0.2 {
				cancel()
			}
		})
		require.ErrorIs(t, err, context.Canceled)
	}
}

func TestExactRefuses(t *testing.T) {
	bits := plane.NewBits(10, 10)
	for name, c := range map[string]struct {
		region image.Rectangle
		w, h   int
		grid   int
		want   string
	}{
		"outside":  {image.Rect(5, 5, 11, 9), 5, 5, 0, "does not lie within the raster of 10 x 10 dots"},
		"empty":    {image.Rect(5, 5, 5, 9), 5, 5, 0, "does not lie within"},
		"no view":  {image.Rect(0, 0, 10, 10), 0, 5, 0, "view of 0 x 5"},
		"too wide": {image.Rect(0, 0, 10, 10), 20000, 5, 0, "view of 20000 x 5"},
		"grid":     {image.Rect(0, 0, 10, 10), 5, 5, -1, "grid -1"},
	} {
		t.Run(name, func(t *testing.T) {
			r := recipe(threeCoats())
			r.Grid = c.grid
			_, err := proof.Exact(context.Background(), r, burn.OneBit(bits), c.region, c.w, c.h, nil)
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestExactWithoutADotIsTheTopCoat(t *testing.T) {
	s := threeCoats()
	img := exact(t, recipe(s), plane.NewBits(30, 20), image.Rect(0, 0, 30, 20), 6, 4)
	for y := range 4 {
		for x := range 6 {
			require.Equal(t, s.Coats[0].Colour, at(img, x, y))
		}
	}
}
