package scene

import (
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// greenIn is how much of a row is covered by a pure green panel, in pixels: on a
// neutral wall and in its shadow green and red are nearly alike.
func greenIn(img *image.RGBA, at func(i int) (x, y int), n int) float64 {
	sum := 0.0
	for i := range n {
		x, y := at(i)
		if l := lightAt(img, x, y); l.G-l.R > 0.05 {
			sum += l.G - l.R
		}
	}
	return sum
}

// edges are where a row turns from something grey to something brown and back,
// between pixels.
func brownEdges(img *image.RGBA, y int) (left, right float64) {
	brown := func(x int) float64 { l := lightAt(img, x, y); return l.R - l.B }
	middle := img.Rect.Dx() / 2
	half := brown(middle) / 2
	between := func(x, next int) float64 { return (brown(x) - half) / (brown(x) - brown(next)) }
	x := middle
	for brown(x-1) > half {
		x--
	}
	left = float64(x) - between(x, x-1)
	for x = middle; brown(x+1) > half; {
		x++
	}
	return left, float64(x) + between(x, x+1)
}

// The console table is 900 mm wide: a panel of 300 mm is a third of it.
func TestPanelIsToScaleWithTheTable(t *testing.T) {
	for _, size := range [][2]int{{1600, 1000}, {800, 500}, {1000, 1000}, {700, 1100}} {
		o := hanging(even(300, 400, green), 300, 400)
		img := rendered(t, o, size[0], size[1])
		v := newView(o, size[0], size[1])
		row := func(y float64) int { return int((v.top - y) / v.mm) }
		panel := greenIn(img, func(x int) (int, int) { return x, row(v.panel.cy()) }, size[0])
		left, right := brownEdges(img, row(standing(consoleHigh-14, consoleDeep)))
		require.InEpsilon(t, 1.0/3, panel/(right-left), 0.01, "%v", size)
		column := func(y int) (int, int) { return int((0 - v.left) / v.mm), y }
		require.InEpsilon(t, 4.0/3, greenIn(img, column, size[1])/panel, 0.01, "as high as it is wide: %v", size)
	}
}

func TestPanelIsToScaleWithTheDoor(t *testing.T) {
	o := hanging(even(500, 500, green), 500, 500)
	o.Kind = Hallway
	img := rendered(t, o, 1600, 1000)
	v := newView(o, 1600, 1000)
	panel := greenIn(img, func(x int) (int, int) { return x, int((v.top - v.panel.cy()) / v.mm) }, 1600)
	// The dark gap round the leaf, above it and at its foot on the hinge side.
	x := int((v.x - leafWide/2 + 60 - v.left) / v.mm)
	darkest, at := math.Inf(1), 0
	for y := int((v.top - 2040) / v.mm); y < int((v.top-1960)/v.mm); y++ {
		if l := lightAt(img, x, y).Y(); l < darkest {
			darkest, at = l, y
		}
	}
	foot := int((v.top - 6) / v.mm)
	require.InEpsilon(t, 4, float64(foot-at)/panel, 0.01, "the leaf is 2000 mm high")
}

func TestScaleInTheStudio(t *testing.T) {
	o := hanging(even(500, 500, green), 500, 500)
	o.Kind = Studio
	img := rendered(t, o, 1600, 1000)
	v := newView(o, 1600, 1000)
	panel := greenIn(img, func(x int) (int, int) { return x, int((v.top - v.panel.cy()) / v.mm) }, 1600)
	left, right := brownEdges(img, int((v.top-standing(workHigh-33, workDeep))/v.mm))
	require.InEpsilon(t, 3, (right-left)/panel, 0.01, "the bench is 1500 mm wide")
}

// Whatever its size, a panel lies whole in the view, to scale and above the floor.
func TestEveryPanelFitsTheView(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := layout.MM(math.Exp(rapid.Float64Range(math.Log(5), math.Log(10_000)).Draw(t, "w")))
		h := layout.MM(math.Exp(rapid.Float64Range(math.Log(5), math.Log(10_000)).Draw(t, "h")))
		o := Options{Kind: rapid.SampledFrom(Kinds()).Draw(t, "kind"), PanelMM: layout.Size{W: w, H: h}}
		cols, rows := rapid.IntRange(100, 3000).Draw(t, "cols"), rapid.IntRange(100, 3000).Draw(t, "rows")
		v := newView(o, cols, rows)
		q := v.quad()
		require.Greater(t, q[0].X, 0.0)
		require.Greater(t, q[0].Y, 0.0)
		require.Less(t, q[2].X, float64(cols))
		require.Less(t, q[2].Y, float64(rows))
		require.InEpsilon(t, float64(w), (q[2].X-q[0].X)*v.mm, 1e-9)
		require.InEpsilon(t, float64(h), (q[2].Y-q[0].Y)*v.mm, 1e-9)
		require.Greater(t, v.panel.y0, 0.0)
		foot := v.corner(v.x, 0)
		require.Less(t, foot.Y, float64(rows), "the floor shows")
		s := stands[o.Kind]
		if v.x == 0 {
			require.GreaterOrEqual(t, v.panel.y0, s.height+200, "clear of what stands below")
		} else {
			require.LessOrEqual(t, v.x+s.half, v.panel.x0-200, "clear of what stands beside")
			require.Greater(t, v.corner(v.x-s.half, 0).X, 0.0, "and that is in the view")
		}
	})
}

func TestSmallAndLargePanels(t *testing.T) {
	for name, side := range map[string]layout.MM{"5 mm": 5, "10 m": 10_000} {
		for _, kind := range Kinds() {
			t.Run(string(kind)+" "+name, func(t *testing.T) {
				o := hanging(even(400, 400, green), side, side)
				o.Kind = kind
				img := rendered(t, o, 800, 500)
				v := newView(o, 800, 500)
				got := greenIn(img, func(x int) (int, int) { return x, int((v.top - v.panel.cy()) / v.mm) }, 800)
				require.InDelta(t, float64(side)/v.mm, got, 0.3+0.002*float64(side)/v.mm)
			})
		}
	}
	huge, small := newView(Options{Kind: Living, PanelMM: layout.Size{W: 10_000, H: 10_000}}, 800, 500), newView(hanging(nil, 300, 300), 800, 500)
	require.Greater(t, huge.mm, 4*small.mm, "the room is shown from further off")
}

func TestPanelKeepsItsColour(t *testing.T) {
	paint := colour.Stored{R: 43, G: 111, B: 115}
	for _, kind := range Kinds() {
		o := hanging(even(300, 300, paint), 300, 300)
		o.Kind = kind
		img := rendered(t, o, 800, 500)
		r := newView(o, 800, 500).inner()
		require.False(t, r.Empty())
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				p := img.Pix[img.PixOffset(x, y):]
				require.Equal(t, paint, colour.Stored{R: p[0], G: p[1], B: p[2]})
			}
		}
	}
}
