package lettering_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"pgregory.net/rapid"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// requirePoint compares places to a ten-thousandth of a millimetre.
func requirePoint(t require.TestingT, want, got layout.Point, say ...any) {
	require.InDelta(t, float64(want.X), float64(got.X), 1e-4, say...)
	require.InDelta(t, float64(want.Y), float64(got.Y), 1e-4, say...)
}

func TestLayoutSaysWhatIsWrong(t *testing.T) {
	fonts := builtIn(t)
	cases := []struct {
		name string
		line lettering.Line
		want string
	}{
		{"range", lettering.Line{Text: "a", Font: "sans", CapHeight: 0.1}, `line 2 ("a"): cap height 0.1 mm is out of range`},
		{"no such font", lettering.Line{Text: "a", Font: "mine", CapHeight: 5}, `there is no font "mine": choose another one, or add its file`},
		{"one letter missing", lettering.Line{Text: "a♥b♥", Font: "sans", CapHeight: 5}, `the font "sans" has no "♥": choose another font or other letters`},
		{"several missing", lettering.Line{Text: "HIll abcdefgh", Font: "plain", CapHeight: 5}, `the font "plain" has no "a", no "b", no "c", no "d", no "e", no 3 more: choose`},
		{"a mark missing", lettering.Line{Text: "H\u0301", Font: "plain", CapHeight: 5}, "has no \"H\u0301\": choose"},
		{"unseen only", lettering.Line{Text: "\u00ad", Font: "plain", CapHeight: 5}, `font "plain" draws nothing for this text`},
		{"round and round", lettering.Line{Text: strings.Repeat("H", 12), Font: "plain", CapHeight: 7, ArcRadius: 10},
			"its letters take 82 mm and the circle of radius 10 mm is only 62.83 mm round: choose a larger radius"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			_, err := lettering.Layout([]lettering.Line{goodLine(), c.line}, fonts)
			require.ErrorContains(t, err, c.want)
			require.ErrorContains(t, err, "line 2 (")
		})
	}
	_, err := lettering.Layout(make([]lettering.Line, 101), fonts)
	require.ErrorContains(t, err, "101 lines of lettering: keep to 100")
	long, err := lettering.Layout([]lettering.Line{{Text: strings.Repeat("%", 500), Font: "brush", CapHeight: 1}}, fonts)
	require.NoError(t, err)
	require.Len(t, long[0].Glyphs, 500)
}

// The I of the sans fonts is a rectangle. Its place is worked out from the
// outline's own numbers, as the parser gives them.
func TestLetterOfKnownOutline(t *testing.T) {
	fonts := builtIn(t)
	for _, name := range []string{"sans", "sans-bold", "narrow"} {
		t.Run(name, func(t *testing.T) {
			data, _ := assets.Font(name)
			parsed, err := sfnt.Parse(data)
			require.NoError(t, err)
			unit := fixed.Int26_6(parsed.UnitsPerEm())
			bounds := func(r rune) (fixed.Rectangle26_6, fixed.Int26_6) {
				var buffer sfnt.Buffer
				index, err := parsed.GlyphIndex(&buffer, r)
				require.NoError(t, err)
				b, advance, err := parsed.GlyphBounds(&buffer, index, unit, font.HintingNone)
				require.NoError(t, err)
				return b, advance
			}
			i, advance := bounds('I')
			h, _ := bounds('H')
			perUnit := 20 / float64(-h.Min.Y)

			p := place(t, fonts, lettering.Line{Text: "II", Font: name, CapHeight: 20, At: layout.Point{X: 3, Y: 4}, Align: lettering.Left})
			require.Len(t, p.Glyphs[0].Path, 5, "a rectangle")
			stem := perUnit * float64(i.Max.X-i.Min.X)
			corners := p.Bounds.Corners()
			requirePoint(t, layout.Point{X: 3, Y: 4 + layout.MM(perUnit*float64(-i.Min.Y))}, corners[0])
			requirePoint(t, layout.Point{X: 3 + layout.MM(stem+perUnit*float64(advance)), Y: 4}, corners[2])
		})
	}
}

