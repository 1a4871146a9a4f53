package picture

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// drawCurve is any curve.
func drawCurve(t *rapid.T) Curve {
	n := rapid.IntRange(2, MaxCurvePoints).Draw(t, "points")
	points := make([]CurvePoint, n)
	from, to := 0.0, 0.0
	for i := range points {
		from += rapid.Float64Range(0, 100.0/MaxCurvePoints-curveGap).Draw(t, "from")
		to += rapid.Float64Range(0, 100.0/MaxCurvePoints).Draw(t, "to")
		points[i] = CurvePoint{from, to}
		from += curveGap
	}
	return curveOf(t, points...)
}

// Source: scipy 1.10, test_polyint.py test_nag, its four values, and SciPy's own
// digits for two small cases; the slopes stand beside them.
func TestMonotoneCubicAgainstPublishedValues(t *testing.T) {
	for _, c := range []struct {
		name    string
		x, y    []float64
		slopes  []float64
		at      [][2]float64
		within  float64
		slopeBy float64
	}{
		{
			"a published curve",
			[]float64{7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20},
			[]float64{0, 0.27643e-4, 0.4375e-1, 0.16918, 0.46943, 0.94374, 0.99864, 0.99992, 0.99999},
			[]float64{0, 5.525106809e-4, 0.3358730165, 0.349444554, 0.5969623906, 0.06032597053, 8.983279074e-4, 2.940516888e-5, 0},
			[][2]float64{{9.191, 0.46401626}, {10.392, 0.96447118}, {11.593, 0.99649246}, {12.794, 0.99924266}, {8.5, 0.11663083}},
			1e-8, 1e-9,
		},
		{
			"a step", []float64{0, 1, 2, 3, 4}, []float64{0, 0, 1, 1, 1}, nil,
			[][2]float64{{1.25, 0.15625}, {1.5, 0.5}, {1.75, 0.84375}, {-1, 0}, {5, 1}}, 1e-15, 0,
		},
		{
			"uneven", []float64{0, 1, 3, 6}, []float64{0, 1, 2, 10},
			[]float64{1.16666667, 0.69230769, 0.80536913, 3.96666667},
			[][2]float64{{0.5, 0.55929487}, {2, 1.47173464}, {4, 3.55053443}, {5, 6.34193388}}, 1e-8, 1e-8,
		},
		{"a line", []float64{2, 4}, []float64{1, 5}, []float64{2, 2}, [][2]float64{{2.5, 2}, {4, 5}}, 1e-15, 1e-15},
	} {
		t.Run(c.name, func(t *testing.T) {
			cubic := newMonotoneCubic(c.x, c.y)
			for i, s := range c.slopes {
				require.InDelta(t, s, cubic.slope[i], c.slopeBy)
			}
			for _, p := range c.at {
				require.InDelta(t, p[1], cubic.at(p[0]), c.within, "at %g", p[0])
			}
		})
	}
}

func TestCurvesMeetTheirPointsAndNeverFall(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		points := c.Points()
		for _, p := range points {
			require.InDelta(t, p.To, c.At(p.From), 1e-9)
		}
		require.Equal(t, points[0].To, c.At(-1))
		require.Equal(t, points[len(points)-1].To, c.At(101))
		cubic, before := c.cubic(), 0.0
		for i := range 401 {
			l := cubic.at(float64(i) / 4)
			require.GreaterOrEqual(t, l, before-1e-12)
			require.LessOrEqual(t, l, 100.0)
			before = l
		}
		tone := table(t, Tone{Curve: c, Mid: rapid.Float64Range(-1, 1).Draw(t, "mid"), Black: rapid.Float64Range(0, 50).Draw(t, "black")})
		for v := 1; v < len(tone); v++ {
			if tone[v] < tone[v-1] {
				t.Fatalf("the table falls at %d", v)
			}
		}
	})
}

func TestNoCurveChangesNothing(t *testing.T) {
	var c Curve
	require.Equal(t, 37.5, c.At(37.5))
	require.Empty(t, c.Points())
	require.NoError(t, c.Validate())
}

