package resample

import (
	"context"
	"runtime"
	"sync"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// A strip is so many rows as one core makes at a time: enough that those which it
// works out anew, above and below, are few beside its own.
const (
	stripDots  = 1 << 20
	leastStrip = 16
	mostStrip  = 256
)

// Stream is ToSize for rasters that are never held whole: take is given row after
// row, from the top down, and may use it until it returns. All cores make rows
// meanwhile, some strips ahead. alter, which may be nil, changes a row where it is
// made, so in several goroutines at once. The first error ends it.
//
// It needs some 4 MB a core, whatever the raster's height.
func Stream(ctx context.Context, src *plane.Grey16, crop layout.Crop, cols, rows int, alter func(row []uint16), take func(y int, row []uint16) error) error {
	r, err := newResizing(src, crop, cols, rows)
	if err != nil {
		return err
	}
	deep := min(max(stripDots/cols, leastStrip), mostStrip, rows)
	s := &stream{resizing: r, alter: alter, deep: deep}
	return s.run(ctx, take)
}

// stream is strips on their way from those who make them to the one who takes them.
type stream struct {
	resizing
	alter func(row []uint16)
	deep  int // rows of a strip; the last may have fewer
}

// strip is rows in the making. Its error comes when they are made.
type strip struct {
	y0, y1 int
	rows   *plane.Grey16
	made   chan error
}

func (s *stream) run(ctx context.Context, take func(y int, row []uint16) error) error {
	inner, cancel := context.WithCancel(ctx)
	var wg sync.WaitGroup
	defer wg.Wait()
	defer cancel()

	cores := runtime.GOMAXPROCS(0)
	height := len(s.down.first)
	todo := make(chan *strip, 2*cores) // has room for every strip there is
	for range min(cores, (height+s.deep-1)/s.deep) {
		wg.Go(func() {
			for p := range todo {
				p.made <- s.make(inner, p)
			}
		})
	}
	defer close(todo)

	var ahead []*strip // begun and not taken yet, in order
	begin := func(p *strip, y0 int) {
		p.y0, p.y1 = y0, min(y0+s.deep, height)
		ahead = append(ahead, p)
		todo <- p
	}
	next := 0
	for ; next < height && len(ahead) < cap(todo); next += s.deep {
		begin(&strip{rows: plane.NewGrey16(len(s.across.first), s.deep), made: make(chan error, 1)}, next)
	}
	for len(ahead) > 0 {
		p := ahead[0]
		ahead = ahead[1:]
		if err := <-p.made; err != nil {
			return ended(ctx, err)
		}
		for y := p.y0; y < p.y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := take(y, p.rows.Row(y-p.y0)); err != nil {
				return err
			}
		}
		if next < height {
			begin(p, next)
			next += s.deep
		}
	}
	return ctx.Err()
}

// ended is the context's own error where there is one.
func ended(ctx context.Context, err error) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return err
}

func (s *stream) make(ctx context.Context, p *strip) error {
	row := func(y int) []uint16 { return p.rows.Row(y - p.y0) }
	if err := s.rows(ctx, p.y0, p.y1, row); err != nil {
		return err
	}
	if s.alter != nil {
		for y := p.y0; y < p.y1; y++ {
			s.alter(row(y))
		}
	}
	return ctx.Err()
}
