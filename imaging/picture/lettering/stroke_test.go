package lettering

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/layout"
)

// shape makes a path of polygons, turned by some degrees so that no side lies along the grid.
func shape(degrees float64, contours ...[]layout.Point) Path {
	turn := placing(1, degrees*math.Pi/180, layout.Point{X: 0.0123, Y: -0.0321})
	var path Path
	for _, c := range contours {
		for i, p := range c {
			op := LineTo
			if i == 0 {
				op = MoveTo
			}
			path = append(path, Segment{Op: op, P: [3]layout.Point{turn.point(p)}})
		}
	}
	return path
}

// rectangle runs clockwise; a hole runs the other way.
func rectangle(x0, y0, x1, y1 layout.MM) []layout.Point {
	return []layout.Point{{X: x0, Y: y0}, {X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}}
}

func hole(x0, y0, x1, y1 layout.MM) []layout.Point {
	return []layout.Point{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

func disc(x, y, radius layout.MM, turns float64) []layout.Point {
	var points []layout.Point
	for i := range 64 {
		sin, cos := math.Sincos(-turns * 2 * math.Pi * float64(i) / 64)
		points = append(points, layout.Point{X: x + radius*layout.MM(cos), Y: y + radius*layout.MM(sin)})
	}
	return points
}

func TestStrokesOfKnownShapes(t *testing.T) {
	wedge := func(degrees float64) []layout.Point { // a metre of nothing but a tip
		half := layout.MM(math.Tan(degrees / 2 * math.Pi / 180))
		return []layout.Point{{X: 0, Y: 0}, {X: -half, Y: 1}, {X: half, Y: 1}}
	}
	cases := []struct {
		name     string
		contours [][]layout.Point
		ink, gap layout.MM
		within   float64 // share
	}{
		{"a stem", [][]layout.Point{rectangle(0, 0, 0.1, 1)}, 0.1, 0, 0.01},
		{"a hairline", [][]layout.Point{rectangle(0, 0, 0.02, 1)}, 0.02, 0, 0.01},
		{"thinner than the field", [][]layout.Point{rectangle(0, 0, 0.004, 1)}, 0.004, 0, 0.02},
		{"the thinner of two", [][]layout.Point{rectangle(0, 0, 0.2, 1), rectangle(0.5, 0, 0.57, 1)}, 0.07, 0.3, 0.01},
		{"stems that overlap", [][]layout.Point{rectangle(0, 0, 0.12, 1), rectangle(0.06, 0, 0.2, 1)}, 0.2, 0, 0.01},
		{"a cross", [][]layout.Point{rectangle(0.4, 0, 0.55, 1), rectangle(0, 0.4, 1, 0.5)}, 0.1, 0, 0.01},
		{"a ring", [][]layout.Point{disc(0, 0, 0.5, 1), disc(0, 0, 0.4, -1)}, 0.1, 0.8, 0.02},
		{"a full stop", [][]layout.Point{disc(0, 0, 0.08, 1)}, 0.16, 0, 0.02},
		{"a slot", [][]layout.Point{rectangle(0, 0, 1, 1), hole(0.3, 0.2, 0.36, 0.8)}, 0.2, 0.06, 0.01},
		{"an open slot", [][]layout.Point{{{X: 0, Y: 0}, {X: 0, Y: 1}, {X: 0.3, Y: 1}, {X: 0.3, Y: 0.3}, {X: 0.35, Y: 0.3}, {X: 0.35, Y: 1}, {X: 0.8, Y: 1}, {X: 0.8, Y: 0}}}, 0.3, 0.05, 0.01},
		{"a triangle in a square", [][]layout.Point{rectangle(0, 0, 1, 1), {{X: 0.2, Y: 0.2}, {X: 0.8, Y: 0.2}, {X: 0.5, Y: 0.7196}}}, 0.2, 0.3464, 0.03},
		{"a short neck", [][]layout.Point{rectangle(0, 0, 0.2, 1), rectangle(0.1, 0.5, 0.4, 0.52), rectangle(0.27, 0, 0.47, 1)}, 0.2, 0.07, 0.06},
		{"a long neck", [][]layout.Point{rectangle(0, 0, 0.2, 1), rectangle(0.1, 0.5, 0.6, 0.52), rectangle(0.35, 0, 0.55, 1)}, 0.02, 0.15, 0.02},
		{"a blunt tip", [][]layout.Point{wedge(20)}, 0.3, 0, 0.25},
	}
	for _, c := range cases {
		for _, degrees := range []float64{0, 31} {
			t.Run(c.name, func(t *testing.T) {
				s := measureStrokes(shape(degrees, c.contours...))
				require.InEpsilon(t, float64(c.ink), float64(s.ink), c.within, "ink turned by %g", degrees)
				if c.gap == 0 {
					require.Zero(t, s.gap, "gap turned by %g", degrees)
					return
				}
				require.InEpsilon(t, float64(c.gap), float64(s.gap), c.within, "gap turned by %g", degrees)
			})
		}
	}
	require.Equal(t, strokes{}, measureStrokes(nil))
}

// The stem of an I is measured against its outline's own numbers: where the
// outline crosses half the cap height.
func TestStemOfEveryFont(t *testing.T) {
	for _, name := range assets.FontNames() {
		if name == "script" || name == "brush" {
			continue // their I is no stem
		}
		t.Run(name, func(t *testing.T) {
			data, _ := assets.Font(name)
			font, err := ParseFont(name, data)
			require.NoError(t, err)
			g, err := font.letter('I')
			require.NoError(t, err)
			var at []layout.MM
			g.path.edges(1e-5, func(a, b layout.Point) {
				if (a.Y < 0.5) != (b.Y < 0.5) {
					at = append(at, a.X+(b.X-a.X)*(0.5-a.Y)/(b.Y-a.Y))
				}
			})
			require.Len(t, at, 2)
			stem := math.Abs(float64(at[1] - at[0]))
			if name == "serif" || name == "serif-bold" {
				require.InDelta(t, stem, float64(g.thin().ink), 0.05*stem, "the thinnest is the stem, its serifs are bracketed")
				return
			}
			require.InEpsilon(t, stem, float64(g.thin().ink), 0.05)
		})
	}
}

func TestIntricateOutlineIsNotMeasured(t *testing.T) {
	var many [][]layout.Point
	for i := range 2500 {
		x := layout.MM(i%50) / 50
		y := layout.MM(i/50) / 50
		many = append(many, rectangle(x, y, x+0.01, y+0.01))
	}
	require.Equal(t, strokes{}, measureStrokes(shape(0, many...)))
}
