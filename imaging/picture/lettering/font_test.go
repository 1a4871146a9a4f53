package lettering_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

func TestWhatIsNoFont(t *testing.T) {
	plain := plainFont(nil)
	cases := []struct {
		name string
		data []byte
		want string
	}{
		{"nothing", nil, "neither TTF nor OTF"},
		{"a picture", []byte("\x89PNG\r\n\x1a\n"), "neither TTF nor OTF"},
		{"a web font", []byte("wOF2\x00\x01\x00\x00"), "web font (WOFF): choose the TTF or OTF file"},
		{"a collection", []byte("ttcf\x00\x01\x00\x00"), "a collection of fonts: choose a TTF or OTF file with a single one"},
		{"too large", append(plain, make([]byte, lettering.MaxFontBytes)...), "are the most: choose a smaller file"},
		{"no tables", []byte("\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00"), "invalid"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := lettering.ParseFont("mine", c.data)
			require.ErrorContains(t, err, `font "mine" cannot be used: `)
			require.ErrorContains(t, err, c.want)
		})
	}
}

// useFont does with a font all that a line does.
func useFont(name string, data []byte) error {
	fonts := lettering.NewFonts(nil)
	if err := fonts.Add(name, data); err != nil {
		return err
	}
	placed, err := lettering.Layout([]lettering.Line{{Text: "HI-lÅx", Font: name, CapHeight: 5}}, fonts)
	if err != nil {
		return err
	}
	lettering.CheckStroke(placed[0], 0.1, 0.1)
	return nil
}

func TestDamagedFontsNeverPanic(t *testing.T) {
	names := []string{"sans", "brush"} // TrueType and PostScript outlines
	for _, name := range names {
		data, _ := assets.Font(name)
		random := rand.New(rand.NewPCG(1, 2))
		refused := 0
		for range 25 {
			if useFont("cut", data[:random.IntN(len(data))]) != nil {
				refused++
			}
		}
		require.Greater(t, refused, 20, "%s: a font that ends early is refused", name)
		for range 25 {
			damaged := append([]byte(nil), data...)
			for range 1 + random.IntN(200) {
				damaged[random.IntN(len(damaged))] = byte(random.IntN(256))
			}
			_ = useFont("damaged", damaged) // refused or not, it comes back
			for range 20 {                  // the directory and the first tables
				damaged[random.IntN(600)] = byte(random.IntN(256))
			}
			_ = useFont("damaged", damaged)
		}
	}
}

func TestFontsThatMultiplyAreStopped(t *testing.T) {
	big := make(polygon, 2000)
	for i := range big {
		big[i] = [2]int{i % 700, (i * 7) % 700}
	}
	same := func(n, of int) []int {
		parts := make([]int, n)
		for i := range parts {
			parts[i] = of
		}
		return parts
	}
	// Seven levels of eight parts: two million times the first glyph.
	tower := []madeGlyph{{contours: []polygon{big}}}
	for level := range 6 {
		tower = append(tower, madeGlyph{raw: compoundGlyph(same(8, level+1)...)})
	}
	tower = append(tower, madeGlyph{letter: 'H', advance: 700, raw: compoundGlyph(same(8, 7)...)})
	// One contour of 65 536 points in few bytes: a flag that repeats 255 times.
	points := append(be16(1, 0, 0, 0, 0, 0xffff, 0), make([]byte, 0)...)
	for range 256 {
		points = append(points, 0x39, 255) // on the curve, x and y unchanged, repeated
	}
	many := madeGlyph{letter: 'H', advance: 700, raw: points}
	nested := []madeGlyph{{raw: points}, {letter: 'H', advance: 700, raw: compoundGlyph(same(60, 1)...)}}

	cases := map[string][]byte{
		"glyphs of glyphs":       makeFont(tower, nil),
		"points in few bytes":    makeFont([]madeGlyph{many}, nil),
		"both":                   makeFont(nested, nil),
		"subroutines of its own": subroutineTower(),
	}
	for name, data := range cases {
		t.Run(name, func(t *testing.T) {
			fonts := lettering.NewFonts(nil)
			err := fonts.Add("tower", data)
			if err == nil {
				_, err = lettering.Layout([]lettering.Line{{Text: "H", Font: "tower", CapHeight: 5}}, fonts)
			}
			require.Error(t, err)
			require.Regexp(t, "more work than a font should|outline has \\d+ pieces", err.Error())
		})
	}
}

