package resample

import (
	"context"
	"encoding/binary"
	"image"

	"github.com/nfnt/resize"
)

// sheet is an image as the resampling library holds it, at 16 bits: grey, or
// colour with an alpha that is always full.
type sheet struct {
	w, h  int
	bytes int    // a pixel: 2 grey, 8 colour
	pix   []byte // tight rows, big-endian values
}

func newSheet(w, h, channels int) sheet {
	bytes := 2
	if channels == 3 {
		bytes = 8
	}
	return sheet{w, h, bytes, make([]byte, w*h*bytes)}
}

func (s sheet) row(y int) []byte { return s.pix[y*s.w*s.bytes : (y+1)*s.w*s.bytes] }

// pack writes a row of 1 or 3 values a pixel.
func (s sheet) pack(y int, row []uint16) {
	pix := s.row(y)
	if s.bytes == 2 {
		for x, v := range row {
			binary.BigEndian.PutUint16(pix[2*x:], v)
		}
		return
	}
	for ; len(row) >= 3; row, pix = row[3:], pix[8:] {
		binary.BigEndian.PutUint64(pix, uint64(row[0])<<48|uint64(row[1])<<32|uint64(row[2])<<16|0xffff)
	}
}

// unpack reads a row from the pixel x on, as many pixels as fit into row.
func (s sheet) unpack(x, y int, row []uint16) {
	pix := s.row(y)[x*s.bytes:]
	if s.bytes == 2 {
		for i := range row {
			row[i] = binary.BigEndian.Uint16(pix[2*i:])
		}
		return
	}
	for ; len(row) >= 3; row, pix = row[3:], pix[8:] {
		v := binary.BigEndian.Uint64(pix)
		row[0], row[1], row[2] = uint16(v>>48), uint16(v>>32), uint16(v>>16)
	}
}

// part is a view of the pixels of r for the library.
func (s sheet) part(r image.Rectangle) image.Image {
	pix := s.pix[(r.Min.Y*s.w+r.Min.X)*s.bytes:]
	bounds := image.Rect(0, 0, r.Dx(), r.Dy())
	if s.bytes == 2 {
		return &image.Gray16{Pix: pix, Stride: s.w * s.bytes, Rect: bounds}
	}
	return &image.RGBA64{Pix: pix, Stride: s.w * s.bytes, Rect: bounds}
}

// paste copies what the library gave back to (x, y).
func (s sheet) paste(x, y int, img image.Image) {
	var pix []byte
	var stride int
	switch img := img.(type) {
	case *image.Gray16:
		pix, stride = img.Pix, img.Stride
	case *image.RGBA64:
		pix, stride = img.Pix, img.Stride
	}
	n := img.Bounds().Dx() * s.bytes
	for i := range img.Bounds().Dy() {
		copy(s.row(y + i)[x*s.bytes:], pix[i*stride:][:n])
	}
}

// stripPixels is how much is given to the library at a time: it cannot be
// stopped, and this much takes it some hundredths of a second.
const stripPixels = 1 << 18

// resized gives s the size w x h by the library's Lanczos-3. The library works
// along one axis at a time, so strips of rows are given their width first, then
// strips of columns their height: the outcome is that of one call, to the last
// bit.
//
// The library's weights are cut to whole 1/65536 and its sums to whole 1/65535.
// An even area keeps its value; elsewhere results are off by a few 1/65535.
func resized(ctx context.Context, s sheet, w, h int) (sheet, error) {
	wide := newSheet(w, s.h, s.channels())
	deep := max(1, stripPixels/s.w)
	for y := 0; y < s.h; y += deep {
		if err := ctx.Err(); err != nil {
			return sheet{}, err
		}
		r := image.Rect(0, y, s.w, min(y+deep, s.h))
		wide.paste(0, y, resize.Resize(uint(w), uint(r.Dy()), s.part(r), resize.Lanczos3))
	}
	tall := newSheet(w, h, s.channels())
	broad := max(1, stripPixels/s.h)
	for x := 0; x < w; x += broad {
		if err := ctx.Err(); err != nil {
			return sheet{}, err
		}
		r := image.Rect(x, 0, min(x+broad, w), s.h)
		tall.paste(x, 0, resize.Resize(uint(r.Dx()), uint(h), wide.part(r), resize.Lanczos3))
	}
	return tall, nil
}

func (s sheet) channels() int {
	if s.bytes == 2 {
		return 1
	}
	return 3
}
