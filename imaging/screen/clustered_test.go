package screen

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// strength is how much of an even tint's dots swings with a wave of the given
// distance and direction, both as the options have them: 0 none, 1 all.
func strength(dots *plane.Bits, cell, degrees float64) float64 {
	sin, cos := math.Sincos(degrees * math.Pi / 180)
	var sum complex128
	n := 0
	for y := range dots.H {
		for x := range dots.W {
			if dots.At(x, y) {
				// Anticlockwise, with y downwards.
				sum += cmplx.Rect(1, 2*math.Pi*(float64(x)*cos-float64(y)*sin)/cell)
				n++
			}
		}
	}
	return cmplx.Abs(sum) / float64(n)
}

func even16(w, h int, share float64) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for i := range g.Pix {
		g.Pix[i] = uint16(math.Round(share * 65535))
	}
	return g
}

func mustScreen(t require.TestingT, tints *plane.Grey16, o Options) *plane.Bits {
	b, err := Screen(context.Background(), tints, o)
	require.NoError(t, err)
	return b
}

// Perfect discs and stripes that cover a fifth have the strengths 2 J1(u)/u, u the
// circumference of the disc in cells, and sin(u)/u, u half that of a circle a stripe
// wide. A screen whose distance or angle were off by a hundredth would fall short
// of them over 300 dots.
func TestClusteredLinesPerCMAndAngle(t *testing.T) {
	u := 2 * math.Pi * math.Sqrt(0.2/math.Pi)
	disc, stripe := 2*math.J1(u)/u, math.Sin(0.2*math.Pi)/(0.2*math.Pi)
	for _, c := range []struct {
		lines, degrees float64
		pitch          layout.MM
	}{{20, 45, 0.08}, {12, 0, 0.1}, {24, 15, 0.06}, {10, 105, 0.1}, {31, 63, 0.08}} {
		t.Run(fmt.Sprintf("%g at %g degrees", c.lines, c.degrees), func(t *testing.T) {
			cell := 10 / c.lines / float64(c.pitch)
			for _, spot := range []Spot{Round, Line} {
				o := Options{Kind: Clustered, LinesPerCM: c.lines, AngleDegrees: c.degrees, Pitch: c.pitch, Spot: spot}
				dots := mustScreen(t, even16(300, 300, 0.2), o)
				along, across := strength(dots, cell, c.degrees), strength(dots, cell, c.degrees+90)
				if spot == Round {
					require.InDelta(t, disc, across, 0.03)
					require.InDelta(t, disc, along, 0.03)
				} else {
					require.InDelta(t, stripe, across, 0.03)
					require.Less(t, along, 0.1, "lines are the same all along")
				}
				require.Less(t, strength(dots, cell, c.degrees+45), 0.1, "half-way between")
				require.Less(t, strength(dots, 1.1*cell, c.degrees+90), 0.1, "a tenth wider")
			}
		})
	}
}

// Angle and distance are met as closely as it is said.
func TestScrewIsNear(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		cell, degrees := rapid.Float64Range(minCell, MaxCell).Draw(t, "cell"), rapid.Float64Range(0, 180).Draw(t, "angle")
		distance, angle := 0.015, 2.5
		if cell <= 8 {
			distance, angle = 0.006, 1.2
		}
		s := newScrew(cell, degrees)
		got := math.Hypot(float64(s.along), float64(s.across)) / float64(s.size) * cell
		require.InDelta(t, 1, got, distance)
		turned := math.Atan2(float64(s.across), float64(s.along)) - degrees*math.Pi/180
		require.InDelta(t, 0, math.Remainder(turned, 2*math.Pi)*180/math.Pi, angle)
	})
}

// Cells keep step: none is more than a dot ahead of its share of the tint or behind.
func TestClusteredCellsKeepStep(t *testing.T) {
	s := newScrew(6.25, 45)
	tile := newClusterTile(clusterKey{6.25, 45, Round})
	cells := s.cells(Round)
	require.Len(t, cells, s.along*s.along+s.across*s.across)
	for _, tint := range []uint16{3000, 20000, 32768, 50000} {
		for _, c := range cells {
			burned := 0
			for _, d := range c.dots {
				if tint >= tile.thresholds[d.place] {
					burned++
				}
			}
			require.InDelta(t, float64(tint)/65535*float64(len(c.dots)), burned, 1.01)
		}
	}
}

// Round dots stand by themselves below half and touch at their corners at half.
func TestClusteredDotsAreCompact(t *testing.T) {
	perimeter := func(dots *plane.Bits) (edges, burned int) {
		for y := 1; y < dots.H; y++ {
			for x := 1; x < dots.W; x++ {
				if dots.At(x, y) != dots.At(x-1, y) {
					edges++
				}
				if dots.At(x, y) != dots.At(x, y-1) {
					edges++
				}
				if dots.At(x, y) {
					burned++
				}
			}
		}
		return edges, burned
	}
	tints := even16(200, 200, 0.2)
	edges, burned := perimeter(mustScreen(t, tints, Options{Kind: Clustered, LinesPerCM: 12.5, Pitch: 0.1, AngleDegrees: 45}))
	// A disc of 64*0.2 dots has the box of its diameter, 4.04, for an outline.
	require.InDelta(t, 4*4.04/12.8, float64(edges)/float64(burned), 0.15)
	edges, burned = perimeter(mustScreen(t, tints, Options{Kind: BlueNoise}))
	require.Greater(t, float64(edges)/float64(burned), 3.5, "blue noise has hardly two dots together")
}

func TestClusteredStartsFast(t *testing.T) {
	o := Options{Kind: Clustered, LinesPerCM: 17, Pitch: 0.08, AngleDegrees: 22}
	a, b := newClustered(0, o).(*ordered), newClustered(0, o).(*ordered)
	require.Same(t, a.grid, b.grid, "the tile is made once")
}
