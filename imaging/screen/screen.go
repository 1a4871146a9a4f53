package screen

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
)

// Screener screens one raster row after row, from the top down. None needs to see
// rows ahead: a row's dots are there as soon as its tints are.
type Screener interface {
	// Row screens the next row. tints holds one value a dot; dots, of
	// (width+7)/8 bytes, is overwritten, the first dot in the most significant
	// bit, the bits past the last dot 0.
	Row(tints []uint16, dots []byte)
}

// New starts a screen for a raster of the given width in dots, at least 0. Options
// out of range are an error.
func New(width int, o Options) (Screener, error) {
	if width < 0 {
		return nil, fmt.Errorf("raster width %d is less than 0 dots: give 0 or more", width)
	}
	if err := o.Validate(); err != nil {
		return nil, err
	}
	return o.Kind.entry().make(width, o), nil
}

// Screen turns tints (0..65535, the share of 65535 that shall burn) into dots of
// the same width and height. It fails for options out of range, and stops within a
// row when ctx ends.
func Screen(ctx context.Context, tints *plane.Grey16, o Options) (*plane.Bits, error) {
	s, err := New(tints.W, o)
	if err != nil {
		return nil, err
	}
	dots := plane.NewBits(tints.W, tints.H)
	for y := range tints.H {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		s.Row(tints.Row(y), dots.Row(y))
	}
	return dots, ctx.Err()
}
