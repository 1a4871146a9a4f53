package beam_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/swatch/beam"
	"undercoat/layout"
)

// Worked by hand from Liu's formula: w0 = 25 um and a threshold of 10 uJ give the
// squared diameters below.
// Source: J. M. Liu, Optics Letters 7(5), 1982; numbers derived from its formula.
func TestFromLinesReturnsLiusBeam(t *testing.T) {
	var lines []beam.Line
	for energyUJ, squaredUM2 := range map[float64]float64{20: 866.4340, 40: 1732.8680, 80: 2599.3019, 160: 3465.7359} {
		lines = append(lines, beam.Line{Level: energyUJ, Width: layout.MM(math.Sqrt(squaredUM2) / 1000)})
	}
	fit, err := beam.FromLines(lines)
	require.NoError(t, err)
	slopeUM2 := 2 * math.Pow(1000*float64(fit.Width)/2, 2)
	require.InDelta(t, 1250, slopeUM2, 1e-3) // the diameters have four decimals
	require.InDelta(t, 10, fit.Threshold, 1e-5)
	require.InDelta(t, 0, float64(fit.ResidualMM), 1e-7)
}

// A scanned line: w = 0.04 mm, 1.994711 J/mm2 on the axis, threshold 1 J/mm2 burn a
// line 0.047006 mm wide.
// Source: derived from the Gaussian line profile, after Liu 1982.
func TestWidthAtOfAScannedLine(t *testing.T) {
	fit := beam.LineFit{Width: 0.08, Threshold: 1}
	require.InDelta(t, 0.047006, float64(fit.WidthAt(1.994711)), 1e-6)
	require.Zero(t, fit.WidthAt(1))
	require.Zero(t, fit.WidthAt(0.3))
	require.Zero(t, fit.WidthAt(math.NaN()))
}

func TestFromLinesRecoversAnyBeam(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		true1 := beam.LineFit{
			Width:     layout.MM(rapid.Float64Range(0.02, 1).Draw(t, "width")),
			Threshold: rapid.Float64Range(0.1, 50).Draw(t, "threshold"),
		}
		var lines []beam.Line
		for _, f := range []float64{1.3, 2, 3.1, 5, 7} {
			lines = append(lines, beam.Line{Level: f * true1.Threshold, Width: true1.WidthAt(f * true1.Threshold)})
		}
		fit, err := beam.FromLines(lines)
		require.NoError(t, err)
		require.InEpsilon(t, float64(true1.Width), float64(fit.Width), 1e-9)
		require.InEpsilon(t, true1.Threshold, fit.Threshold, 1e-9)
	})
}

// Widths read to a hundredth of a millimetre leave the beam uncertain by about
// what the fit says.
func TestFromLinesSaysHowSureItIs(t *testing.T) {
	real := beam.LineFit{Width: 0.12, Threshold: 8}
	var lines []beam.Line
	for level := 10.0; level <= 60; level += 5 {
		rounded := math.Round(100*float64(real.WidthAt(level))) / 100
		lines = append(lines, beam.Line{Level: level, Width: layout.MM(rounded)})
	}
	fit, err := beam.FromLines(lines)
	require.NoError(t, err)
	require.InDelta(t, float64(real.Width), float64(fit.Width), 3*float64(fit.WidthSD))
	require.InDelta(t, real.Threshold, fit.Threshold, 3*fit.ThresholdSD)
	require.Less(t, float64(fit.WidthSD), 0.01)
	require.Less(t, float64(fit.ResidualMM), 0.005)
}

func TestFromLinesRefusesWhatTellsNothing(t *testing.T) {
	for name, tc := range map[string]struct {
		lines []beam.Line
		want  string
	}{
		"two lines":     {[]beam.Line{{10, 0.1}, {20, 0.2}}, "measure 3 or more"},
		"one power":     {[]beam.Line{{10, 0.1}, {10, 0.2}, {10, 0.1}}, "same level"},
		"shrinking":     {[]beam.Line{{10, 0.3}, {20, 0.2}, {40, 0.1}}, "do not grow"},
		"no level":      {[]beam.Line{{0, 0.1}, {20, 0.2}, {30, 0.3}}, "line 1 has a level of 0"},
		"not a number":  {[]beam.Line{{10, 0.1}, {math.NaN(), 0.2}, {30, 0.3}}, "line 2 has a level of NaN"},
		"unseen":        {[]beam.Line{{10, 0}, {20, 0.2}, {30, 0.3}}, "line 1 is 0 mm wide"},
		"endless width": {[]beam.Line{{10, 0.1}, {20, layout.MM(math.Inf(1))}, {30, 0.3}}, "line 2 is +Inf mm wide"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := beam.FromLines(tc.lines)
			require.ErrorContains(t, err, tc.want)
		})
	}
}
