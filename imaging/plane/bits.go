package plane

import (
	"image"
	"math/bits"
)

// Bits is a one-bit raster: a dot is burned where its bit is 1. A row starts on
// a byte, the first dot is the most significant bit, and the bits past the last
// dot of a row are 0.
type Bits struct {
	W, H   int
	Stride int // bytes a row
	Pix    []byte
}

// NewBits makes a raster with no dot burned; w and h are at least 0.
func NewBits(w, h int) *Bits {
	stride := (w + 7) / 8
	return &Bits{W: w, H: h, Stride: stride, Pix: make([]byte, stride*h)}
}

// At tells whether the dot (x, y) burns; it must lie inside the raster.
func (b *Bits) At(x, y int) bool { return b.Pix[y*b.Stride+x>>3]&(0x80>>(x&7)) != 0 }

// Set makes the dot (x, y) burn; it must lie inside the raster.
func (b *Bits) Set(x, y int) { b.Pix[y*b.Stride+x>>3] |= 0x80 >> (x & 7) }

// Row is the packed row y; writing to it writes to the raster.
func (b *Bits) Row(y int) []byte { return b.Pix[y*b.Stride : (y+1)*b.Stride : (y+1)*b.Stride] }

// Count is the number of burned dots.
func (b *Bits) Count() int {
	n := 0
	for _, v := range b.Pix {
		n += bits.OnesCount8(v)
	}
	return n
}

// CountRect is the number of burned dots inside r, cut to the raster.
func (b *Bits) CountRect(r image.Rectangle) int {
	r = r.Intersect(image.Rect(0, 0, b.W, b.H))
	if r.Empty() {
		return 0
	}
	first, last := r.Min.X>>3, (r.Max.X-1)>>3
	head, tail := byte(0xff)>>(r.Min.X&7), byte(0xff)<<(7-(r.Max.X-1)&7)
	n := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		row := b.Row(y)
		for i := first; i <= last; i++ {
			v := row[i]
			if i == first {
				v &= head
			}
			if i == last {
				v &= tail
			}
			n += bits.OnesCount8(v)
		}
	}
	return n
}

// Span is the first and the last burned dot of row y; ok is false for a blank row.
func (b *Bits) Span(y int) (first, last int, ok bool) {
	row := b.Row(y)
	for i, v := range row {
		if v == 0 {
			continue
		}
		j := len(row) - 1
		for row[j] == 0 {
			j--
		}
		return 8*i + bits.LeadingZeros8(v), 8*j + 7 - bits.TrailingZeros8(row[j]), true
	}
	return 0, 0, false
}
