package export

import (
	"errors"
	"fmt"
	"io"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

const (
	filterNone   = 0
	bytesPerIDAT = 64 << 10

	// A blank raster squeezes to almost nothing, and would go on for long without
	// a write in which the end of a context could be seen: so what there is goes
	// out each time this many bytes of rows have come in, some 30 ms of work.
	bytesPerFlush = 4 << 20
)

// RasterWriter writes a one-bit PNG row by row. It holds some bands of rows, which
// all cores squeeze at once, and at most one 64 KiB chunk: under 2 MB for each core and one more.
type RasterWriter struct {
	cols, rows int
	bits       int // a dot
	written    int
	held       int    // bytes of rows squeezed since the last flush
	line       []byte // filter type, then the row as PNG wants it
	squeeze    *squeezer
	chunks     *idatWriter
	err        error // the first failure; every later call returns it
}

// NewRasterWriter writes the head of a one-bit greyscale PNG of cols x rows dots
// to w. Each is at least 1 and at most 2^31-1; pitch is 0.01 to 1 mm and is
// recorded as the nearest whole number of dots to the metre.
func NewRasterWriter(w io.Writer, cols, rows int, pitch layout.MM) (*RasterWriter, error) {
	return newRasterWriter(w, cols, rows, 1, pitch)
}

// newRasterWriter is NewRasterWriter at 1 or 8 bits a dot.
func newRasterWriter(w io.Writer, cols, rows, bits int, pitch layout.MM) (*RasterWriter, error) {
	if cols < 1 || rows < 1 || cols > math.MaxInt32 || rows > math.MaxInt32 {
		return nil, fmt.Errorf("raster of %d x %d dots: each side must be 1 to %d dots, choose another size or pitch", cols, rows, math.MaxInt32)
	}
	if !(pitch >= 0.01 && pitch <= 1) { // so written that NaN is refused
		return nil, fmt.Errorf("pitch %v mm: must be 0.01 to 1 mm, choose one in that range", float64(pitch))
	}
	head := append([]byte(nil), pngSignature...)
	head = appendHeader(head, cols, rows, byte(bits), 0)
	head = appendPhysical(head, uint32(DotsPerMetre(pitch)))
	if _, err := w.Write(head); err != nil {
		return nil, fmt.Errorf("write the raster's head: %w", err)
	}
	chunks := &idatWriter{w: w, data: make([]byte, 0, bytesPerIDAT)}
	return &RasterWriter{
		cols: cols, rows: rows,
		line:    make([]byte, 1+(cols*bits+7)/8),
		bits:    bits,
		squeeze: newSqueezer(chunks), chunks: chunks,
	}, nil
}

// WriteRow writes the next row, from the top down. packed holds a bit a dot, the
// first dot in the most significant bit, 1 for burn, as a row of [plane.Bits]
// does; it is exactly (cols+7)/8 bytes, and bits past the last dot are ignored.
func (r *RasterWriter) WriteRow(packed []byte) error {
	if r.err != nil {
		return r.err
	}
	if r.written == r.rows {
		return r.fail(fmt.Errorf("row %d: the raster has only %d rows", r.written+1, r.rows))
	}
	row := r.line[1:]
	if len(packed) != len(row) {
		return r.fail(fmt.Errorf("row of %d bytes: %d dots take %d bytes, %d bits a dot", len(packed), r.cols, len(row), r.bits))
	}
	r.line[0] = filterNone
	for i, v := range packed {
		row[i] = ^v // black, 0, is burned, and with full power
	}
	if spare := -r.cols * r.bits & 7; spare > 0 {
		row[len(row)-1] &= 0xff << spare
	}
	out, err := r.squeeze.add(r.line)
	if r.held += out; err == nil && r.held >= bytesPerFlush {
		r.held = 0
		err = r.chunks.flush()
	}
	if err != nil {
		return r.fail(fmt.Errorf("write row %d of the raster: %w", r.written, err))
	}
	r.written++
	return nil
}

// Close ends the PNG; it does not close the writer beneath. It fails when fewer
// rows were written than the head promised.
func (r *RasterWriter) Close() error {
	if r.err != nil {
		return r.err
	}
	if r.written != r.rows {
		return r.fail(fmt.Errorf("raster of %d rows closed after %d: write every row first", r.rows, r.written))
	}
	if err := r.finish(); err != nil {
		return r.fail(fmt.Errorf("write the raster's end: %w", err))
	}
	r.err = errors.New("the raster is closed")
	return nil
}

func (r *RasterWriter) finish() error {
	if err := r.squeeze.close(); err != nil {
		return err
	}
	if err := r.chunks.flush(); err != nil {
		return err
	}
	_, err := r.chunks.w.Write(appendChunk(nil, "IEND", nil))
	return err
}

func (r *RasterWriter) fail(err error) error {
	r.err = err
	return err
}

// idatWriter cuts the compressed stream into IDAT chunks of one size.
type idatWriter struct {
	w     io.Writer
	data  []byte
	chunk []byte // kept for the next chunk's bytes
}

func (c *idatWriter) Write(p []byte) (int, error) {
	taken := 0
	for taken < len(p) {
		n := min(bytesPerIDAT-len(c.data), len(p)-taken)
		c.data = append(c.data, p[taken:taken+n]...)
		taken += n
		if len(c.data) == bytesPerIDAT {
			if err := c.flush(); err != nil {
				return taken, err
			}
		}
	}
	return taken, nil
}

func (c *idatWriter) flush() error {
	if len(c.data) == 0 {
		return nil
	}
	c.chunk = appendChunk(c.chunk[:0], "IDAT", c.data)
	c.data = c.data[:0]
	_, err := c.w.Write(c.chunk)
	return err
}

// WriteRaster writes the dots as a one-bit greyscale PNG, black where a dot
// burns, with the pitch (0.01 to 1 mm) recorded as the nearest whole number of
// dots to the metre. It streams: beyond bits it needs under 2 MB for each core and one
// more, whatever the size. The bytes are the same on any number of cores.
// To make it stop with a context, hand it [UntilDone].
func WriteRaster(w io.Writer, bits *plane.Bits, pitch layout.MM) error {
	if bits == nil {
		return errors.New("no raster to write: screen the picture first")
	}
	need := (bits.W + 7) / 8
	if bits.Stride < need || len(bits.Pix) < bits.Stride*bits.H {
		return fmt.Errorf("raster of %d x %d dots holds %d bytes with %d a row: make it with plane.NewBits", bits.W, bits.H, len(bits.Pix), bits.Stride)
	}
	r, err := NewRasterWriter(w, bits.W, bits.H, pitch)
	if err != nil {
		return err
	}
	for y := range bits.H {
		if err := r.WriteRow(bits.Row(y)[:need]); err != nil {
			return err
		}
	}
	return r.Close()
}
