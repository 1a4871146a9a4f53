package lettering_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// Glyphs of the plain font: H is 1, I is 2, l is 3, the dash 4.

// oldKerning is a kern table that draws H and I together by 70 units.
func oldKerning() []byte {
	pairs := append(be16(1, 2, -70), be16(3, 3, 35)...)
	return append(be16(0, 1, 0, 6+8+len(pairs), 0x0001, 2, 0, 0, 0), pairs...)
}

// positions is a GPOS table whose kern feature has one lookup with one subtable.
func positions(kind int, subtable []byte) []byte {
	lookup := append(be16(kind, 0, 1, 8), subtable...)
	lookups := append(be16(1, 4), lookup...)
	features := append(append(be16(1), "kern"...), be16(8, 0, 1, 0)...)
	return append(append(be16(1, 0, 0, 10, 10+len(features)), features...), lookups...)
}

func TestKerningTables(t *testing.T) {
	covers := func(glyphs ...int) []byte { return append(be16(1, len(glyphs)), be16(glyphs...)...) }
	// Pairs: format 1, coverage at 12, advance of the first only, one set at 18.
	pair := append(be16(1, 12, 4, 0, 1, 18), covers(1)...)
	pair = append(pair, be16(1, 2, -70)...)
	// The same with placements before the advance, and a number of the second after it.
	wide := append(be16(1, 12, 7, 4, 1, 18), covers(1)...)
	wide = append(wide, be16(1, 2, 9, 9, -70, 9)...)
	// Classes: I alone is of class 1 as the second; coverage of H.
	classes := append(be16(2, 20, 4, 0, 26, 34, 1, 2, 0, -70), covers(1)...)
	classes = append(classes, be16(1, 1, 1, 0)...)                     // H: class 0
	classes = append(classes, be16(2, 1, 2, 2, 1)...)                  // I: class 1
	ranged := append(be16(1, 12, 4, 0, 1, 22), be16(2, 1, 1, 1, 0)...) // coverage by range
	ranged = append(ranged, be16(1, 2, -70)...)
	far := append(be16(1, 2), be32(8)...) // a subtable elsewhere

	cases := []struct {
		name string
		more map[string][]byte
		want layout.MM // between H and I
	}{
		{"none", nil, 0},
		{"the older table", map[string][]byte{"kern": oldKerning()}, -0.1},
		{"pairs", map[string][]byte{"GPOS": positions(2, pair)}, -0.1},
		{"pairs with placements", map[string][]byte{"GPOS": positions(2, wide)}, -0.1},
		{"pairs covered by range", map[string][]byte{"GPOS": positions(2, ranged)}, -0.1},
		{"classes", map[string][]byte{"GPOS": positions(2, classes)}, -0.1},
		{"an extension", map[string][]byte{"GPOS": positions(9, append(far, pair...))}, -0.1},
		{"another kind of lookup", map[string][]byte{"GPOS": positions(1, pair)}, 0},
		{"both: the newer counts", map[string][]byte{"GPOS": positions(2, pair), "kern": append(oldKerning()[:18], be16(1, 2, -140, 3, 3, 35)...)}, -0.1},
		{"cut short", map[string][]byte{"GPOS": positions(2, pair)[:40]}, 0},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			font, err := lettering.ParseFont("plain", plainFont(c.more))
			require.NoError(t, err)
			require.InDelta(t, float64(c.want), float64(font.Kerning('H', 'I')), 1e-9)
			require.Zero(t, font.Kerning('I', 'H'))
			require.Zero(t, font.Kerning('H', 'H'))
			require.Zero(t, font.Kerning('H', '?'), "not in the font")
		})
	}
}

func TestKerningMovesLetters(t *testing.T) {
	fonts := builtIn(t)
	require.NoError(t, fonts.Add("kerned", plainFont(map[string][]byte{"kern": oldKerning()})))
	width := func(font, text string) float64 {
		return float64(place(t, fonts, lettering.Line{Text: text, Font: font, CapHeight: 7}).Bounds.Size.W)
	}
	require.InDelta(t, width("plain", "HI")-0.7, width("kerned", "HI"), 1e-9)
	require.InDelta(t, width("plain", "ll")+0.35, width("kerned", "ll"), 1e-9)
	require.InDelta(t, width("plain", "IH"), width("kerned", "IH"), 1e-9)
}
