package lettering

import (
	"bytes"
	"errors"
	"fmt"
)

// table is the bytes of one table of a font. A number that would lie outside is
// 0, which in the tables read here stands for "none".
type table []byte

func (t table) u16(at int) int {
	if at < 0 || at+2 > len(t) {
		return 0
	}
	return int(t[at])<<8 | int(t[at+1])
}

func (t table) i16(at int) int { return int(int16(t.u16(at))) }

func (t table) u32(at int) int { return t.u16(at)<<16 | t.u16(at+2) }

// from is the table past an offset; nothing past its end.
func (t table) from(at int) table {
	if at < 0 || at > len(t) {
		return nil
	}
	return t[at:]
}

// checkSignature tells fonts that cannot be read by their first bytes.
// Source: OpenType specification 1.9, "OpenType font file", table directory and
// font collections; W3C WOFF File Format 1.0 and 2.0, header.
func checkSignature(data []byte) error {
	begins := func(s string) bool { return bytes.HasPrefix(data, []byte(s)) }
	switch {
	case begins("\x00\x01\x00\x00"), begins("OTTO"), begins("true"):
		return nil
	case begins("wOFF"), begins("wOF2"):
		return errors.New("it is a web font (WOFF): choose the TTF or OTF file of the same font")
	case begins("ttcf"):
		return errors.New("it is a collection of fonts: choose a TTF or OTF file with a single one")
	}
	return errors.New("it is neither TTF nor OTF: choose a font file")
}

// The table directory: a header of 12 bytes, then 16 bytes a table.
// Source: OpenType specification 1.9, "OpenType font file", table directory.
const (
	directoryHeader = 12
	directoryEntry  = 16
)

// takeTable is a table of the font, cut to the font's bytes, and hides it from
// other readers by spoiling its tag. The new tag sorts as the old one did.
func takeTable(font []byte, tag string) table {
	whole := table(font)
	for i := range whole.u16(4) {
		at := directoryHeader + i*directoryEntry
		if at+directoryEntry > len(font) {
			break
		}
		if string(font[at:at+4]) != tag {
			continue
		}
		font[at+3] = ' '
		start, length := whole.u32(at+8), whole.u32(at+12)
		rest := whole.from(start)
		return rest[:min(length, len(rest))]
	}
	return nil
}

// hasTable tells whether the directory names a table.
func hasTable(font []byte, tag string) bool {
	for i := range table(font).u16(4) {
		at := directoryHeader + i*directoryEntry
		if at+4 <= len(font) && string(font[at:at+4]) == tag {
			return true
		}
	}
	return false
}

// meter hands a font's bytes to its parser and stops it when it reads far more
// than an honest font asks for: tables that point at each other can make a
// parser repeat itself without end, and each repetition costs memory.
type meter struct {
	font     []byte
	trueType bool // outlines are in a glyf table

	bytes, points int // what may still be read
}

var errIntricate = errors.New("it asks for more work than a font should: choose another font")

// allow sets what may be read until the next call.
func (m *meter) allow(bytes, points int) { m.bytes, m.points = bytes, points }

// ReadAt implements io.ReaderAt.
func (m *meter) ReadAt(p []byte, off int64) (int, error) {
	if off < 0 || off > int64(len(m.font)) {
		return 0, fmt.Errorf("place %d lies outside the font", off)
	}
	n := copy(p, m.font[off:])
	if n < len(p) {
		return n, fmt.Errorf("the font ends at %d", len(m.font))
	}
	const aRead = 16 // so that reading nothing costs something
	m.bytes -= aRead + len(p)
	if m.trueType {
		m.points -= outlinePoints(p)
	}
	if m.bytes < 0 || m.points < 0 {
		return 0, errIntricate
	}
	return n, nil
}

// outlinePoints is how many points a TrueType outline has, which can be far more
// than its bytes. Other bytes taken for an outline count as any number up to 65 536.
// Source: OpenType specification 1.9, "glyf", simple glyph description: the last
// point's number ends the list of contours.
func outlinePoints(read table) int {
	contours := read.i16(0)
	if contours <= 0 || len(read) < 10+2*contours {
		return 0
	}
	return read.u16(10+2*(contours-1)) + 1
}
