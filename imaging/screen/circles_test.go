package screen

import (
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// Source: Pappas and Neuhoff 1995, equations for alpha, beta and gamma; the values
// were worked out apart from this program and checked by numerical integration.
func TestOverlapsOfDiscs(t *testing.T) {
	for _, c := range []struct{ radius, alpha, beta, gamma float64 }{
		{1, 0.142699, 0, 0},
		{1.1, 0.220308, 0.004858, 0.025982},
		{1.25, 0.334172, 0.029420, 0.098315},
		{math.Sqrt2, 0.456611, 0.078787, 0.206611},
	} {
		alpha, beta, gamma := overlaps(c.radius)
		require.InDelta(t, c.alpha, alpha, 1e-6)
		require.InDelta(t, c.beta, beta, 1e-6)
		require.InDelta(t, c.gamma, gamma, 1e-6)
		require.InDelta(t, math.Pi*c.radius*c.radius/2, 1+4*alpha+4*beta, 1e-9, "a lone disc")
	}
}

// Every pattern against the discs themselves, point by point.
func TestGeometricCellsAreTheAreaOfDiscs(t *testing.T) {
	const points = 120
	for _, radius := range []float64{1, 1.25, math.Sqrt2} {
		t.Run(fmt.Sprintf("%.2f", radius), func(t *testing.T) {
			c, err := GeometricCells(radius)
			require.NoError(t, err)
			r2 := radius * radius / 2 // in cells
			reached := map[int]int{}  // by the dots whose discs hold a point, the number of points
			for y := range points {
				for x := range points {
					px, py := (float64(x)+0.5)/points-0.5, (float64(y)+0.5)/points-0.5
					by := 0
					for dy := -1; dy <= 1; dy++ {
						for dx := -1; dx <= 1; dx++ {
							if (px-float64(dx))*(px-float64(dx))+(py-float64(dy))*(py-float64(dy)) <= r2 {
								by |= 1 << dotBit(dx, dy)
							}
						}
					}
					reached[by]++
				}
			}
			for pattern := range Patterns {
				n := 0
				for by, count := range reached {
					if by&pattern != 0 {
						n += count
					}
				}
				require.InDelta(t, float64(n)/(points*points), c.Share(pattern), 2e-3, "pattern %09b", pattern)
			}
		})
	}
}

// Source: Pappas and Neuhoff 1995, by their model; worked out apart from this program.
func TestChequerboardOfDiscs(t *testing.T) {
	dots := plane.NewBits(40, 40)
	for y := range 40 {
		for x := range 40 {
			if (x+y)%2 == 0 {
				dots.Set(x, y)
			}
		}
	}
	got := defaultCells().Burned(dots, image.Rect(4, 4, 36, 36)) / (32 * 32)
	require.InDelta(t, 0.971714, got, 1e-5)
}
