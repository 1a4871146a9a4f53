package lettering_test

import (
	"context"
	"fmt"
	"image"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/assets"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// board is a raster of w x h mm round the panel's centre.
func board(t testing.TB, w, h, pitch layout.MM) layout.Placement {
	t.Helper()
	pl, err := layout.Place(layout.Panel{Kind: layout.Board, Size: layout.Size{W: w + 4, H: h + 4}}, layout.Even(2), pitch)
	require.NoError(t, err)
	return pl
}

func masks(t testing.TB, placed []lettering.Placed, pl layout.Placement) (burn, keep *plane.Bits) {
	t.Helper()
	burn, keep, err := lettering.Rasterise(context.Background(), placed, pl)
	require.NoError(t, err)
	require.Equal(t, [4]int{pl.Grid.Cols, pl.Grid.Rows, pl.Grid.Cols, pl.Grid.Rows}, [4]int{burn.W, burn.H, keep.W, keep.H})
	return burn, keep
}

// requireDisjoint wants no dot in both masks and nothing past a row's end.
func requireDisjoint(t require.TestingT, burn, keep *plane.Bits) {
	var both, past byte
	for i := range burn.Pix {
		both |= burn.Pix[i] & keep.Pix[i]
	}
	for y := range burn.H {
		for _, b := range []*plane.Bits{burn, keep} {
			row := b.Row(y)
			past |= row[len(row)-1] & (0xff >> (8 - (len(row)*8 - b.W)))
		}
	}
	require.Zero(t, both, "dots in both masks")
	require.Zero(t, past, "bits past the last dot")
}

// centre is the middle of a dot.
func centre(pl layout.Placement, x, y int) layout.Point {
	return layout.Point{X: pl.Corners[0].X + (layout.MM(x)+0.5)*pl.Grid.Pitch, Y: pl.Corners[0].Y - (layout.MM(y)+0.5)*pl.Grid.Pitch}
}

// The plain font's I is 1 x 7 mm at a cap height of 7 mm: a rectangle of dots,
// each edge within half a dot of where it belongs.
func TestKnownLetterInDots(t *testing.T) {
	fonts := builtIn(t)
	for _, pitch := range []layout.MM{0.05, 0.08, 0.127} {
		for _, at := range []layout.Point{{}, {X: 3.333, Y: -4.321}} {
			t.Run(fmt.Sprint(pitch, at), func(t *testing.T) {
				pl := board(t, 30, 30, pitch)
				p := place(t, fonts, lettering.Line{Text: "I", Font: "plain", CapHeight: 7, At: at, Burn: true})
				burn, keep := masks(t, []lettering.Placed{p}, pl)
				require.Zero(t, keep.Count())
				minX, minY, maxX, maxY := burn.W, burn.H, -1, -1
				for y := range burn.H {
					for x := range burn.W {
						if burn.At(x, y) {
							minX, minY, maxX, maxY = min(minX, x), min(minY, y), max(maxX, x), max(maxY, y)
						}
					}
				}
				require.Equal(t, (maxX-minX+1)*(maxY-minY+1), burn.Count(), "a full rectangle")
				upper, lower := centre(pl, minX, minY), centre(pl, maxX, maxY)
				half := float64(pitch) / 2
				require.InDelta(t, float64(at.X)-0.5, float64(upper.X)-half, half)
				require.InDelta(t, float64(at.X)+0.5, float64(lower.X)+half, half)
				require.InDelta(t, float64(at.Y)+7, float64(upper.Y)+half, half)
				require.InDelta(t, float64(at.Y), float64(lower.Y)-half, half)
			})
		}
	}
}

// finely cuts an outline into short straight pieces, contour by contour, each
// closed.
func finely(path lettering.Path) [][]layout.Point {
	var contours [][]layout.Point
	for _, s := range path {
		n := len(contours) - 1
		switch s.Op {
		case lettering.MoveTo:
			contours = append(contours, []layout.Point{s.P[0]})
		case lettering.LineTo:
			contours[n] = append(contours[n], s.P[0])
		default:
			from := contours[n][len(contours[n])-1]
			for i := 1; i <= 40; i++ {
				contours[n] = append(contours[n], bezier(from, s, float64(i)/40))
			}
		}
	}
	return contours
}

// seen is what a point sees of contours: whether they wind round it, by the angle
// that they turn through, and how far the nearest of their corners is.
func seen(contours [][]layout.Point, p layout.Point) (inside bool, nearest float64) {
	turned, nearest := 0.0, math.Inf(1)
	for _, c := range contours {
		last := c[len(c)-1]
		before := math.Atan2(float64(last.Y-p.Y), float64(last.X-p.X))
		for _, q := range c {
			angle := math.Atan2(float64(q.Y-p.Y), float64(q.X-p.X))
			turned += math.Remainder(angle-before, 2*math.Pi)
			nearest = min(nearest, math.Hypot(float64(q.X-p.X), float64(q.Y-p.Y)))
			before = angle
		}
	}
	return math.Round(turned/(2*math.Pi)) != 0, nearest
}

// bezier is a point of a curve, by de Casteljau's halving.
func bezier(from layout.Point, s lettering.Segment, t float64) layout.Point {
	points := []layout.Point{from, s.P[0], s.P[1]}
	if s.Op == lettering.CubeTo {
		points = append(points, s.P[2])
	}
	for n := len(points) - 1; n > 0; n-- {
		for i := range n {
			points[i] = layout.Point{
				X: points[i].X + layout.MM(t)*(points[i+1].X-points[i].X),
				Y: points[i].Y + layout.MM(t)*(points[i+1].Y-points[i].Y),
			}
		}
	}
	return points[0]
}

func TestDotsAreThoseWhoseCentreLiesInside(t *testing.T) {
	fonts := builtIn(t)
	const pitch = 0.2
	pl := board(t, 9, 6, pitch)
	for _, name := range []string{"serif", "brush", "round"} {
		t.Run(name, func(t *testing.T) {
			p := place(t, fonts, lettering.Line{Text: "&g", Font: name, CapHeight: 3, Burn: true, RotationDegrees: 17, At: layout.Point{Y: -1}})
			burn, _ := masks(t, []lettering.Placed{p}, pl)
			require.Greater(t, burn.Count(), 80)
			for y := range burn.H {
				for x := range burn.W {
					c, inside, near := centre(pl, x, y), false, false
					for _, g := range p.Glyphs {
						in, nearest := seen(finely(g.Path), c)
						inside, near = inside || in, near || nearest < pitch/7
					}
					if inside != burn.At(x, y) && !near {
						t.Fatalf("dot (%d, %d): inside is %v", x, y, inside)
					}
				}
			}
		})
	}
}

// The margin is all that lies within its distance of the letters.
func TestMargin(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 30, 20, 0.1)
	const x0, x1, y1 = -0.5, 0.5, 7 // of the plain I
	for _, burned := range []bool{true, false} {
		t.Run(fmt.Sprint("burned ", burned), func(t *testing.T) {
			p := place(t, fonts, lettering.Line{Text: "I", Font: "plain", CapHeight: 7, Burn: burned, Margin: 1.5})
			burn, keep := masks(t, []lettering.Placed{p}, pl)
			requireDisjoint(t, burn, keep)
			for y := range burn.H {
				for x := range burn.W {
					c := centre(pl, x, y)
					dx := max(x0-float64(c.X), 0, float64(c.X)-x1)
					dy := max(-float64(c.Y), 0, float64(c.Y)-y1)
					away := math.Hypot(dx, dy)
					if math.Abs(away-1.5) < 1e-9 || away == 0 && (math.Abs(float64(c.X)-x0) < 1e-9 || math.Abs(float64(c.X)-x1) < 1e-9) {
						continue // on the line itself
					}
					require.Equal(t, burned && away == 0, burn.At(x, y), "burn at %v", c)
					require.Equal(t, away <= 1.5 && !(burned && away == 0), keep.At(x, y), "keep at %v", c)
				}
			}
		})
	}
}

