package screen

import (
	"context"
	"fmt"
	"strings"

	"undercoat/imaging/plane"
)

// Kind names a screen; the empty Kind reads as FloydSteinberg.
type Kind string

// FloydSteinberg diffuses each dot's error to four neighbours.
const FloydSteinberg Kind = "floyd-steinberg"

// Options choose a screen. The zero value is Floyd-Steinberg, every second row
// from right to left.
type Options struct {
	Kind Kind
	// OneWay runs every row from left to right. It gives the textbook order of
	// the dots, and slanting worms in even tints.
	OneWay bool
	// Seed is for kinds with chance in them; Floyd-Steinberg has none.
	Seed uint64
}

// Validate refuses an unknown kind.
func (o Options) Validate() error {
	_, err := New(0, o)
	return err
}

// Screener screens one raster row after row, from the top down.
type Screener interface {
	// Row screens the next row. tints holds one value a dot; dots, of
	// (width+7)/8 bytes, is overwritten, the first dot in the most significant
	// bit, the bits past the last dot 0.
	Row(tints []uint16, dots []byte)
}

// screens is every kind there is, in the order they are shown.
var screens = []struct {
	kind Kind
	make func(width int, o Options) Screener
}{
	{FloydSteinberg, newFloydSteinberg},
}

// Kinds lists the screens, the usual one first.
func Kinds() []Kind {
	kinds := make([]Kind, len(screens))
	for i, s := range screens {
		kinds[i] = s.kind
	}
	return kinds
}

// New starts a screen for a raster of the given width in dots, at least 0. An
// unknown kind is an error.
func New(width int, o Options) (Screener, error) {
	if width < 0 {
		return nil, fmt.Errorf("raster width %d is less than 0 dots: give 0 or more", width)
	}
	if o.Kind == "" {
		o.Kind = FloydSteinberg
	}
	for _, s := range screens {
		if s.kind == o.Kind {
			return s.make(width, o), nil
		}
	}
	return nil, fmt.Errorf("unknown screen %q: choose one of %s", o.Kind, names())
}

// Screen turns tints (0..65535, the share of 65535 that shall burn) into dots of
// the same width and height. It fails for an unknown kind, and stops within a
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

func names() string {
	var list []string
	for _, k := range Kinds() {
		list = append(list, string(k))
	}
	return strings.Join(list, ", ")
}
