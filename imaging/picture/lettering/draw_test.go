package lettering_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

func draw(t require.TestingT, placed []lettering.Placed, part layout.Area, w, h int) (burn, keep *plane.Grey16) {
	burn, keep, err := lettering.Draw(context.Background(), placed, part, w, h)
	require.NoError(t, err)
	return burn, keep
}

func sum(g *plane.Grey16) float64 {
	total := 0.0
	for _, v := range g.Pix {
		total += float64(v) / 65535
	}
	return total
}

// The plain H is two stems of 1 x 7 mm and a bar of 3 x 1 mm between them.
func TestDrawnAreaIsTheLetters(t *testing.T) {
	fonts := builtIn(t)
	p := []lettering.Placed{place(t, fonts, lettering.Line{Text: "H", Font: "plain", CapHeight: 7, Burn: true, At: layout.Point{X: 0.37, Y: -3.21}})}
	for _, side := range []int{10, 64, 333} {
		burn, keep := draw(t, p, layout.Area{Size: layout.Size{W: 20, H: 20}}, side, side)
		pixel := 400 / float64(side*side)
		require.InEpsilon(t, 17, sum(burn)*pixel, 0.02, "%d pixels", side)
		require.Zero(t, sum(keep))
	}
}

// A pixel of a view as large as the raster is burned where the dot is, give or
// take the pixels that an outline crosses: the mean agrees.
func TestViewsAgreeWithTheDots(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 40, 30, 0.3)
	area := layout.Area{Centre: pl.Centre, Size: pl.Grid.Size()}
	rapid.Check(t, func(rt *rapid.T) {
		placed, err := lettering.Layout(drawnLines(rt), fonts)
		require.NoError(rt, err)
		burn, keep := masks(t, placed, pl)
		someBurn, someKeep := draw(rt, placed, area, pl.Grid.Cols, pl.Grid.Rows)
		missing := 0
		for y := range burn.H {
			for x := range burn.W {
				b, k := float64(someBurn.Row(y)[x])/65535, float64(someKeep.Row(y)[x])/65535
				if b+k > 1+2.0/65535 {
					rt.Fatalf("pixel (%d, %d) is more than full", x, y)
				}
				if b == 1 && !burn.At(x, y) || k == 1 && !keep.At(x, y) {
					missing++
				}
			}
		}
		// A pixel that is full has its dot, unless a gap finer than the lines that
		// the pixel is judged by runs through its very middle.
		require.LessOrEqual(rt, missing, 2)
		outline := 4 * math.Sqrt(float64(burn.Count()+keep.Count())+100) // dots along it, a guess
		require.InDelta(rt, float64(burn.Count()), sum(someBurn), 0.02*float64(burn.Count())+outline)
		require.InDelta(rt, float64(keep.Count()), sum(someKeep), 0.02*float64(keep.Count())+outline)
	})
}

// Four views of the quarters are the view of the whole.
func TestViewsOfPartsAgree(t *testing.T) {
	fonts := builtIn(t)
	p := []lettering.Placed{place(t, fonts, lettering.Line{Text: "Rag&", Font: "serif", CapHeight: 12, Burn: true, Margin: 1, RotationDegrees: 20})}
	whole, kept := draw(t, p, layout.Area{Size: layout.Size{W: 64, H: 64}}, 128, 128)
	for _, q := range []struct {
		at   layout.Point
		x, y int
	}{{layout.Point{X: -16, Y: 16}, 0, 0}, {layout.Point{X: 16, Y: 16}, 64, 0}, {layout.Point{X: -16, Y: -16}, 0, 64}, {layout.Point{X: 16, Y: -16}, 64, 64}} {
		burn, keep := draw(t, p, layout.Area{Centre: q.at, Size: layout.Size{W: 32, H: 32}}, 64, 64)
		for y := range 64 {
			for x := range 64 {
				b := int(whole.Row(q.y + y)[q.x+x]) - int(burn.Row(y)[x])
				k := int(kept.Row(q.y + y)[q.x+x]) - int(keep.Row(y)[x])
				if max(b, -b, k, -k) > 2 {
					t.Fatalf("pixel (%d, %d) differs from the whole's by %d and %d", x, y, b, k)
				}
			}
		}
	}
}

func TestViewsThatCannotBe(t *testing.T) {
	good := layout.Area{Size: layout.Size{W: 10, H: 10}}
	for _, c := range []struct {
		part layout.Area
		w, h int
		want string
	}{
		{good, 0, 10, "view of 0 x 10 pixels is out of range: choose at least 1 x 1"},
		{good, 100_000, 100_000, "at most 100000000 pixels"},
		{layout.Area{}, 10, 10, "part of 0 x 0 mm is out of range: choose a part of the panel"},
		{layout.Area{Size: layout.Size{W: layout.MM(math.NaN()), H: 1}}, 10, 10, "is out of range"},
	} {
		_, _, err := lettering.Draw(context.Background(), nil, c.part, c.w, c.h)
		require.ErrorContains(t, err, c.want)
	}
}

func TestOver(t *testing.T) {
	dots, burn, keep := plane.NewBits(3, 1), plane.NewBits(3, 1), plane.NewBits(3, 1)
	dots.Set(0, 0)
	dots.Set(1, 0)
	keep.Set(1, 0)
	burn.Set(2, 0)
	out, err := lettering.OverDots(dots, burn, keep)
	require.NoError(t, err)
	require.Equal(t, []byte{0b101_00000}, out.Pix)
	require.Equal(t, []byte{0b110_00000}, dots.Pix, "the dots given stay as they are")
	_, err = lettering.OverDots(plane.NewBits(4, 1), burn, keep)
	require.ErrorContains(t, err, "differ in size")

	tints, some, kept := plane.NewGrey16(4, 1), plane.NewGrey16(4, 1), plane.NewGrey16(4, 1)
	copy(tints.Pix, []uint16{40000, 40000, 40000, 40000})
	copy(some.Pix, []uint16{0, 65535, 32768, 0})
	copy(kept.Pix, []uint16{0, 0, 0, 65535})
	view, err := lettering.OverTints(tints, some, kept)
	require.NoError(t, err)
	require.Equal(t, []uint16{40000, 65535, 32768 + 20000, 0}, view.Pix)
	_, err = lettering.OverTints(plane.NewGrey16(4, 2), some, kept)
	require.ErrorContains(t, err, "differ in size")
}