// drawnLines draws up to four lines of all kinds.
func drawnLines(t *rapid.T) []lettering.Line {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) lettering.Line {
		return lettering.Line{
			Text:            rapid.SampledFrom([]string{"Hand", "O", "“8%”", "gjß", "I l-"}).Draw(t, "text"),
			Font:            rapid.SampledFrom([]string{"serif", "brush", "sans-bold", "script"}).Draw(t, "font"),
			CapHeight:       layout.MM(rapid.Float64Range(0.5, 30).Draw(t, "height")),
			At:              layout.Point{X: layout.MM(rapid.Float64Range(-20, 20).Draw(t, "x")), Y: layout.MM(rapid.Float64Range(-20, 20).Draw(t, "y"))},
			RotationDegrees: rapid.Float64Range(-180, 180).Draw(t, "degrees"),
			Burn:            rapid.Bool().Draw(t, "burn"),
			Margin:          layout.MM(rapid.SampledFrom([]float64{0, 0, 0.3, 4}).Draw(t, "margin")),
		}
	}), 1, 4).Draw(t, "lines")
}

func TestPartsAgreeWithTheWhole(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 37, 29, 0.21)
	rapid.Check(t, func(rt *rapid.T) {
		placed, err := lettering.Layout(drawnLines(rt), fonts)
		require.NoError(rt, err)
		burn, keep := masks(t, placed, pl)
		requireDisjoint(rt, burn, keep)
		x0, y0 := rapid.IntRange(0, burn.W-1).Draw(rt, "x0"), rapid.IntRange(0, burn.H-1).Draw(rt, "y0")
		part := image.Rect(x0, y0, rapid.IntRange(x0+1, burn.W).Draw(rt, "x1"), rapid.IntRange(y0+1, burn.H).Draw(rt, "y1"))
		someBurn, someKeep, err := lettering.RasterisePart(context.Background(), placed, pl, part)
		require.NoError(rt, err)
		requireDisjoint(rt, someBurn, someKeep)
		for y := range part.Dy() {
			for x := range part.Dx() {
				if burn.At(x0+x, y0+y) != someBurn.At(x, y) || keep.At(x0+x, y0+y) != someKeep.At(x, y) {
					rt.Fatalf("dot (%d, %d) of the whole differs", x0+x, y0+y)
				}
			}
		}
	})
}

