package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestErfFromTheTable(t *testing.T) {
	worst := 0.0
	for v := -6.0; v <= 6; v += 0.00037 {
		worst = math.Max(worst, math.Abs(erf(v)-math.Erf(v)))
	}
	require.Less(t, worst, 2e-7)
	require.Zero(t, erf(0))
}

// The light that a blurred box takes away is as much as the box's own.
func TestBlurredKeepsTheArea(t *testing.T) {
	b, sum := box{-20, 5, 30, 25}, 0.0
	for x := -120.0; x < 120; x++ {
		for y := -120.0; y < 120; y++ {
			sum += blurred(b, 12, x+0.5, y+0.5)
		}
	}
	require.InDelta(t, b.w()*b.h(), sum, 0.1)
	require.InDelta(t, 0.5, blurred(box{0, -1000, 1000, 1000}, 10, 0, 0), 1e-6, "half at an edge")
}
