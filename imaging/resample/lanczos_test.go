package resample

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The values are sinc(x) sinc(x/3) worked out by hand from the formula.
// Source: Duchon, "Lanczos filtering in one and two dimensions", Journal of
// Applied Meteorology 18, 1979, for the formula.
func TestLanczos(t *testing.T) {
	for _, c := range []struct{ x, want float64 }{
		{0, 1},
		{0.5, 6 / (math.Pi * math.Pi)},               // (2/π)(3/π)
		{1.5, -4 / (3 * math.Pi * math.Pi)},          // (-2/3π)(2/π)
		{2.5, 2 / (5 * math.Pi) * 3 / (5 * math.Pi)}, // (2/5π)(3/5π)
		{1, 0}, {2, 0}, {3, 0}, {3.01, 0}, {50, 0},
	} {
		require.InDelta(t, c.want, lanczos(c.x), 1e-15, "at %g", c.x)
		require.Equal(t, lanczos(c.x), lanczos(-c.x), "even at %g", c.x)
	}
}

func TestTapsSumToOneAndReachAllTheKernel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		from := rapid.Float64Range(0, 500).Draw(t, "from")
		length := rapid.Float64Range(0.01, 3000).Draw(t, "length")
		size := rapid.IntRange(1, 400).Draw(t, "size")
		taps := newTaps(from, length, size)
		step := length / float64(size)
		reach := lobes * math.Max(step, 1)
		for i, first := range taps.first {
			sum := 0.0
			for _, w := range taps.weight[i*taps.n : (i+1)*taps.n] {
				sum += float64(w)
			}
			require.InDelta(t, 1, sum, 1e-7)
			centre := from + (float64(i)+0.5)*step
			require.LessOrEqual(t, math.Abs(float64(first)+0.5-centre), reach+1e-9)
			require.Greater(t, float64(int(first)+taps.n)+0.5, centre+reach-1e-9, "a pixel within reach is left out")
		}
	})
}
