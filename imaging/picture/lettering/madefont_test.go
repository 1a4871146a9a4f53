package lettering_test

import (
	"bytes"
	"encoding/binary"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
)

// be16 and be32 write numbers as fonts keep them.
func be16(numbers ...int) []byte {
	var out []byte
	for _, n := range numbers {
		out = binary.BigEndian.AppendUint16(out, uint16(n))
	}
	return out
}

func be32(numbers ...int) []byte {
	var out []byte
	for _, n := range numbers {
		out = binary.BigEndian.AppendUint32(out, uint32(n))
	}
	return out
}

// polygon is an outline of straight lines in font units.
type polygon [][2]int

// box is an upright rectangle, clockwise.
func box(x0, y0, x1, y1 int) polygon { return polygon{{x0, y0}, {x0, y1}, {x1, y1}, {x1, y0}} }

// madeGlyph is a glyph of a font made for a test.
type madeGlyph struct {
	letter   rune
	advance  int
	contours []polygon
	raw      []byte // in place of contours
}

// simpleGlyph writes contours as a glyf table keeps them.
// Source: OpenType specification 1.9, "glyf", simple glyph description.
func simpleGlyph(contours []polygon) []byte {
	if len(contours) == 0 {
		return nil
	}
	var ends, flags, xs, ys []byte
	count, lastX, lastY := 0, 0, 0
	for _, c := range contours {
		count += len(c)
		ends = append(ends, be16(count-1)...)
		for _, p := range c {
			flags = append(flags, 1) // on the curve, both coordinates as words
			xs, ys = append(xs, be16(p[0]-lastX)...), append(ys, be16(p[1]-lastY)...)
			lastX, lastY = p[0], p[1]
		}
	}
	out := append(be16(len(contours), 0, 0, 0, 0), ends...)
	out = append(out, be16(0)...)
	out = append(append(append(out, flags...), xs...), ys...)
	for len(out)%2 != 0 {
		out = append(out, 0)
	}
	return out
}

// compoundGlyph refers to other glyphs, each unmoved.
func compoundGlyph(parts ...int) []byte {
	const wordsAreXY, more = 0x3, 0x20
	out := be16(-1, 0, 0, 0, 0)
	for i, p := range parts {
		flags := wordsAreXY
		if i < len(parts)-1 {
			flags |= more
		}
		out = append(out, be16(flags, p, 0, 0)...)
	}
	return out
}

// makeFont is a TrueType font of 1000 units an em; more are tables to add to it.
func makeFont(glyphs []madeGlyph, more map[string][]byte) []byte {
	glyphs = append([]madeGlyph{{}}, glyphs...) // the first stands for what is missing
	var glyf, hmtx []byte
	loca := be32(0)
	letters := map[int]int{}
	for i, g := range glyphs {
		data := g.raw
		if data == nil {
			data = simpleGlyph(g.contours)
		}
		glyf = append(glyf, data...)
		loca = append(loca, be32(len(glyf))...)
		hmtx = append(hmtx, be16(g.advance, 0)...)
		if g.letter != 0 {
			letters[int(g.letter)] = i
		}
	}
	head := make([]byte, 54)
	copy(head[18:], be16(1000))
	copy(head[50:], be16(1)) // long locations
	hhea := make([]byte, 36)
	copy(hhea[34:], be16(len(glyphs)))
	maxp := make([]byte, 32)
	copy(maxp[4:], be16(len(glyphs)))
	post := make([]byte, 32)
	copy(post, be32(0x30000))
	tables := map[string][]byte{
		"cmap": makeCmap(letters), "head": head, "hhea": hhea, "maxp": maxp, "post": post,
		"hmtx": hmtx, "loca": loca, "glyf": glyf,
	}
	for tag, data := range more {
		tables[tag] = data
	}
	return assemble("\x00\x01\x00\x00", tables)
}

// makeCmap maps letters to glyphs in format 4, one segment a letter.
func makeCmap(letters map[int]int) []byte {
	var codes []int
	for code := range letters {
		codes = append(codes, code)
	}
	sort.Ints(codes)
	codes = append(codes, 0xffff)
	n := len(codes)
	var ends, starts, deltas, offsets []byte
	for _, code := range codes {
		ends, starts, offsets = append(ends, be16(code)...), append(starts, be16(code)...), append(offsets, be16(0)...)
		deltas = append(deltas, be16(letters[code]-code)...)
	}
	table := be16(4, 16+8*n, 0, 2*n, 0, 0, 0)
	table = append(append(table, ends...), be16(0)...)
	table = append(append(append(table, starts...), deltas...), offsets...)
	return append(append(be16(0, 1, 3, 1), be32(12)...), table...)
}

// assemble puts tables into a font file.
func assemble(signature string, tables map[string][]byte) []byte {
	var tags []string
	for tag := range tables {
		tags = append(tags, tag)
	}
	sort.Strings(tags)
	out := append([]byte(signature), be16(len(tags), 0, 0, 0)...)
	body := []byte{}
	for _, tag := range tags {
		out = append(append(out, tag...), be32(0, 12+16*len(tags)+len(body), len(tables[tag]))...)
		body = append(body, tables[tag]...)
		body = append(body, bytes.Repeat([]byte{0}, -len(body)&3)...)
	}
	return append(out, body...)
}

// plainFont has an H 700 high with stems of 100, an I that is one stem, an l that
// is 900 high, a dash and a space.
func plainFont(more map[string][]byte) []byte {
	return makeFont([]madeGlyph{
		{letter: 'H', advance: 700, contours: []polygon{box(100, 0, 200, 700), box(500, 0, 600, 700), box(150, 300, 550, 400)}},
		{letter: 'I', advance: 300, contours: []polygon{box(100, 0, 200, 700)}},
		{letter: 'l', advance: 300, contours: []polygon{box(100, 0, 200, 900)}},
		{letter: '-', advance: 400, contours: []polygon{box(50, 300, 350, 400)}},
		{letter: ' ', advance: 300},
	}, more)
}

// builtIn are the fonts of the program, and the plain font as "plain".
func builtIn(t testing.TB) *lettering.Fonts {
	t.Helper()
	fonts := lettering.NewFonts(assets.Font)
	require.NoError(t, fonts.Add("plain", plainFont(nil)))
	return fonts
}

// place lays out one line that must be in order.
func place(t testing.TB, fonts *lettering.Fonts, line lettering.Line) lettering.Placed {
	t.Helper()
	placed, err := lettering.Layout([]lettering.Line{line}, fonts)
	require.NoError(t, err)
	return placed[0]
}
