package photo

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// An even line under a Gaussian blur is at half its height where unblurred says.
func TestUnblurredTurnsTheBlurRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		soft := rapid.Float64Range(0.001, 0.1).Draw(t, "soft")
		width := soft * rapid.Float64Range(1.6, 40).Draw(t, "width")
		height := func(y float64) float64 {
			k := math.Sqrt2 * soft
			return (math.Erf((width/2+y)/k) + math.Erf((width/2-y)/k)) / 2
		}
		low, high := 0.0, width
		for range 60 {
			if mid := (low + high) / 2; height(mid) > 0.5 {
				low = mid
			} else {
				high = mid
			}
		}
		require.InDelta(t, width, unblurred(2*low, soft), 1e-6*width+1e-9)
	})
}

func TestRisesAreFoundBetweenValues(t *testing.T) {
	profile := []float64{0, 0, 0.6, 0, 0, 0, 0.25, 0.75, 1, 1, 0, 0.5, 1, 0}
	at, ok := firstRise(profile, 0.5)
	require.True(t, ok)
	require.InDelta(t, 6.5, at, 1e-12) // one value above is noise
	at, ok = riseNear(profile, 0.4, 10)
	require.True(t, ok)
	require.InDelta(t, 10.8, at, 1e-12)
	_, ok = firstRise(profile, 2)
	require.False(t, ok)
}
