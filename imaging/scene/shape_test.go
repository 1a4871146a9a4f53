package scene

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// area adds up what a shape covers on a raster that does not line up with it.
func area(sh shape, px float64) float64 {
	sum, in := 0.0, sh.in.grown(3*px)
	for y := in.y0 + 0.31*px; y < in.y1; y += px {
		for x := in.x0 + 0.77*px; x < in.x1; x += px {
			sum += sh.cover(spot{x, y, px}) * px * px
		}
	}
	return sum
}

// The areas follow from the figures' formulas.
func TestShapesCoverTheirArea(t *testing.T) {
	const r, half, width = 20.0, 40.0, 22.0
	radius := (half*half + width*width/4) / width
	lens := 2*radius*radius*math.Asin(half/radius) - 2*half*(radius-width/2)
	for _, test := range []struct {
		name   string
		sh     shape
		px     float64
		want   float64
		within float64
	}{
		{"rectangle", rectangle(box{3.3, 4.4, 50.1, 20.2}), 1, 46.8 * 15.8, 1e-9},
		{"rectangle in large pixels", rectangle(box{3.3, 4.4, 50.1, 20.2}), 12, 46.8 * 15.8, 1e-9},
		{"circle", ellipse(centred(5, 6, 2*r, 2*r)), 1, math.Pi * r * r, 1e-3},
		{"ellipse", ellipse(centred(5, 6, 80, 30)), 1, math.Pi * 40 * 15, 3e-3},
		{"rounded", rounded(box{0, 0, 100, 60}, r), 1, 6000 - (4-math.Pi)*r*r, 1e-3},
		{"triangle", polygon([2]float64{0, 50}, [2]float64{60, 0}, [2]float64{0, 0}), 1, 1500, 5e-3},
		{"stroke", stroke(0, 0, 60, 25, 8, 8), 1, 65*8 + math.Pi*16, 5e-3},
		{"leaf", leaf(0, 0, 80, 0, width), 1, lens, 5e-3},
		{"cylinder", lathe(7, profile{2, 10}, profile{40, 10}), 1, 20 * 38, 1e-9},
		{"cone", lathe(7, profile{0, 10}, profile{40, 30}), 1, 40 * 40, 1e-3},
	} {
		t.Run(test.name, func(t *testing.T) {
			require.InEpsilon(t, test.want, area(test.sh, test.px), test.within)
		})
	}
}

func TestLatheRunsThroughItsPoints(t *testing.T) {
	points := []profile{{0, 40}, {10, 50}, {60, 100}, {98, 90}}
	for _, p := range points {
		require.InDelta(t, p.half, halfAt(points, p.y), 1e-9)
	}
	require.Equal(t, 40.0, halfAt(points, -5))
	require.Equal(t, 90.0, halfAt(points, 200))
}

func TestGapCountsEachPixelsShare(t *testing.T) {
	for _, px := range []float64{0.3, 1, 2.9} {
		sum := 0.0
		for x := px / 2; x < 1000-px/2; x += px {
			sum += gap(x, px, 100, 4) * px
		}
		require.InDelta(t, 40, sum, 3, "ten gaps of 4 in 1000, at pixels of %g", px)
	}
}

// A point on the floor is seen where the floor's way back says.
func TestFloorAndStandingAgree(t *testing.T) {
	for _, z := range []float64{0, 10, 350, 900} {
		require.InDelta(t, z, floorDepth(-standing(0, z)), 1e-9)
	}
	require.Equal(t, 500.0, standing(500, 0), "at the wall")
	require.InDelta(t, eyeHeight, standing(eyeHeight, 700), 1e-9, "at the eye's height")
}
