package proof

import (
	"context"
	"encoding/binary"
	"image"
	"sync"

	"undercoat/imaging/plane"
)

// source gives the light that falls on the pixels which are laid over a raster.
type source interface {
	// grid is the number of samples across a dot, in both directions.
	grid() int
	// pixels calls emit with each row of pixels, from the top down: red, green
	// and blue, summed over the samples that fall on a pixel, in linear light.
	// across and down are the pixels' edges, in samples from the upper left of
	// region. sums is cleared after emit.
	pixels(ctx context.Context, region image.Rectangle, across, down []edge, emit func(sums []sum)) error
}

// view is the picture that is filled from a source.
type view struct {
	img          *image.RGBA
	across, down []edge // of its pixels, in samples
	done         func() // called after each row of pixels
}

// fill averages over the pixels; bands of pixel rows go to the cores.
func (v view) fill(ctx context.Context, s source, region image.Rectangle) error {
	wide, tall := lengths(v.across), lengths(v.down)
	return plane.SplitRows(ctx, len(tall), func(ctx context.Context, v0, v1 int) error {
		row := v0
		return s.pixels(ctx, region, v.across, v.down[v0:v1+1], func(sums []sum) {
			pix := v.img.Pix[row*v.img.Stride:][:4*len(wide)]
			for p, s := range sums {
				f := 1 / (wide[p] * tall[row])
				binary.LittleEndian.PutUint32(pix[4*p:4*p+4], pack(float32(f*s.r), float32(f*s.g), float32(f*s.b)))
			}
			row++
			v.done()
		})
	})
}

// viewOf makes a picture of w x h pixels of a source's region.
func viewOf(ctx context.Context, s source, region image.Rectangle, w, h int, progress func(float64)) (*image.RGBA, error) {
	v := view{
		img:    image.NewRGBA(image.Rect(0, 0, w, h)),
		across: edges(s.grid()*region.Dx(), w),
		down:   edges(s.grid()*region.Dy(), h),
		done:   reporter(progress, h),
	}
	if err := v.fill(ctx, s, region); err != nil {
		return nil, err
	}
	return v.img, nil
}

// reporter counts finished rows from several cores and tells progress, never
// from two at once and never backwards.
func reporter(progress func(float64), rows int) func() {
	if progress == nil {
		return func() {}
	}
	var mu sync.Mutex
	done := 0
	return func() {
		mu.Lock()
		defer mu.Unlock()
		done++
		progress(float64(done) / float64(rows))
	}
}

// descent goes down the rows of samples beside the edges of the rows of pixels.
type descent struct {
	down  []edge
	pixel int // row of pixels that is being summed
	sums  []sum
	emit  func([]sum)
}

// row tells which parts of a row of samples, from the share a of its height to
// the share b, fall on one row of pixels, and hands rows of pixels on as they
// are full. The rows of samples must come in order.
func (d *descent) row(at int, part func(a, b float32)) {
	for d.pixel < len(d.down)-1 {
		start, end := d.down[d.pixel], d.down[d.pixel+1]
		if at < start.at {
			return
		}
		a := float32(0)
		if at == start.at {
			a = start.way
		}
		if at < end.at {
			part(a, 1)
			if end.at > at+1 || end.way > 0 {
				return
			}
		} else if end.way > a {
			part(a, end.way)
		}
		d.emit(d.sums)
		clear(d.sums)
		d.pixel++
	}
}

// rows is the rows of samples that the pixels lie on: first and one past the last.
func (d *descent) rows() (first, end int) {
	last := d.down[len(d.down)-1]
	return d.down[0].at, last.last() + 1
}
