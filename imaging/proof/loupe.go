package proof

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"image/draw"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/plane"
)

// Window is a part of a raster in dots, with fractions, from its upper left
// corner. It may reach past the raster.
type Window struct{ X, Y, W, H float64 }

const maxWindowSide = 100_000

func (w Window) validate() error {
	for _, v := range []float64{w.X, w.Y} {
		if !(math.Abs(v) <= maxWindowSide) {
			return fmt.Errorf("window corner %g, %g is out of range: give up to %d dots", w.X, w.Y, maxWindowSide)
		}
	}
	if !(w.W > 0.01 && w.H > 0.01 && w.W <= maxWindowSide && w.H <= maxWindowSide) {
		return fmt.Errorf("window of %g x %g dots is out of range: give 0.01 to %d a side", w.W, w.H, maxWindowSide)
	}
	return nil
}

// Loupe is the exact proof of a window, at any magnification, down to parts of a
// dot, as a picture of viewW x viewH pixels. What lies past the raster is the
// untouched top coat.
func Loupe(ctx context.Context, r Recipe, raster burn.Source, w Window, viewW, viewH int) (*image.RGBA, error) {
	cols, rows := raster.Size()
	if err := checkView(r, raster, image.Rect(0, 0, cols, rows), viewW, viewH); err != nil {
		return nil, err
	}
	if err := w.validate(); err != nil {
		return nil, err
	}
	model, err := r.Stack.Compile(r.Options)
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, viewW, viewH))
	draw.Draw(img, img.Rect, image.NewUniform(untouched(r)), image.Point{}, draw.Src)
	inside, part := w.inRaster(cols, rows, viewW, viewH)
	if inside.Empty() {
		return img, nil
	}
	l := loupe{recipe: r, raster: raster, table: model.Table(), part: part, img: img.SubImage(inside).(*image.RGBA)}
	if perDot := float64(inside.Dx()) / part.W; perDot >= MaxGrid {
		return img, l.magnify(ctx)
	}
	return img, l.average(ctx)
}

// inRaster is the pixels of the view that lie on the raster, and their window.
func (w Window) inRaster(cols, rows, viewW, viewH int) (image.Rectangle, Window) {
	perX, perY := float64(viewW)/w.W, float64(viewH)/w.H
	pixels := image.Rect(
		int(math.Ceil(max(0, -w.X*perX))), int(math.Ceil(max(0, -w.Y*perY))),
		int(math.Floor(min(float64(viewW), (float64(cols)-w.X)*perX+1e-9))),
		int(math.Floor(min(float64(viewH), (float64(rows)-w.Y)*perY+1e-9))),
	)
	if pixels.Empty() {
		return image.Rectangle{}, Window{}
	}
	return pixels, Window{
		X: w.X + float64(pixels.Min.X)/perX, Y: w.Y + float64(pixels.Min.Y)/perY,
		W: float64(pixels.Dx()) / perX, H: float64(pixels.Dy()) / perY,
	}
}

// loupe draws a window that lies within the raster onto all of img.
type loupe struct {
	recipe Recipe
	raster burn.Source
	table  *coat.LookTable
	part   Window
	img    *image.RGBA
}

// region is the dots that the window touches, and margin more on every side.
func (l loupe) region(margin int) image.Rectangle {
	return image.Rect(
		int(math.Floor(l.part.X))-margin, int(math.Floor(l.part.Y))-margin,
		int(math.Ceil(l.part.X+l.part.W))+margin, int(math.Ceil(l.part.Y+l.part.H))+margin,
	).Intersect(image.Rectangle{Max: image.Pt(l.raster.Size())})
}

// average is for windows whose pixels are larger than the finest samples.
func (l loupe) average(ctx context.Context) error {
	w, h := l.img.Rect.Dx(), l.img.Rect.Dy()
	perDot := max(float64(w)/l.part.W, float64(h)/l.part.H)
	// As many samples as pixels, and two a dot at least: at a quarter and three
	// quarters of the pitch the ripple of the lines cancels in the mean.
	k := min(MaxGrid, max(2, int(math.Ceil(perDot))))
	if l.recipe.Grid == 0 {
		k = min(k, max(2, l.recipe.grid()))
	}
	region := l.region(0)
	s, err := newSource(ctx, l.recipe, l.raster, region, l.table, perDot > 1, k)
	if err != nil {
		return err
	}
	n := s.grid()
	v := view{
		img:    l.img,
		across: edgesWithin((l.part.X-float64(region.Min.X))*float64(n), l.part.W*float64(n), n*region.Dx(), w),
		down:   edgesWithin((l.part.Y-float64(region.Min.Y))*float64(n), l.part.H*float64(n), n*region.Dy(), h),
		done:   func() {},
	}
	return v.fill(ctx, s, region)
}

// magnify is for windows whose pixels are finer than the finest samples: the
// dose runs straight between samples, the look follows it.
func (l loupe) magnify(ctx context.Context) error {
	region := l.region(1)
	exposer, err := l.recipe.exposer(MaxGrid)
	if err != nil {
		return err
	}
	dw, dh := MaxGrid*region.Dx(), MaxGrid*region.Dy()
	doses := make([]float32, 0, dw*dh)
	full := float32(l.recipe.FullDose())
	err = exposer.Expose(ctx, l.raster, region, nil, func(_ int, shares []float32) error {
		for _, share := range shares {
			doses = append(doses, share*full)
		}
		return nil
	})
	if err != nil {
		return err
	}
	w, h := l.img.Rect.Dx(), l.img.Rect.Dy()
	across := l.samples(l.part.X-float64(region.Min.X), l.part.W/float64(w), dw, w)
	down := l.samples(l.part.Y-float64(region.Min.Y), l.part.H/float64(h), dh, h)
	return plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			a, b := doses[down[y].low*dw:][:dw], doses[down[y].high*dw:][:dw]
			pix := l.img.Pix[y*l.img.Stride:]
			for x, s := range across {
				upper := a[s.low] + s.f*(a[s.high]-a[s.low])
				lower := b[s.low] + s.f*(b[s.high]-b[s.low])
				binary.LittleEndian.PutUint32(pix[4*x:], pack(l.table.At(upper+down[y].f*(lower-upper))))
			}
		}
		return nil
	})
}

// pair is the two samples about the middle of a pixel.
type pair struct {
	low, high int
	f         float32 // way from low to high
}

// samples lists them for pixels of step dots from start on; n samples in all.
func (l loupe) samples(start, step float64, n, pixels int) []pair {
	all := make([]pair, pixels)
	for p := range all {
		at := (start+(float64(p)+0.5)*step)*MaxGrid - 0.5
		low := math.Floor(at)
		all[p] = pair{
			low:  min(n-1, max(0, int(low))),
			high: min(n-1, max(0, int(low)+1)),
			f:    float32(at - low),
		}
	}
	return all
}
