package picture

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

func TestCurveSharesCountLightness(t *testing.T) {
	shares, err := Tone{}.CurveShares(lightRamp(), 4)
	require.NoError(t, err)
	require.Len(t, shares, 4)
	for i, n := range []float64{25, 25, 25, 26} { // L* 0 to 24, and so on; 100 in the last
		require.InDelta(t, n/101, shares[i], 1/101.0)
	}
	curve, err := NewCurve(CurvePoint{From: 0, To: 50}, CurvePoint{From: 100, To: 60})
	require.NoError(t, err)
	bent, err := Tone{Curve: curve}.CurveShares(lightRamp(), 4)
	require.NoError(t, err)
	require.Equal(t, shares, bent, "what the curve is given does not hang on it")
}

func TestCurveSharesFollowWhatComesBeforeTheCurve(t *testing.T) {
	sum := func(shares []float64) (all float64) {
		for _, s := range shares {
			all += s
		}
		return all
	}
	for name, c := range map[string]struct {
		tone Tone
		want func(s []float64) bool
	}{
		"black point": {Tone{Black: 50}, func(s []float64) bool { return s[0] > 0.5 && s[9] < 0.07 }},
		"white point": {Tone{White: 50}, func(s []float64) bool { return s[9] > 0.5 }},
		"mid tone":    {Tone{Mid: 1}, func(s []float64) bool { return s[9] > 0.15 && s[0] < 0.05 }},
		"contrast":    {Tone{Contrast: 1}, func(s []float64) bool { return s[0] > 0.2 && s[9] > 0.2 }},
	} {
		shares, err := c.tone.CurveShares(lightRamp(), 10)
		require.NoError(t, err)
		require.InDelta(t, 1, sum(shares), 1e-9, name)
		require.True(t, c.want(shares), "%s: %v", name, shares)
	}
	even := lightFrom(3, 2, func(_, _ int) uint16 { return lightOf(42 * perLStar) })
	shares, err := Tone{}.CurveShares(even, 10)
	require.NoError(t, err)
	require.InDelta(t, 1, shares[4], 1e-9)

	none, err := Tone{}.CurveShares(plane.NewGrey16(0, 4), 10)
	require.NoError(t, err)
	require.Empty(t, none)
	_, err = Tone{Mid: 3}.CurveShares(lightRamp(), 10)
	require.Error(t, err)
}

func BenchmarkCurveShares(b *testing.B) {
	light := lightFrom(512, 512, func(x, y int) uint16 { return uint16(x*128 + y) })
	t := Tone{Black: 5, Mid: 0.3, Contrast: 0.2}
	for b.Loop() {
		if _, err := t.CurveShares(light, 50); err != nil {
			b.Fatal(err)
		}
	}
}
