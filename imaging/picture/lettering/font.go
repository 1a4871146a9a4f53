package lettering

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"undercoat/layout"
)

// What a font may be. An honest font stays far below; a damaged or hostile one
// is refused before it takes the computer's memory.
const (
	MaxFontBytes    = 32 << 20
	maxGlyphBytes   = 1 << 21   // read for one outline, parts used twice counting twice
	maxGlyphPoints  = 200_000   // read for one outline, likewise
	maxGlyphPieces  = 10_000    // segments of one outline
	maxCachedPieces = 1_000_000 // segments kept of one font
	maxReach        = 16        // ems from the origin that an outline may reach
	minUnitsPerEm   = 16        // Source: OpenType specification 1.9, "head", unitsPerEm
	maxUnitsPerEm   = 16384
)

// plainCapHeight is the cap height in ems where neither the font's outlines nor
// its tables say. Common practice, no source.
const plainCapHeight = 0.7

// Font is a TTF or OTF font. Its outlines are given at a cap height of 1 mm. It
// may be shared between goroutines.
type Font struct {
	name string

	mu     sync.Mutex // guards what follows
	meter  *meter
	parsed *sfnt.Font
	buffer sfnt.Buffer
	glyphs map[rune]*glyph // nil entries: not in the font
	pieces int             // segments in glyphs

	perUnit layout.MM // mm of a font unit
	xHeight layout.MM
	kerning kerning
}

// glyph is one letter at a cap height of 1 mm, its origin on the baseline, y up.
type glyph struct {
	index   sfnt.GlyphIndex
	letter  rune
	path    Path
	ink     box // round the path; nothing for a space
	advance layout.MM

	measure sync.Once
	strokes strokes // by measure
}

// ParseFont reads a font; name is what lines call it. The bytes are copied. Of a
// variable font it takes the default instance.
func ParseFont(name string, data []byte) (*Font, error) {
	f, err := parseFont(name, data)
	if err != nil {
		return nil, fmt.Errorf("font %q cannot be used: %w", name, err)
	}
	return f, nil
}

func parseFont(name string, data []byte) (*Font, error) {
	if len(data) > MaxFontBytes {
		return nil, fmt.Errorf("it has %d bytes, %d are the most: choose a smaller file", len(data), MaxFontBytes)
	}
	if err := checkSignature(data); err != nil {
		return nil, err
	}
	own := bytes.Clone(data)
	// The parser refuses fonts over kerning it does not know, and copies what a
	// hostile font repeats; kerning is read here, from the tables themselves.
	pairs := kerning{positions: takeTable(own, "GPOS"), pairs: takeTable(own, "kern")}
	f := &Font{
		name:    name,
		meter:   &meter{font: own, trueType: hasTable(own, "glyf")},
		glyphs:  map[rune]*glyph{},
		kerning: pairs.prepared(),
	}
	// The parser reads each table a few times and two outlines.
	f.meter.allow(4*len(own)+maxGlyphBytes, 8*maxGlyphPoints)
	err := guarded(func() (err error) {
		f.parsed, err = sfnt.ParseReaderAt(f.meter)
		return err
	})
	if err != nil {
		return nil, err
	}
	if u := f.parsed.UnitsPerEm(); u < minUnitsPerEm || u > maxUnitsPerEm {
		return nil, fmt.Errorf("it has %d units an em where %d to %d are allowed: choose another font", u, minUnitsPerEm, maxUnitsPerEm)
	}
	return f, f.measureHeights()
}

// measureHeights finds the cap height, from the top of the capital H where there
// is one, and sets the scale by it.
func (f *Font) measureHeights() error {
	f.perUnit = 1 // until it is known
	var stated font.Metrics
	err := guarded(func() (err error) {
		f.meter.allow(maxGlyphBytes, maxGlyphPoints)
		stated, err = f.parsed.Metrics(&f.buffer, f.unit(), font.HintingNone)
		return err
	})
	if err != nil {
		return err
	}
	capHeight := float64(stated.CapHeight)
	for _, r := range "HIEX" {
		if g, err := f.glyph(r); err == nil && g != nil && g.ink.max.Y > 0 {
			capHeight = float64(g.ink.max.Y)
			break
		}
	}
	em := float64(f.parsed.UnitsPerEm())
	if capHeight < em/50 || capHeight > 4*em {
		capHeight = plainCapHeight * em
	}
	xHeight := float64(stated.XHeight)
	if g, err := f.glyph('x'); err == nil && g != nil && g.ink.max.Y > 0 {
		xHeight = float64(g.ink.max.Y)
	}
	f.perUnit = layout.MM(1 / capHeight)
	f.xHeight = layout.MM(math.Max(0, math.Min(xHeight/capHeight, 1)))
	f.glyphs, f.pieces = map[rune]*glyph{}, 0 // they had another scale
	return nil
}

// unit asks the parser for lengths in font units.
func (f *Font) unit() fixed.Int26_6 { return fixed.Int26_6(f.parsed.UnitsPerEm()) }

