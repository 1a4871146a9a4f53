package coat

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// along makes a curve through (ln dose, depth).
func along(lnDose, depths []float64) *depthCurve {
	var points []Point
	for i, x := range lnDose {
		points = append(points, Point{math.Exp(x), depths[i]})
	}
	return newDepthCurve(points)
}

// Source: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic
// interpolation", SIAM J. Numer. Anal. 17(2), 1980; data and first values of the
// NAG example as they stand in SciPy, interpolate/tests/test_polyint.py; the
// finer values and the slopes are SciPy 1.10's PchipInterpolator.
func TestCurveAgainstPublishedMonotoneCubic(t *testing.T) {
	c := along(
		[]float64{7.99, 8.09, 8.19, 8.7, 9.2, 10, 12, 15, 20},
		[]float64{0, .27643e-4, .4375e-1, .16918, .46943, .94374, .99864, .99992, .99999})
	for x, want := range map[float64]float64{9.191: .4640, 10.392: .9645, 11.593: .9965, 12.794: .9992} {
		require.InDelta(t, want, c.depthUM(math.Exp(x)), 5e-5)
	}
	for x, want := range map[float64]float64{
		9.191: .46401626, 10.392: .96447118, 11.593: .99649246, 12.794: .99924266, 8.5: .11663083,
	} {
		require.InDelta(t, want, c.depthUM(math.Exp(x)), 1e-8)
	}
	for i, want := range []float64{
		0, 5.525106809e-4, .3358730165, .349444554, .5969623906, .06032597053, 8.983279074e-4, 2.940516888e-5, 0,
	} {
		require.InDelta(t, want, c.cubic.PredictDerivative(c.lnDose[i]), 1e-9, "slope at point %d", i)
	}
}

// Source: as above, SciPy 1.10's PchipInterpolator; the second case exercises the
// formula for the slopes at the ends.
func TestCurveSmallCases(t *testing.T) {
	step := along([]float64{0, 1, 2, 3, 4}, []float64{0, 0, 1, 1, 1})
	for x, want := range map[float64]float64{0.5: 0, 1.25: .15625, 1.5: .5, 1.75: .84375, 3.5: 1} {
		require.InDelta(t, want, step.depthUM(math.Exp(x)), 1e-12)
	}
	bent := along([]float64{0, 1, 3, 6}, []float64{0, 1, 2, 10})
	for x, want := range map[float64]float64{.5: .55929487, 2: 1.47173464, 4: 3.55053443, 5: 6.34193388} {
		require.InDelta(t, want, bent.depthUM(math.Exp(x)), 1e-8)
	}
	for i, want := range []float64{1.16666667, .69230769, .80536913, 3.96666667} {
		require.InDelta(t, want, bent.cubic.PredictDerivative(bent.lnDose[i]), 1e-8)
	}
}

func TestCurveEnds(t *testing.T) {
	c := along([]float64{0, 1, 3, 6}, []float64{0, 1, 2, 10})
	require.Zero(t, c.depthUM(0))
	require.Zero(t, c.depthUM(0.999))
	require.Zero(t, c.depthUM(1))
	require.Zero(t, c.depthUM(math.NaN()))
	require.Equal(t, 10.0, c.depthUM(c.doses[3]))
	// Straight on in ln D with the last slope, level from twice the last dose.
	slope := 3.96666666666
	require.InDelta(t, 10+slope*0.5, c.depthUM(math.Exp(6.5)), 1e-8)
	require.InDelta(t, 10+slope*math.Ln2, c.depthUM(2*math.Exp(6)), 1e-8)
	require.Equal(t, c.reachUM, c.depthUM(1e9))
	require.Equal(t, c.reachUM, c.depthUM(math.Inf(1)))
}

func TestDoseForADepth(t *testing.T) {
	c := along([]float64{1, 2, 3, 4, 5}, []float64{0, 10, 10, 30, 40})
	for _, depth := range []float64{1e-6, 3, 9.99, 15, 29, 35} {
		dose, drawn := c.doseFor(depth)
		require.InDelta(t, depth, c.depthUM(dose), 1e-9)
		require.False(t, drawn)
	}
	for i, depth := range []float64{10, 30, 40} {
		dose, drawn := c.doseFor(depth)
		require.InEpsilon(t, math.Exp([]float64{2, 4, 5}[i]), dose, 1e-12, "the first point at that depth")
		require.False(t, drawn)
	}
	dose, drawn := c.doseFor(41)
	require.True(t, drawn)
	require.InEpsilon(t, 41, c.depthUM(dose), 1e-9)
	dose, _ = c.doseFor(c.reachUM)
	require.InEpsilon(t, 2*math.Exp(5), dose, 1e-9)
	dose, _ = c.doseFor(c.reachUM + 0.1)
	require.True(t, math.IsInf(dose, 1))
}

func TestRoundingDoesNotLoseTheLastCoat(t *testing.T) {
	first, second := 0.1, 0.2
	require.Greater(t, first+second, 0.3, "a hair above")
	c := newDepthCurve([]Point{{10, 0}, {20, 0.1}, {40, 0.3}})
	dose, drawn := c.doseFor(first + second)
	require.Equal(t, 40.0, dose)
	require.False(t, drawn)
}

func TestLevelCurveReachesNoFurther(t *testing.T) {
	c := newDepthCurve([]Point{{10, 0}, {20, 5}, {40, 5}})
	require.Equal(t, 5.0, c.depthUM(1e6))
	dose, _ := c.doseFor(5.1)
	require.True(t, math.IsInf(dose, 1))
}