// H of the plain font is 500 of 700 units wide, 100 from its origin, and advances 700.
func TestAlignment(t *testing.T) {
	fonts := builtIn(t)
	for _, c := range []struct {
		align       lettering.Align
		left, right layout.MM
	}{{lettering.Left, 5, 17}, {lettering.Centre, -1, 11}, {"", -1, 11}, {lettering.Right, -7, 5}} {
		t.Run(string(c.align), func(t *testing.T) {
			p := place(t, fonts, lettering.Line{Text: " HH", Font: "plain", CapHeight: 7, Align: c.align, At: layout.Point{X: 5, Y: -2}})
			corners := p.Bounds.Corners()
			requirePoint(t, layout.Point{X: c.left, Y: 5}, corners[0])
			requirePoint(t, layout.Point{X: c.right, Y: -2}, corners[2])
			require.Equal(t, p.Bounds.Corners(), p.Frame, "a straight line's frame is upright")
		})
	}
}

func TestSpacing(t *testing.T) {
	fonts := builtIn(t)
	width := func(text string, spacing layout.MM) float64 {
		return float64(place(t, fonts, lettering.Line{Text: text, Font: "plain", CapHeight: 7, Spacing: spacing}).Bounds.Size.W)
	}
	require.InDelta(t, 5, width("H", 3), 1e-9, "none beside a single letter")
	require.InDelta(t, 12+3, width("HH", 3), 1e-9)
	require.InDelta(t, 12-3.5, width("HH", -3.5), 1e-9)
	require.InDelta(t, 12+3+2*3, width("H H", 3), 1e-9, "a space is a letter")
}

// middle is the middle of a glyph's baseline, for letters that stand on it with
// both feet: between its lowest points.
func middle(p lettering.Placed, i int) (at layout.Point, up float64) {
	path := p.Glyphs[i].Path // I: lower left, upper left, upper right, lower right
	low := layout.Point{X: (path[0].P[0].X + path[3].P[0].X) / 2, Y: (path[0].P[0].Y + path[3].P[0].Y) / 2}
	high := layout.Point{X: (path[1].P[0].X + path[2].P[0].X) / 2, Y: (path[1].P[0].Y + path[2].P[0].Y) / 2}
	return low, math.Atan2(float64(high.Y-low.Y), float64(high.X-low.X))
}

// On an arc the feet of the letters lie on the circle, as far apart along it as
// along a straight line, and point away from its centre, or at it.
func TestArc(t *testing.T) {
	fonts := builtIn(t)
	const advance = 3 // of an I at this size
	for _, radius := range []layout.MM{30, -30} {
		for _, c := range []struct {
			align lettering.Align
			first float64 // where the first letter stands along the circle
		}{{lettering.Centre, -2 * advance}, {lettering.Left, 0.5}, {lettering.Right, -4*advance - 0.5}} {
			t.Run(fmt.Sprint(radius, c.align), func(t *testing.T) {
				at := layout.Point{X: 10, Y: 20}
				p := place(t, fonts, lettering.Line{Text: "IIIII", Font: "plain", CapHeight: 7, ArcRadius: radius, At: at, Align: c.align})
				centre := layout.Point{X: at.X, Y: at.Y - radius}
				for i := range 5 {
					got, up := middle(p, i)
					s := c.first + float64(i)*advance
					angle := s / float64(radius)
					want := layout.Point{X: centre.X + radius*layout.MM(math.Sin(angle)), Y: centre.Y + radius*layout.MM(math.Cos(angle))}
					require.InDelta(t, 30, math.Hypot(float64(got.X-centre.X), float64(got.Y-centre.Y)), 1e-6)
					requirePoint(t, want, got, "letter %d", i)
					require.InDelta(t, math.Pi/2-angle, up, 1e-9, "letter %d stands upright on the circle", i)
				}
				if c.align == lettering.Centre {
					got, up := middle(p, 2)
					requirePoint(t, at, got, "the middle letter stands at the anchor")
					require.InDelta(t, math.Pi/2, up, 1e-9)
				}
			})
		}
	}
}

func TestWideArcIsNearlyStraight(t *testing.T) {
	fonts := builtIn(t)
	straight := place(t, fonts, lettering.Line{Text: "Straight on", Font: "serif", CapHeight: 5})
	bent := place(t, fonts, lettering.Line{Text: "Straight on", Font: "serif", CapHeight: 5, ArcRadius: 10_000})
	for i := range straight.Frame {
		require.InDelta(t, float64(straight.Frame[i].X), float64(bent.Frame[i].X), 0.02)
		require.InDelta(t, float64(straight.Frame[i].Y), float64(bent.Frame[i].Y), 0.05)
	}
}