// Name is what lines call the font.
func (f *Font) Name() string { return f.name }

// FullName is the name its makers gave the font; the name that lines use if it has none.
func (f *Font) FullName() string {
	f.mu.Lock()
	defer f.mu.Unlock()
	var name string
	err := guarded(func() (err error) {
		f.meter.allow(maxGlyphBytes, maxGlyphPoints)
		name, err = f.parsed.Name(&f.buffer, sfnt.NameIDFull)
		return err
	})
	if name = strings.TrimSpace(name); err != nil || name == "" {
		return f.name
	}
	return name
}

// Has tells whether the font has a character, or one that looks the same.
func (f *Font) Has(r rune) bool {
	g, err := f.letter(r)
	return err == nil && g != nil
}

// EmMM is the em at a cap height of 1 mm.
func (f *Font) EmMM() layout.MM { return f.perUnit * layout.MM(f.parsed.UnitsPerEm()) }

// letter is the outline of a character or of one that looks the same; nil where
// the font has neither.
func (f *Font) letter(r rune) (*glyph, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	g, err := f.glyph(r)
	for _, other := range standIns(r) {
		if g != nil || err != nil {
			break
		}
		g, err = f.glyph(other)
	}
	return g, err
}

// glyph reads an outline, once. The caller holds the lock.
func (f *Font) glyph(r rune) (*glyph, error) {
	if g, known := f.glyphs[r]; known {
		return g, nil
	}
	var g *glyph
	err := guarded(func() (err error) {
		g, err = f.load(r)
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("the letter %s of font %q cannot be read: %w", quoted(string(r)), f.name, err)
	}
	if g != nil {
		f.pieces += len(g.path)
	}
	if f.pieces > maxCachedPieces {
		f.glyphs, f.pieces = map[rune]*glyph{}, 0
	}
	f.glyphs[r] = g
	return g, nil
}

func (f *Font) load(r rune) (*glyph, error) {
	f.meter.allow(maxGlyphBytes, maxGlyphPoints)
	index, err := f.parsed.GlyphIndex(&f.buffer, r)
	if err != nil || index == 0 {
		return nil, err
	}
	advance, err := f.parsed.GlyphAdvance(&f.buffer, index, f.unit(), font.HintingNone)
	if err != nil {
		return nil, err
	}
	segments, err := f.parsed.LoadGlyph(&f.buffer, index, f.unit(), nil)
	switch {
	case errors.Is(err, sfnt.ErrColoredGlyph):
		return nil, errors.New("it is drawn in colours, not in outlines: choose another font")
	case err != nil:
		return nil, err
	case len(segments) > maxGlyphPieces:
		return nil, fmt.Errorf("its outline has %d pieces, %d are the most: choose a plainer font", len(segments), maxGlyphPieces)
	}
	g := &glyph{index: index, letter: r, advance: layout.MM(advance) * f.perUnit, path: f.outline(segments)}
	g.ink = g.path.bounds(f.fine())
	if reach := maxReach * f.EmMM(); g.ink.some && max(-g.ink.min.X, -g.ink.min.Y, g.ink.max.X, g.ink.max.Y) > reach {
		return nil, errors.New("its outline runs far off: choose another font")
	}
	return g, nil
}

// fine is a tolerance no ruler sees: a 20 000th of an em.
func (f *Font) fine() layout.MM { return f.EmMM() / 20_000 }

// outline turns the parser's segments, in font units with y down, into a path.
func (f *Font) outline(segments sfnt.Segments) Path {
	path := make(Path, len(segments))
	ops := [...]Op{sfnt.SegmentOpMoveTo: MoveTo, sfnt.SegmentOpLineTo: LineTo, sfnt.SegmentOpQuadTo: QuadTo, sfnt.SegmentOpCubeTo: CubeTo}
	for i, s := range segments {
		path[i].Op = ops[s.Op]
		for j := range path[i].Op.points() {
			path[i].P[j] = layout.Point{X: layout.MM(s.Args[j].X) * f.perUnit, Y: -layout.MM(s.Args[j].Y) * f.perUnit}
		}
	}
	return path
}

// Kerning is what the font adds between two characters at a cap height of 1 mm; 0
// if it lacks one of them.
func (f *Font) Kerning(a, b rune) layout.MM {
	x, err := f.letter(a)
	if x == nil || err != nil {
		return 0
	}
	y, err := f.letter(b)
	if y == nil || err != nil {
		return 0
	}
	return f.kern(x, y)
}

// kern is what the font adds between two letters.
func (f *Font) kern(a, b *glyph) layout.MM {
	return layout.MM(f.kerning.between(int(a.index), int(b.index))) * f.perUnit
}

// guarded turns a panic over a damaged font into an error.
func guarded(work func() error) (err error) {
	defer func() {
		if r := recover(); r != nil {
			err = fmt.Errorf("it is damaged (%v): choose another font", r)
		}
	}()
	if err := work(); err != nil {
		if errors.Is(err, errIntricate) {
			return errIntricate
		}
		return err
	}
	return nil
}
