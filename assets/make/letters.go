package main

import (
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// letters gives the outlines of a text, set from the origin with its baseline on
// y = 0, in a size of so many units; bend puts each point in its place.
func letters(face []byte, text string, size, spacing float64, bend func(point) point) [][]point {
	f, err := sfnt.Parse(face)
	if err != nil {
		panic(err) // the font is built in
	}
	const grid = 256 // pixels an em that outlines are asked in
	scale := size / grid
	var buffer sfnt.Buffer
	var outlines [][]point
	pen := 0.0
	for _, r := range text {
		glyph, err := f.GlyphIndex(&buffer, r)
		if err != nil {
			panic(err)
		}
		segments, err := f.LoadGlyph(&buffer, glyph, fixed.I(grid), nil)
		if err != nil {
			panic(err)
		}
		for _, outline := range flatten(segments) {
			for i, p := range outline {
				outline[i] = bend(point{pen + p.x*scale, p.y * scale})
			}
			outlines = append(outlines, outline)
		}
		advance, err := f.GlyphAdvance(&buffer, glyph, fixed.I(grid), font.HintingNone)
		if err != nil {
			panic(err)
		}
		pen += float64(advance)/64*scale + spacing
	}
	return outlines
}

// textWidth is how far a text reaches.
func textWidth(face []byte, text string, size, spacing float64) float64 {
	b := bounds(letters(face, text, size, spacing, func(p point) point { return p }))
	return b.x1
}

// flatten turns a glyph's curves into short lines.
func flatten(segments sfnt.Segments) [][]point {
	const pieces = 6
	at := func(p fixed.Point26_6) point { return point{float64(p.X) / 64, float64(p.Y) / 64} }
	var outlines [][]point
	var pen point
	for _, s := range segments {
		a, b, c := at(s.Args[0]), at(s.Args[1]), at(s.Args[2])
		end := len(outlines) - 1
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			outlines = append(outlines, []point{a})
			pen = a
		case sfnt.SegmentOpLineTo:
			outlines[end] = append(outlines[end], a)
			pen = a
		case sfnt.SegmentOpQuadTo:
			for i := 1; i <= pieces; i++ {
				t := float64(i) / pieces
				outlines[end] = append(outlines[end], point{
					lerp(lerp(pen.x, a.x, t), lerp(a.x, b.x, t), t),
					lerp(lerp(pen.y, a.y, t), lerp(a.y, b.y, t), t),
				})
			}
			pen = b
		case sfnt.SegmentOpCubeTo:
			for i := 1; i <= pieces; i++ {
				t := float64(i) / pieces
				u := 1 - t
				outlines[end] = append(outlines[end], point{
					u*u*u*pen.x + 3*u*u*t*a.x + 3*u*t*t*b.x + t*t*t*c.x,
					u*u*u*pen.y + 3*u*u*t*a.y + 3*u*t*t*b.y + t*t*t*c.y,
				})
			}
			pen = c
		}
	}
	return outlines
}