func TestLaterLinesLieOverEarlierOnes(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 20, 20, 0.1)
	burned := lettering.Line{Text: "I", Font: "plain", CapHeight: 7, Burn: true}
	kept := burned
	kept.Burn = false
	both := func(lines ...lettering.Line) (int, int) {
		placed, err := lettering.Layout(lines, fonts)
		require.NoError(t, err)
		burn, keep := masks(t, placed, pl)
		return burn.Count(), keep.Count()
	}
	burn, keep := both(burned, kept)
	require.Equal(t, [2]int{0, 700}, [2]int{burn, keep})
	burn, keep = both(kept, burned)
	require.Equal(t, [2]int{700, 0}, [2]int{burn, keep})
}

func TestSameDotsWhateverTheWorkers(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 60, 40, 0.06)
	lines := []lettering.Line{
		{Text: "Over & under", Font: "serif-bold", CapHeight: 6, Burn: true, Margin: 0.5},
		{Text: "kept", Font: "brush", CapHeight: 12, At: layout.Point{Y: -10}, ArcRadius: 30},
	}
	placed, err := lettering.Layout(lines, fonts)
	require.NoError(t, err)
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	burn, keep := masks(t, placed, pl)
	runtime.GOMAXPROCS(5)
	again, err := lettering.Layout(lines, builtIn(t))
	require.NoError(t, err)
	burn2, keep2 := masks(t, again, pl)
	require.Equal(t, burn, burn2)
	require.Equal(t, keep, keep2)
}