// subroutineTower is a PostScript font whose H calls a subroutine 100 times which
// calls another 100 times, nine deep.
// Source: Adobe Technical Notes 5176, The Compact Font Format, sections 5 to 16,
// and 5177, The Type 2 Charstring Format, section 4, from memory.
func subroutineTower() []byte {
	index := func(items ...[]byte) []byte {
		if len(items) == 0 {
			return be16(0)
		}
		out := append(be16(len(items)), 4)
		at := 1
		out = append(out, be32(at)...)
		for _, item := range items {
			at += len(item)
			out = append(out, be32(at)...)
		}
		for _, item := range items {
			out = append(out, item...)
		}
		return out
	}
	const bias, callGlobal, giveBack, end, line = 107, 29, 11, 14, 5
	number := func(n int) byte { return byte(n + 139) }
	var subroutines [][]byte
	for level := range 8 {
		var calls []byte
		for range 100 {
			calls = append(calls, number(level+1-bias), callGlobal)
		}
		subroutines = append(subroutines, append(calls, giveBack))
	}
	subroutines = append(subroutines, []byte{number(1), number(1), line, giveBack})
	glyph := []byte{number(0), number(0), 21, number(-bias), callGlobal, end} // move, call the first
	start := append([]byte{1, 0, 4, 4}, index([]byte("T"))...)
	rest := append(index(), index(subroutines...)...)
	// The top dictionary: offsets as numbers of five bytes, so that its length is known.
	const topLength = 5 + 1 + 5 + 5 + 1
	charStrings := len(start) + len(index(make([]byte, topLength))) + len(rest)
	glyphs := index([]byte{end}, glyph)
	private := charStrings + len(glyphs)
	top := append([]byte{29}, be32(charStrings)...)
	top = append(append(append(top, 17, 29), be32(0)...), append([]byte{29}, be32(private)...)...)
	top = append(top, 18)
	cff := append(append(append(start, index(top)...), rest...), glyphs...)

	font := makeFont([]madeGlyph{{letter: 'H', advance: 700}}, nil)
	tables := map[string][]byte{"CFF ": cff, "maxp": append(be32(0x5000), be16(2)...)}
	for i := range int(font[5]) {
		entry := font[12+16*i:]
		tag := string(entry[:4])
		if strings.Contains("cmap head hhea hmtx post", tag) {
			at, n := int(entry[10])<<8|int(entry[11]), int(entry[14])<<8|int(entry[15])
			tables[tag] = font[at : at+n]
		}
	}
	return assemble("OTTO", tables)
}

func TestFontsShareNothingWithTheCaller(t *testing.T) {
	data := plainFont(nil)
	font, err := lettering.ParseFont("mine", data)
	require.NoError(t, err)
	for i := range data {
		data[i] = 0
	}
	require.True(t, font.Has('l'))
	require.Equal(t, "mine", font.FullName(), "it has no name of its own")
}

// The height of the capital H is 1 mm, whatever the font's units; the em follows.
func TestCapHeightOfEveryFont(t *testing.T) {
	fonts := builtIn(t)
	for _, name := range append(assets.FontNames(), "plain") {
		t.Run(name, func(t *testing.T) {
			for _, size := range []layout.MM{0.5, 7.3, 500} {
				p := place(t, fonts, lettering.Line{Text: "H", Font: name, CapHeight: size})
				top := p.Bounds.Corners()[0].Y // from the baseline
				require.InEpsilon(t, float64(size), float64(top), 1e-4)
			}
			font, err := fonts.Font(name)
			require.NoError(t, err)
			require.InDelta(t, 1.5, float64(font.EmMM()), 0.35, "common fonts have a cap height of 0.55 to 0.85 em")
		})
	}
}

// Without any capital of the Latin alphabet the em counts.
func TestCapHeightWithoutCapitals(t *testing.T) {
	fonts := lettering.NewFonts(nil)
	require.NoError(t, fonts.Add("signs", makeFont([]madeGlyph{{letter: '-', advance: 500, contours: []polygon{box(0, 0, 500, 350)}}}, nil)))
	p := place(t, fonts, lettering.Line{Text: "-", Font: "signs", CapHeight: 7})
	require.InDelta(t, 3.5, float64(p.Bounds.Size.H), 1e-9, "350 of 700 units: half the cap height")
}

// Kerning is read from the tables here; the parser's own reading is the check.
// It lists every pair of ASCII letters in every built-in font.
func TestKerningAgreesWithTheParser(t *testing.T) {
	fonts := builtIn(t)
	for _, name := range assets.FontNames() {
		t.Run(name, func(t *testing.T) {
			data, _ := assets.Font(name)
			parsed, err := sfnt.Parse(data)
			require.NoError(t, err)
			own, err := fonts.Font(name)
			require.NoError(t, err)
			unit := fixed.Int26_6(parsed.UnitsPerEm())
			var buffer sfnt.Buffer
			kerned := 0
			for a := '!'; a <= '~'; a++ {
				for b := '!'; b <= '~'; b++ {
					x, _ := parsed.GlyphIndex(&buffer, a)
					y, _ := parsed.GlyphIndex(&buffer, b)
					want, err := parsed.Kern(&buffer, x, y, unit, font.HintingNone)
					if err != nil {
						want = 0
					}
					if want != 0 {
						kerned++
					}
					got := own.Kerning(a, b) / own.EmMM() * layout.MM(unit)
					require.InDelta(t, float64(want), float64(got), 1e-6, "%c%c", a, b)
				}
			}
			t.Logf("%d pairs are kerned", kerned)
			require.NotZero(t, kerned)
		})
	}
}
