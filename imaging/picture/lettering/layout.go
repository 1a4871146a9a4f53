package lettering

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"undercoat/layout"
)

// maxPathPieces bounds the outlines of all lines together.
const maxPathPieces = 500_000

// Glyph is one letter where it lies on the panel, with the marks on it.
type Glyph struct {
	Letter string
	Path   Path // mm from the panel's centre, y up; empty for a space

	shape *glyph // its letter, without marks, at a cap height of 1 mm
	hull  box
}

// Placed is a line with its letters where they lie on the panel.
type Placed struct {
	Line   Line
	Glyphs []Glyph // in reading order
	// Frame holds the ink tightly, turned as the line is: upper left, upper right,
	// lower right and lower left as one reads it.
	Frame [4]layout.Point
	// Bounds holds the ink tightly, upright on the panel.
	Bounds   layout.Area
	Cautions []string // about this text in this font
}

// Layout places the letters of lines, in their order. Errors name the line, from
// 1, and its text.
func Layout(lines []Line, fonts *Fonts) ([]Placed, error) {
	if len(lines) > MaxLines {
		return nil, fmt.Errorf("there are %d lines of lettering: keep to %d", len(lines), MaxLines)
	}
	placed := make([]Placed, len(lines))
	pieces := 0
	for i, line := range lines {
		p, err := place(line, fonts)
		if err != nil {
			return nil, fmt.Errorf("line %d (%q): %w", i+1, shortened(line.Text), err)
		}
		for _, g := range p.Glyphs {
			pieces += len(g.Path)
		}
		if pieces > maxPathPieces {
			return nil, fmt.Errorf("line %d (%q): the outlines have more than %d pieces together: use plainer fonts or fewer letters", i+1, shortened(line.Text), maxPathPieces)
		}
		placed[i] = p
	}
	return placed, nil
}

// shortened keeps a text from filling a message.
func shortened(text string) string {
	const most = 24
	if letters := []rune(text); len(letters) > most {
		return string(letters[:most-1]) + "…"
	}
	return text
}

func place(line Line, fonts *Fonts) (Placed, error) {
	if err := line.Validate(); err != nil {
		return Placed{}, err
	}
	font, err := fonts.Font(line.Font)
	if err != nil {
		return Placed{}, err
	}
	row, err := font.set(line)
	if err != nil {
		return Placed{}, err
	}
	if around := 2 * math.Pi * math.Abs(float64(line.ArcRadius)); around > 0 && float64(row.ink.width()) > around {
		return Placed{}, fmt.Errorf("its letters take %s and the circle of radius %s is only %s round: choose a larger radius, smaller letters or less spacing",
			show(row.ink.width()), show(line.ArcRadius), show(layout.MM(around)))
	}
	return row.placed(line, font.fine()*line.CapHeight), nil
}

// row is a line's letters along a straight baseline from the origin, in mm.
type row struct {
	letters  []letter
	ink      box
	cautions []string
}

// letter is one letter of a row: its outline at the line's size, its own origin at
// (0, 0), and where that lies along the baseline.
type letter struct {
	text  string
	shape *glyph
	path  Path
	at    layout.MM // along the baseline
	mid   layout.MM // half its advance
}

// set puts letters side by side with the font's kerning and the line's spacing.
func (f *Font) set(line Line) (row, error) {
	clusters, err := readText(line.Text)
	if err != nil {
		return row{}, err
	}
	if clusters, err = f.spell(clusters); err != nil {
		return row{}, err
	}
	r := row{cautions: cautions(clusters)}
	size := placing(float64(line.CapHeight), 0, layout.Point{})
	var pen layout.MM
	var before *glyph
	for _, c := range clusters {
		g, path, err := f.cluster(c)
		if err != nil {
			return row{}, err
		}
		if before != nil {
			pen += line.CapHeight*f.kern(before, g) + line.Spacing
		}
		l := letter{text: c.text(), shape: g, path: size.path(path), at: pen, mid: line.CapHeight * g.advance / 2}
		ink := l.path.bounds(f.fine() * line.CapHeight)
		if ink.some {
			ink.min.X, ink.max.X = ink.min.X+pen, ink.max.X+pen
			r.ink.join(ink)
		}
		r.letters = append(r.letters, l)
		pen += line.CapHeight * g.advance
		before = g
	}
	if !r.ink.some {
		return row{}, fmt.Errorf("font %q draws nothing for this text: choose another font", f.name)
	}
	return r, nil
}

