package export

import (
	"bytes"
	"compress/flate"
	"encoding/binary"
	"hash"
	"hash/adler32"
	"io"
	"runtime"
)

// Rows are cut into bands of so many bytes, each squeezed by itself: so all cores can
// squeeze at once, and as the cuts do not depend on how many there are, the bytes do
// not either. That a band knows nothing of the one before costs 0.3 %.
const bytesPerBand = 128 << 10

// The dots of most screens are close to noise: of 87 million error-diffused dots of a
// photograph level 4 leaves 57.8 % and a Huffman code alone 59.4 %, in an eighth of
// the time; level 6 leaves 56.9 %, in twice the time of level 4. Matrices, lettering
// and blank parts are another matter. So the middle of each band is squeezed both
// ways, and the band at the level where that saves more than a sixteenth there.
// BenchmarkRasterLevels measures levels and filters.
const (
	rasterLevel = 4
	bytesTried  = 8 << 10
	worthOneIn  = 16
)

// squeezer makes a zlib stream of bands that several cores squeeze at once. It writes
// in the goroutine that adds to it, so nothing is left running that waits for it.
//
// Source: P. Deutsch and J-L. Gailly, "ZLIB Compressed Data Format Specification
// version 3.3", RFC 1950, 1996, 2.2: two bytes of head, deflated data, and the
// Adler-32 of what went in, the high byte first.
type squeezer struct {
	w     io.Writer
	sum   hash.Hash32
	begun bool
	band  *band   // being filled
	ahead []*band // being squeezed, in order
	free  []*band // written
	most  int     // bands ahead at once
}

// band is rows to be squeezed, and then what came of them. It is filled anew once it
// is written, and keeps what it squeezes with, which takes 0.7 MB each to make.
type band struct {
	rows        []byte
	last        bool
	code, level *flate.Writer
	squeezed    bytes.Buffer
	done        chan struct{}
}

func newBand() *band {
	return &band{
		rows: make([]byte, 0, bytesPerBand), done: make(chan struct{}, 1),
		code: newDeflater(flate.HuffmanOnly), level: newDeflater(rasterLevel),
	}
}

func newDeflater(level int) *flate.Writer {
	z, err := flate.NewWriter(nil, level)
	if err != nil {
		panic(err) // a programmer's mistake: there is no such level
	}
	return z
}

func newSqueezer(w io.Writer) *squeezer {
	return &squeezer{w: w, sum: adler32.New(), most: runtime.GOMAXPROCS(0) + 1}
}

// add takes a row, and tells how many bytes of rows it wrote out squeezed meanwhile.
func (s *squeezer) add(row []byte) (out int, err error) {
	for len(row) > 0 {
		s.fill()
		n := min(len(row), bytesPerBand-len(s.band.rows))
		s.band.rows = append(s.band.rows, row[:n]...)
		row = row[n:]
		if len(s.band.rows) == bytesPerBand {
			n, err := s.send(false)
			if out += n; err != nil {
				return out, err
			}
		}
	}
	return out, nil
}

// fill sees that there is a band to fill.
func (s *squeezer) fill() {
	switch last := len(s.free) - 1; {
	case s.band != nil:
	case last >= 0:
		s.band, s.free = s.free[last], s.free[:last]
	default:
		s.band = newBand()
	}
}

// send has the band squeezed, and writes the oldest where enough are on their way.
func (s *squeezer) send(last bool) (out int, err error) {
	b := s.band
	s.band = nil
	b.last = last
	_, _ = s.sum.Write(b.rows) // cannot fail
	s.ahead = append(s.ahead, b)
	go b.squeeze()
	if len(s.ahead) < s.most {
		return 0, nil
	}
	return s.writeOldest()
}

func (s *squeezer) writeOldest() (out int, err error) {
	if !s.begun {
		s.begun = true
		const deflate32K, fast = 0x78, 0x5e // of 32 KiB of window, and a check of the two bytes
		if _, err := s.w.Write([]byte{deflate32K, fast}); err != nil {
			return 0, err
		}
	}
	b := s.ahead[0]
	s.ahead = s.ahead[1:]
	<-b.done
	out = len(b.rows)
	_, err = s.w.Write(b.squeezed.Bytes())
	b.rows = b.rows[:0]
	b.squeezed.Reset()
	s.free = append(s.free, b)
	return out, err
}

// close writes what is left and the stream's end.
func (s *squeezer) close() error {
	s.fill()
	if _, err := s.send(true); err != nil {
		return err
	}
	for len(s.ahead) > 0 {
		if _, err := s.writeOldest(); err != nil {
			return err
		}
	}
	_, err := s.w.Write(binary.BigEndian.AppendUint32(nil, s.sum.Sum32()))
	return err
}

func (b *band) squeeze() {
	z := b.code
	if b.worthALevel() {
		z = b.level
	}
	deflate(z, &b.squeezed, b.rows, b.last)
	b.done <- struct{}{}
}

// worthALevel tries the middle of the rows both ways.
func (b *band) worthALevel() bool {
	middle := b.rows[max(0, len(b.rows)-bytesTried)/2:]
	middle = middle[:min(len(middle), bytesTried)]
	var code, level counted
	deflate(b.code, &code, middle, true)
	deflate(b.level, &level, middle, true)
	return level+code/worthOneIn < code
}

// deflate ends on a whole byte, so that what is squeezed next can follow.
func deflate(z *flate.Writer, w io.Writer, data []byte, last bool) {
	z.Reset(w)
	_, _ = z.Write(data) // neither a buffer's write nor a count can fail
	if last {
		_ = z.Close()
		return
	}
	_ = z.Flush()
}

// counted counts what is written to it.
type counted int

func (c *counted) Write(p []byte) (int, error) {
	*c += counted(len(p))
	return len(p), nil
}
