package lettering_test

import (
	"context"
	"testing"

	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// FuzzFont reads any bytes as a font and draws with it: an error or letters, and
// never a panic, whatever the bytes.
func FuzzFont(f *testing.F) {
	f.Add(plainFont(nil))
	f.Add(plainFont(map[string][]byte{"kern": oldKerning()}))
	f.Add(makeFont([]madeGlyph{{letter: 'H', advance: 700, raw: compoundGlyph(0, 2)}, {letter: 'I', contours: []polygon{box(0, 0, 9, 9)}}}, nil))
	f.Add(subroutineTower())
	f.Add([]byte("OTTO\x00\x00\x00\x00\x00\x00\x00\x00"))
	pl := board(f, 20, 20, 0.5)
	f.Fuzz(func(t *testing.T, data []byte) {
		fonts := lettering.NewFonts(nil)
		if fonts.Add("fuzz", data) != nil {
			return
		}
		for _, text := range []string{"HI l-", "I\u0301", "é"} {
			placed, err := lettering.Layout([]lettering.Line{
				{Text: text, Font: "fuzz", CapHeight: 9, Burn: true, Margin: 0.5},
				{Text: text, Font: "fuzz", CapHeight: 5, ArcRadius: -15, RotationDegrees: 33},
			}, fonts)
			if err != nil {
				continue
			}
			burn, keep, err := lettering.Rasterise(context.Background(), placed, pl)
			if err != nil {
				t.Fatal(err)
			}
			requireDisjoint(t, burn, keep)
			lettering.CheckStroke(placed[0], 0.1, 0.1)
			lettering.CheckPlace(placed[1], pl)
			if _, _, err := lettering.Draw(context.Background(), placed, layout.Area{Size: layout.Size{W: 20, H: 20}}, 40, 40); err != nil {
				t.Fatal(err)
			}
		}
	})
}

// FuzzText lays out any text in a font that has few letters and in one that has many.
func FuzzText(f *testing.F) {
	for _, text := range []string{"Hand", "e\u0301\u0323", "سلام", "a\x00b", "\xff", "𝔘\u200d♥", "한글", "\u0301"} {
		f.Add(text, 5.0, 0.0)
	}
	fonts := builtIn(f)
	f.Fuzz(func(t *testing.T, text string, size, arc float64) {
		for _, font := range []string{"plain", "sans"} {
			line := lettering.Line{Text: text, Font: font, CapHeight: layout.MM(size), ArcRadius: layout.MM(arc)}
			placed, err := lettering.Layout([]lettering.Line{line}, fonts)
			if err != nil {
				continue
			}
			if line.Validate() != nil {
				t.Fatal("a line that does not validate was laid out")
			}
			w, h := placed[0].Bounds.Size.W, placed[0].Bounds.Size.H
			if !(w >= 0 && h >= 0 && w+h > 0) {
				t.Fatalf("ink of %g x %g mm", w, h)
			}
		}
	})
}