func TestRastersThatHoldLittle(t *testing.T) {
	fonts := builtIn(t)
	p := []lettering.Placed{place(t, fonts, lettering.Line{Text: "HH", Font: "plain", CapHeight: 7, Burn: true, Margin: 1, At: layout.Point{X: -3, Y: -3}})}
	for _, size := range []layout.Size{{W: 0.1, H: 0.1}, {W: 10, H: 0.1}, {W: 0.1, H: 10}} {
		pl := board(t, size.W, size.H, 0.1)
		burn, keep := masks(t, p, pl)
		requireDisjoint(t, burn, keep)
	}
	pl := board(t, 10, 10, 0.1)
	burn, keep := masks(t, nil, pl)
	require.Zero(t, burn.Count()+keep.Count(), "no lines, no dots")
	far := []lettering.Placed{place(t, fonts, lettering.Line{Text: "H", Font: "plain", CapHeight: 7, Burn: true, At: layout.Point{X: 9000, Y: -9000}})}
	burn, _ = masks(t, far, pl)
	require.Zero(t, burn.Count())

	for _, part := range []image.Rectangle{{}, image.Rect(-1, 0, 5, 5), image.Rect(0, 0, 101, 5)} {
		_, _, err := lettering.RasterisePart(context.Background(), p, pl, part)
		require.ErrorContains(t, err, "does not lie inside the raster of 100 x 100 dots: choose a part of it")
	}
	_, _, err := lettering.Rasterise(context.Background(), p, layout.Placement{})
	require.Error(t, err)
}

func TestRasteriseStops(t *testing.T) {
	fonts := builtIn(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	p := []lettering.Placed{place(t, fonts, lettering.Line{Text: "H", Font: "plain", CapHeight: 7, Burn: true})}
	_, _, err := lettering.Rasterise(ctx, p, board(t, 20, 20, 0.1))
	require.ErrorIs(t, err, context.Canceled)
	_, _, err = lettering.Draw(ctx, p, layout.Area{Size: layout.Size{W: 20, H: 20}}, 100, 100)
	require.ErrorIs(t, err, context.Canceled)
}

// benchmarkLines are ten lines of 26 letters in every font on a panel of 300 x 400 mm.
func benchmarkLines(b *testing.B, margin layout.MM) []lettering.Placed {
	var lines []lettering.Line
	for i, name := range assets.FontNames() {
		lines = append(lines, lettering.Line{Text: "The quick brown fox jumps!", Font: name, CapHeight: 9, Burn: i%2 == 0, Margin: margin, At: layout.Point{Y: layout.MM(150 - 30*i)}})
	}
	placed, err := lettering.Layout(lines, builtIn(b))
	require.NoError(b, err)
	return placed
}

func BenchmarkRasterise(b *testing.B) {
	pl := board(b, 256, 400, 0.1) // 10.24 million dots
	for _, margin := range []layout.MM{0, 1} {
		b.Run(fmt.Sprint("margin ", margin), func(b *testing.B) {
			placed := benchmarkLines(b, margin)
			b.SetBytes(int64(2 * pl.Grid.Cols * pl.Grid.Rows / 8))
			b.ReportAllocs()
			for b.Loop() {
				_, _, err := lettering.Rasterise(context.Background(), placed, pl)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkDraw(b *testing.B) {
	placed := benchmarkLines(b, 0)
	const w, h = 900, 1200
	b.SetBytes(2 * 2 * w * h)
	b.ReportAllocs()
	for b.Loop() {
		_, _, err := lettering.Draw(context.Background(), placed, layout.Area{Size: layout.Size{W: 300, H: 400}}, w, h)
		require.NoError(b, err)
	}
}