// spell writes a letter with its marks apart where the font has no such letter in
// one, and names the characters that the font does not have at all.
func (f *Font) spell(clusters []cluster) ([]cluster, error) {
	spelt := make([]cluster, len(clusters))
	var names []string
	for i, c := range clusters {
		whole, err := f.hasAll(c)
		if err != nil {
			return nil, err
		}
		spelt[i] = c
		if whole {
			continue
		}
		spelt[i] = c.apart()
		whole, err = f.hasAll(spelt[i])
		if err != nil {
			return nil, err
		}
		if name := quoted(c.text()); !whole && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	const most = 5
	switch {
	case len(names) == 0:
		return spelt, nil
	case len(names) > most:
		names = append(names[:most], fmt.Sprintf("%d more", len(names)-most))
	}
	return nil, fmt.Errorf("the font %q has no %s: choose another font or other letters", f.name, strings.Join(names, ", no "))
}

// hasAll tells whether the font has a letter and all its marks.
func (f *Font) hasAll(c cluster) (bool, error) {
	for _, r := range append([]rune{c.base}, c.marks...) {
		if g, err := f.letter(r); g == nil || err != nil {
			return false, err
		}
	}
	return true, nil
}

// cluster is a letter's outline with its marks, at a cap height of 1 mm. A mark
// is centred over or under its letter and kept as far from it as the font keeps
// it from a letter of x-height; the next one of the same side goes beyond.
func (f *Font) cluster(c cluster) (*glyph, Path, error) {
	base, err := f.letter(c.base)
	if err != nil || len(c.marks) == 0 {
		return base, base.outlineOrNone(), err
	}
	path := append(Path(nil), base.path...)
	raise, lower := max(0, base.ink.max.Y-f.xHeight), min(0, base.ink.min.Y)
	for _, r := range c.marks {
		mark, err := f.letter(r)
		if err != nil {
			return nil, nil, err
		}
		if !mark.ink.some || !base.ink.some {
			continue
		}
		by := layout.Point{X: base.ink.middle() - mark.ink.middle()}
		switch norm.NFC.PropertiesString(string(r)).CCC() {
		case 230: // above
			by.Y = raise
			raise += mark.ink.height() * 1.2
		case 220: // below
			by.Y = lower
			lower -= mark.ink.height() * 1.2
		}
		path = append(path, placing(1, 0, by).path(mark.path)...)
	}
	return base, path, nil
}

func (g *glyph) outlineOrNone() Path {
	if g == nil {
		return nil
	}
	return g.path
}

// placed bends the row round its arc, turns it and puts it on the panel.
func (r row) placed(line Line, tolerance layout.MM) Placed {
	p := Placed{Line: line, Cautions: r.cautions}
	start := r.start(line.Align)
	turned := placing(1, line.RotationDegrees*math.Pi/180, line.At)
	var frame, bounds box // frame in the line's own direction
	for _, l := range r.letters {
		own := onBaseline(start+l.at, l.mid, line.ArcRadius)
		frame.join(own.path(l.path).bounds(tolerance))
		path := turned.after(own).path(l.path)
		bounds.join(path.bounds(tolerance))
		p.Glyphs = append(p.Glyphs, Glyph{Letter: l.text, Path: path, shape: l.shape, hull: path.hull()})
	}
	for i, corner := range frame.corners() {
		p.Frame[i] = turned.point(corner)
	}
	p.Bounds = bounds.area()
	return p
}

// start is where the row's origin lies from the anchor, so that the ink's left
// end, middle or right end lies at it.
func (r row) start(a Align) layout.MM {
	switch a {
	case Left:
		return -r.ink.min.X
	case Right:
		return -r.ink.max.X
	}
	return -r.ink.middle()
}

// onBaseline puts a letter on the baseline with its origin at a distance along it
// from the anchor. On an arc it is the middle of its advance that lies there: the
// circle of the signed radius R has its centre at (0, -R), and the place at the
// distance s is R(sin s/R, cos s/R) from it, turned by -s/R.
func onBaseline(at, mid, radius layout.MM) affine {
	if radius == 0 {
		return placing(1, 0, layout.Point{X: at})
	}
	angle := float64((at + mid) / radius)
	sin, cos := math.Sincos(angle)
	to := layout.Point{X: radius * layout.MM(sin), Y: radius * layout.MM(cos-1)}
	return placing(1, -angle, to).after(placing(1, 0, layout.Point{X: -mid}))
}