func TestDraggingACurve(t *testing.T) {
	c, i, err := Curve{}.With(CurvePoint{40, 55})
	require.NoError(t, err)
	require.Equal(t, 1, i)
	require.Equal(t, []CurvePoint{{0, 0}, {40, 55}, {100, 100}}, c.Points())

	require.Equal(t, CurvePoint{50, 30}, c.Moved(1, CurvePoint{50, 30}).Points()[1])
	require.Equal(t, CurvePoint{99.5, 100}, c.Moved(1, CurvePoint{300, 300}).Points()[1], "held by its neighbour")
	require.Equal(t, CurvePoint{0.5, 0}, c.Moved(1, CurvePoint{-5, -5}).Points()[1])
	require.Equal(t, CurvePoint{39.5, 55}, c.Moved(0, CurvePoint{60, 60}).Points()[0])
	require.Equal(t, c, c.Moved(3, CurvePoint{50, 50}))
	require.Equal(t, c, c.Moved(-1, CurvePoint{50, 50}))
	require.Equal(t, c, c.Moved(1, CurvePoint{math.NaN(), 50}))

	more, i, err := c.With(CurvePoint{70, 20})
	require.NoError(t, err)
	require.Equal(t, 2, i)
	require.Equal(t, CurvePoint{70, 55}, more.Points()[2], "not below the point before")
	_, _, err = more.With(CurvePoint{70.2, 60})
	require.ErrorContains(t, err, "less than 0.5 to the right")
	_, _, err = more.With(CurvePoint{101, 60})
	require.ErrorContains(t, err, "outside 0 to 100")

	require.True(t, c == more.Without(2), "what is left compares with ==")
	require.Equal(t, c, c.Without(7))
	two := c.Without(1)
	require.Len(t, two.Points(), 2)
	require.Equal(t, Curve{}, two.Without(0))

	full := Curve{}
	for i := range MaxCurvePoints - 2 {
		full, _, err = full.With(CurvePoint{float64(5 * (i + 1)), float64(5 * (i + 1))})
		require.NoError(t, err)
	}
	_, _, err = full.With(CurvePoint{97, 97})
	require.ErrorContains(t, err, "16 points already")
}

func TestMovedCurvesStayCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		i := rapid.IntRange(-1, MaxCurvePoints).Draw(t, "point")
		c = c.Moved(i, CurvePoint{rapid.Float64Range(-50, 150).Draw(t, "from"), rapid.Float64Range(-50, 150).Draw(t, "to")})
		require.NoError(t, c.Validate())
	})
}

func TestCurveRefuses(t *testing.T) {
	many := make([]CurvePoint, MaxCurvePoints+1)
	for i := range many {
		many[i] = CurvePoint{float64(i), float64(i)}
	}
	for _, c := range []struct {
		name   string
		points []CurvePoint
		want   string
	}{
		{"one point", []CurvePoint{{1, 2}}, "curve has 1 point: give it 2 to 16"},
		{"too many", many, "curve has 17 points: leave at most 16"},
		{"outside", []CurvePoint{{0, 0}, {50, 101}}, "curve point 2 takes lightness 50 to 101"},
		{"not a number", []CurvePoint{{math.NaN(), 0}, {50, 50}}, "curve point 1 takes lightness NaN"},
		{"out of order", []CurvePoint{{50, 0}, {40, 50}}, "curve point 2 at lightness 40 is less than 0.5 to the right"},
		{"too near", []CurvePoint{{50, 0}, {50.25, 50}}, "less than 0.5 to the right"},
		{"falls", []CurvePoint{{0, 60}, {50, 50}}, "a curve may not fall"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := NewCurve(c.points...)
			require.ErrorContains(t, err, c.want)
		})
	}
}

func TestCurvesInFiles(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := drawCurve(t)
		data, err := json.Marshal(c)
		require.NoError(t, err)
		var back Curve
		require.NoError(t, json.Unmarshal(data, &back))
		require.True(t, c == back)
	})
	for text, want := range map[string]string{
		`[[0,0],[1]]`:       "curve point 2 is not two numbers",
		`[[0,null],[1,2]]`:  "curve point 1 is not two numbers",
		`{"from":0}`:        "curve is not a list of points",
		`[[0,0],["a","b"]]`: "curve is not a list of points",
		`[[0,0]]`:           "curve has 1 point",
		`[[0,5],[50,2]]`:    "may not fall",
	} {
		kept := curveOf(t, CurvePoint{0, 0}, CurvePoint{100, 90})
		c := kept
		require.ErrorContains(t, json.Unmarshal([]byte(text), &c), want, text)
		require.Equal(t, kept, c)
	}
	c := curveOf(t, CurvePoint{0, 0}, CurvePoint{100, 90})
	require.NoError(t, json.Unmarshal([]byte(`[]`), &c))
	require.Equal(t, Curve{}, c)
}
