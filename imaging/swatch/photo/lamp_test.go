package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// lit are unburned fields over a chart of 100 x 80 mm in a light.
func lit(cols, rows int, light func(x, y float64) colour.Linear) []sample {
	var fields []sample
	for row := range rows {
		for col := range cols {
			at := layout.Point{X: layout.MM(100 * (float64(col) + 0.5 - float64(cols)/2) / float64(cols)), Y: layout.MM(80 * (float64(row) + 0.5 - float64(rows)/2) / float64(rows))}
			fields = append(fields, sample{blocks: []block{{at, light(float64(at.X), float64(at.Y))}}})
		}
	}
	return fields
}

func lamplight(x, y float64) colour.Linear {
	d := 1 + ((x-20)*(x-20)+(y+15)*(y+15))/12000
	return colour.Linear{R: 0.03, G: 0.025, B: 0.02}.Scale(1 / (d * d))
}

func TestLampEvensOutALamp(t *testing.T) {
	l := fitLamp(lit(9, 7, lamplight), layout.Size{W: 100, H: 80})
	require.Greater(t, l.fallOff(), 0.35)
	for _, p := range []layout.Point{{}, {X: -44, Y: 30}, {X: 44, Y: -30}, {X: 44, Y: 30}, {X: 13, Y: 2}} {
		even, want := l.even(lamplight(float64(p.X), float64(p.Y)), p), lamplight(0, 0)
		require.InEpsilon(t, want.R, even.R, 0.004, "%v", p)
		require.InEpsilon(t, want.B, even.B, 0.004, "%v", p)
	}
	require.InEpsilon(t, 0.025, l.reference().G/lamplight(0, 0).G*0.025, 0.004)
}

func TestLampDoesNotMindSpoiltFields(t *testing.T) {
	fields := lit(9, 7, lamplight)
	for _, i := range []int{3, 11, 30, 42, 55} {
		fields[i].blocks[0].mean = fields[i].blocks[0].mean.Scale(4)
	}
	l := fitLamp(fields, layout.Size{W: 100, H: 80})
	for _, p := range []layout.Point{{X: -40, Y: 30}, {}, {X: 40, Y: -25}} {
		require.InEpsilon(t, lamplight(0, 0).G, l.even(lamplight(float64(p.X), float64(p.Y)), p).G, 0.006)
	}
}

func TestLampOfTwoColours(t *testing.T) {
	light := func(x, _ float64) colour.Linear {
		return colour.Linear{R: 0.03 * math.Exp(0.004*x), G: 0.03, B: 0.03 * math.Exp(-0.004*x)}
	}
	l := fitLamp(lit(9, 7, light), layout.Size{W: 100, H: 80})
	even := l.even(light(40, 0), layout.Point{X: 40})
	require.InEpsilon(t, even.R, even.B, 0.002)
}

func TestLampOfFewFields(t *testing.T) {
	size := layout.Size{W: 100, H: 80}
	none := fitLamp(nil, size)
	require.False(t, none.trusted)
	require.Zero(t, none.fallOff())
	require.Equal(t, colour.Linear{R: 0.5}, none.even(colour.Linear{R: 0.5}, layout.Point{}))

	one := fitLamp(lit(1, 1, lamplight), size)
	require.InEpsilon(t, lamplight(0, 0).G, one.even(lamplight(0, 0), layout.Point{X: 30}).G, 1e-3)

	row := fitLamp(lit(60, 1, lamplight), size) // says nothing of up and down
	for x := -45.0; x <= 45; x += 15 {
		require.InEpsilon(t, lamplight(0, 0).G, row.even(lamplight(x, 0), layout.Point{X: layout.MM(x)}).G, 0.004)
	}
}

func TestLeastSquaresSolves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.SliceOfN(rapid.Float64Range(-2, 2), 6, 6).Draw(t, "terms")
		var rows [][]float64
		var values, weights []float64
		for i := range 40 {
			row := terms(math.Cos(float64(i)), math.Sin(float64(3*i)), 6)
			rows, values, weights = append(rows, row), append(values, dot(row, want)), append(weights, 1)
		}
		require.InDeltaSlice(t, want, leastSquares(rows, values, weights), 1e-3)
	})
}

// Source: worked example, derived: a white patch of (.80 .72 .55) known to be .90
// takes gains of 1.125, 1.25 and 1.6363636.
func TestToKnown(t *testing.T) {
	g, err := toKnown(colour.Linear{R: 0.80, G: 0.72, B: 0.55}, colour.Linear{R: 0.9, G: 0.9, B: 0.9})
	require.NoError(t, err)
	require.InDelta(t, 1.125, g.r, 1e-9)
	require.InDelta(t, 1.25, g.g, 1e-9)
	require.InDelta(t, 1.6363636, g.b, 1e-7)
	_, err = toKnown(colour.Linear{R: 0.8, G: 0.7}, colour.Linear{R: 0.9, G: 0.9, B: 0.9})
	require.ErrorContains(t, err, "expose more")
}
