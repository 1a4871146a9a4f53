package fit

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
)

func TestUpdateWeighsByInverseVariances(t *testing.T) {
	s := threeCoats()
	s.Curve.Calibrated = true
	s.Curve.BreakThroughSD = []float64{0.05, 0.1, 0}
	s.Curve.ScorchDoseJCM2 = 300
	got, err := Update(s, 1.2, 0.1)
	require.NoError(t, err)
	m, err := got.Compile(coat.Options{})
	require.NoError(t, err)
	// Weights 1/sd2 of 400 and 100, 100 and 100, all and 100: by hand.
	require.InDelta(t, 30*math.Exp(math.Log(1.2)*0.2), m.BreakThrough(0), 1e-9)
	require.InDelta(t, 55*math.Exp(math.Log(1.2)*0.5), m.BreakThrough(1), 1e-9)
	require.InDelta(t, 95, m.BreakThrough(2), 1e-9)
	require.InDelta(t, 1/math.Sqrt(500), got.Curve.BreakThroughSD[0], 1e-12)
	require.InDelta(t, 1/math.Sqrt(200), got.Curve.BreakThroughSD[1], 1e-12)
	require.Zero(t, got.Curve.BreakThroughSD[2])
	require.InDelta(t, 300, got.Curve.ScorchDoseJCM2, 1e-9)
	require.InDelta(t, 15*math.Exp(math.Log(1.2)*0.2), got.Curve.Points[0].DoseJCM2, 1e-9)
	require.True(t, got.Curve.Calibrated)
	require.Equal(t, []float64{0.05, 0.1, 0}, s.Curve.BreakThroughSD, "the one given stays as it was")
}

func TestUpdateOfAGuessLeansOnThePanel(t *testing.T) {
	got, err := Update(threeCoats(), 1.3, 0.02)
	require.NoError(t, err)
	m, err := got.Compile(coat.Options{})
	require.NoError(t, err)
	for i, want := range []float64{30, 55, 95} {
		require.InEpsilon(t, 1.3*want, m.BreakThrough(i), 0.002)
		require.InDelta(t, 0.02, got.Curve.BreakThroughSD[i], 1e-4)
	}
	require.False(t, got.Curve.Calibrated, "one panel is no chart")
}

func TestUpdateKeepsAValidCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := threeCoats()
		s.Curve.BreakThroughSD = nil
		for range s.Coats {
			s.Curve.BreakThroughSD = append(s.Curve.BreakThroughSD, rapid.Float64Range(0, 3).Draw(t, "sd"))
		}
		factor, sd := rapid.Float64Range(0.2, 5).Draw(t, "factor"), rapid.Float64Range(0.001, 3).Draw(t, "panel sd")
		got, err := Update(s, factor, sd)
		require.NoError(t, err)
		_, err = got.Compile(coat.Options{})
		require.NoError(t, err)
		for i := range s.Coats {
			require.LessOrEqual(t, got.Curve.BreakThroughSD[i], math.Min(s.Curve.BreakThroughSD[i], sd)+1e-12)
		}
	})
}

func TestUpdateRefuses(t *testing.T) {
	for _, c := range []struct {
		name       string
		factor, sd float64
		want       string
	}{
		{"no factor", 0, 0.1, "dose factor 0 is out of range"},
		{"far off", 6, 0.1, "dose factor 6 is out of range"},
		{"not a number", math.NaN(), 0.1, "dose factor NaN"},
		{"certain", 1, 0, "standard error 0"},
		{"infinite", 1, math.Inf(1), "standard error +Inf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Update(threeCoats(), c.factor, c.sd)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := Update(coat.Stack{}, 1, 0.1)
	require.ErrorContains(t, err, "coats holds 0 coats")
}