// A line turned about its anchor is the line with every point turned.
func TestRotation(t *testing.T) {
	fonts := builtIn(t)
	rapid.Check(t, func(t *rapid.T) {
		line := lettering.Line{
			Text: rapid.SampledFrom([]string{"H", "HI l-", "ll"}).Draw(t, "text"), Font: "plain", CapHeight: 7,
			At:        layout.Point{X: layout.MM(rapid.IntRange(-100, 100).Draw(t, "x")), Y: layout.MM(rapid.IntRange(-100, 100).Draw(t, "y"))},
			Align:     rapid.SampledFrom([]lettering.Align{lettering.Left, lettering.Centre, lettering.Right}).Draw(t, "align"),
			ArcRadius: layout.MM(rapid.SampledFrom([]float64{0, 20, -20}).Draw(t, "radius")),
		}
		level, err := lettering.Layout([]lettering.Line{line}, fonts)
		require.NoError(t, err)
		line.RotationDegrees = rapid.Float64Range(-360, 360).Draw(t, "degrees")
		turned, err := lettering.Layout([]lettering.Line{line}, fonts)
		require.NoError(t, err)
		sin, cos := math.Sincos(line.RotationDegrees * math.Pi / 180)
		turn := func(p layout.Point) layout.Point {
			x, y := float64(p.X-line.At.X), float64(p.Y-line.At.Y)
			return layout.Point{X: line.At.X + layout.MM(cos*x-sin*y), Y: line.At.Y + layout.MM(sin*x+cos*y)}
		}
		for i, corner := range level[0].Frame {
			requirePoint(t, turn(corner), turned[0].Frame[i])
		}
		for i, g := range level[0].Glyphs {
			for j, s := range g.Path {
				requirePoint(t, turn(s.P[0]), turned[0].Glyphs[i].Path[j].P[0])
			}
		}
		// The upright bounds hold the frame's ink: no larger than the frame's own.
		for _, corner := range turned[0].Bounds.Corners() {
			var low, high layout.Point
			for i, f := range turned[0].Frame {
				if i == 0 {
					low, high = f, f
				}
				low, high = layout.Point{X: min(low.X, f.X), Y: min(low.Y, f.Y)}, layout.Point{X: max(high.X, f.X), Y: max(high.Y, f.Y)}
			}
			require.True(t, corner.X >= low.X-1e-6 && corner.X <= high.X+1e-6 && corner.Y >= low.Y-1e-6 && corner.Y <= high.Y+1e-6)
		}
	})
}

// Letters written with their marks apart come out as the font's own where it has
// them; otherwise the marks go over and under the letter.
func TestMarks(t *testing.T) {
	fonts := builtIn(t)
	one := place(t, fonts, lettering.Line{Text: "naïve é", Font: "serif", CapHeight: 5})
	apart := place(t, fonts, lettering.Line{Text: "nai\u0308ve e\u0301", Font: "serif", CapHeight: 5})
	require.Equal(t, one.Bounds, apart.Bounds)
	require.Empty(t, apart.Cautions)

	for _, base := range []string{"x", "X"} {
		bare := place(t, fonts, lettering.Line{Text: base, Font: "sans", CapHeight: 10})
		over := place(t, fonts, lettering.Line{Text: base + "\u0301", Font: "sans", CapHeight: 10})
		twice := place(t, fonts, lettering.Line{Text: base + "\u0301\u0302", Font: "sans", CapHeight: 10})
		under := place(t, fonts, lettering.Line{Text: base + "\u0323", Font: "sans", CapHeight: 10})
		require.Len(t, over.Cautions, 1)
		top := func(p lettering.Placed) layout.MM { return p.Bounds.Corners()[0].Y }
		foot := func(p lettering.Placed) layout.MM { return p.Bounds.Corners()[2].Y }
		require.Greater(t, top(over), top(bare)+1, "%s", base)
		require.Greater(t, top(twice), top(over)+1, "%s", base)
		require.InDelta(t, float64(foot(bare)), float64(foot(over)), 1e-9)
		require.Less(t, foot(under), foot(bare)-1, "%s", base)
		require.InDelta(t, float64(bare.Bounds.Size.W), float64(under.Bounds.Size.W), 1e-3, "a dot is no wider than its letter")
	}
}

func TestStandIns(t *testing.T) {
	fonts := builtIn(t)
	require.Equal(t,
		place(t, fonts, lettering.Line{Text: "H H-l", Font: "plain", CapHeight: 5}).Bounds,
		place(t, fonts, lettering.Line{Text: "H\u00a0H\u2011l", Font: "plain", CapHeight: 5}).Bounds)
}
