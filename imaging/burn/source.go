package burn

import (
	"fmt"

	"undercoat/imaging/plane"
)

// Source is a raster as the laser sees it. It may be read from several
// goroutines at once.
type Source interface {
	// Size is the raster's size in dots.
	Size() (w, h int)
	// ShareRow writes the share of the setting's light at which each dot of row y
	// burns, 0..1, into into, which has the raster's width.
	ShareRow(y int, into []float32)
}

// OneBit is a raster that burns or does not: share 1 or 0.
func OneBit(dots *plane.Bits) Source { return oneBit{dots} }

// Dots is the raster that OneBit was given; false for any other source.
func Dots(src Source) (*plane.Bits, bool) {
	b, ok := src.(oneBit)
	return b.Bits, ok
}

type oneBit struct{ *plane.Bits }

func (b oneBit) Size() (w, h int) { return b.W, b.H }

func (b oneBit) ShareRow(y int, into []float32) {
	row := b.Row(y)
	for x := range into {
		into[x] = float32(row[x>>3] >> (7 - x&7) & 1)
	}
}

// EightBit is a raster with power for each dot. shares are in 1/65535; a machine
// is handed eight bits, so they are rounded to the nearest of 256 steps.
func EightBit(shares *plane.Grey16) Source { return eightBit{shares} }

type eightBit struct{ *plane.Grey16 }

func (g eightBit) Size() (w, h int) { return g.W, g.H }

func (g eightBit) ShareRow(y int, into []float32) {
	for x, v := range g.Row(y) {
		into[x] = float32((uint32(v)+128)/257) / 255
	}
}

// Step is one raster of several burned over each other, at a share of the
// setting's light, above 0 and up to 1.
type Step struct {
	Dots  *plane.Bits
	Share float64
}

// Steps is several one-bit rasters of one size burned over each other, each with
// its own power; what a dot gets is the sum. No step, rasters of different sizes
// and shares out of range are errors.
func Steps(all ...Step) (Source, error) {
	if len(all) == 0 {
		return nil, fmt.Errorf("no steps to burn: give at least one")
	}
	w, h := all[0].Dots.W, all[0].Dots.H
	for i, s := range all {
		if s.Dots.W != w || s.Dots.H != h {
			return nil, fmt.Errorf("step %d is %d x %d dots and step 1 is %d x %d: make all steps of one size", i+1, s.Dots.W, s.Dots.H, w, h)
		}
		if !(s.Share > 0 && s.Share <= 1) {
			return nil, fmt.Errorf("step %d has a share %g of the light: give above 0 and up to 1", i+1, s.Share)
		}
	}
	return steps(all), nil
}

type steps []Step

func (s steps) Size() (w, h int) { return s[0].Dots.W, s[0].Dots.H }

func (s steps) ShareRow(y int, into []float32) {
	clear(into)
	for _, step := range s {
		row, share := step.Dots.Row(y), float32(step.Share)
		for x := range into {
			if row[x>>3]&(0x80>>(x&7)) != 0 {
				into[x] += share
			}
		}
	}
}
