package proof

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"sync"

	"undercoat/imaging/plane"
)

// maxViewSide bounds the pictures that a proof is asked for, in pixels.
const maxViewSide = 16384

// Exact is the proof of the very dots of region, cut out of the raster bits, as
// a picture of viewW x viewH pixels: each dot exposed with its neighbours, shown
// through, and averaged over the pixel in linear light by the exact share of
// area. It goes through the rows once and needs no more memory than some rows. The
// same input gives the same bytes on any number of cores. progress is told the
// share that is done, and may be nil.
func Exact(ctx context.Context, r Recipe, bits *plane.Bits, region image.Rectangle, viewW, viewH int, progress func(float64)) (*image.RGBA, error) {
	if err := checkView(r, bits, region, viewW, viewH); err != nil {
		return nil, err
	}
	model, err := r.Stack.Compile(r.Options)
	if err != nil {
		return nil, err
	}
	table := model.Table()
	f, err := newField(ctx, r, bits, table, viewW <= region.Dx() && viewH <= region.Dy(), r.grid())
	if err != nil {
		return nil, err
	}
	return average(ctx, f, region, viewW, viewH, progress)
}

func checkView(r Recipe, bits *plane.Bits, region image.Rectangle, viewW, viewH int) error {
	if err := r.Validate(); err != nil {
		return err
	}
	if region.Empty() || !region.In(image.Rect(0, 0, bits.W, bits.H)) {
		return fmt.Errorf("region %v does not lie within the raster of %d x %d dots: choose a part of it", region, bits.W, bits.H)
	}
	return checkViewSize(viewW, viewH)
}

func checkViewSize(viewW, viewH int) error {
	if viewW < 1 || viewH < 1 || viewW > maxViewSide || viewH > maxViewSide {
		return fmt.Errorf("view of %d x %d pixels is out of range: ask for 1 to %d a side", viewW, viewH, maxViewSide)
	}
	return nil
}

// average lays the pixels over the field; bands of pixel rows go to the cores.
func average(ctx context.Context, f field, region image.Rectangle, viewW, viewH int, progress func(float64)) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, viewW, viewH))
	across := overlaps(f.grid()*region.Dx(), viewW)
	down := overlaps(f.grid()*region.Dy(), viewH)
	if err := fillBands(ctx, f, region, across, down, img, reporter(progress, viewH)); err != nil {
		return nil, err
	}
	return img, nil
}

// fillBands shares the pixel rows of img out; done is called after each.
func fillBands(ctx context.Context, f field, region image.Rectangle, across, down []overlap, img *image.RGBA, done func()) error {
	return plane.SplitRows(ctx, len(down), func(ctx context.Context, v0, v1 int) error {
		b := band{f: f, img: img, across: across, down: down[v0:v1], top: v0, done: done}
		return b.fill(ctx, region)
	})
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

// band is the pixel rows top..top+len(down)-1 of the picture.
type band struct {
	f      field
	img    *image.RGBA
	across []overlap
	down   []overlap
	top    int
	done   func()

	line  [][3]float32 // one row of points, averaged to pixels
	sums  [][3]float64 // the pixel row that is being filled
	pixel int          // its number in down
}

func (b *band) fill(ctx context.Context, region image.Rectangle) error {
	k := b.f.grid()
	first, last := b.down[0].first, b.down[len(b.down)-1].last
	part := region
	part.Min.Y = region.Min.Y + first/k
	part.Max.Y = region.Min.Y + last/k + 1
	skipped := first / k * k
	b.line = make([][3]float32, len(b.across))
	b.sums = make([][3]float64, len(b.across))
	return b.f.rows(ctx, part, func(row int, looks [][3]float32) error {
		if row += skipped; row >= first && row <= last {
			averageRow(b.across, looks, b.line)
			b.take(row)
		}
		return nil
	})
}

// take adds the line to every pixel row that the row of points lies on.
func (b *band) take(row int) {
	for b.pixel < len(b.down) {
		o := b.down[b.pixel]
		if row < o.first {
			return
		}
		weight := o.weight(row)
		for i, l := range b.line {
			s := &b.sums[i]
			s[0] += weight * float64(l[0])
			s[1] += weight * float64(l[1])
			s[2] += weight * float64(l[2])
		}
		if row < o.last {
			return
		}
		b.write()
		b.pixel++
	}
}

// write stores the finished pixel row and starts the next.
func (b *band) write() {
	pix := b.img.Pix[(b.top+b.pixel)*b.img.Stride:][:4*len(b.sums)]
	for p, s := range b.sums {
		binary.LittleEndian.PutUint32(pix[4*p:], pack(float32(s[0]), float32(s[1]), float32(s[2])))
	}
	clear(b.sums)
	b.done()
}
