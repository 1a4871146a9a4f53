package burn_test

import (
	"fmt"
	"image"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// phi is the standard normal distribution.
func phi(z float64) float64 { return (1 + math.Erf(z/math.Sqrt2)) / 2 }

// formula is the dose map, in shares of full dose, at the places xs x ys, in pitches,
// summed over every dot of the raster: the closed form itself.
func formula(m burn.Machine, pitch layout.MM, src burn.Source, xs, ys []float64) [][]float64 {
	sx, sy := float64(m.BeamAlong/pitch)/4, float64(m.BeamAcross/pitch)/4
	w, h := src.Size()
	along := make([][]float64, len(xs)) // of each place and dot
	for c, x := range xs {
		for i := range w {
			along[c] = append(along[c], phi((x-float64(i))/sx)-phi((x-float64(i)-1)/sx))
		}
	}
	doses := make([][]float64, len(ys))
	share := make([]float32, w)
	for r, y := range ys {
		doses[r] = make([]float64, len(xs))
		for j := range h {
			if src.ShareRow(j, share); slices.Max(share) == 0 {
				continue
			}
			d := (y - float64(j) - 0.5) / sy
			line := math.Exp(-d*d/2) / (sy * math.Sqrt(2*math.Pi))
			for c := range xs {
				for i, q := range share {
					doses[r][c] += float64(q) * line * along[c][i]
				}
			}
		}
	}
	return doses
}

// middles are the middles of the sub-cells of the dots a..b-1.
func middles(a, b, k int) (places []float64) {
	for i := range (b - a) * k {
		places = append(places, float64(a)+(float64(i)+0.5)/float64(k))
	}
	return places
}

// requireFormula holds a region to the formula, the tolerance a share of the
// raster's own peak.
func requireFormula(t require.TestingT, m burn.Machine, pitch layout.MM, src burn.Source, region image.Rectangle, k int, tolerance float64) {
	w, h := src.Size()
	peak := 0.0
	for _, row := range formula(m, pitch, src, middles(0, w, 1), middles(0, h, 1)) {
		peak = max(peak, slices.Max(row))
	}
	want := formula(m, pitch, src, middles(region.Min.X, region.Max.X, k), middles(region.Min.Y, region.Max.Y, k))
	worst := 0.0
	for r, row := range exposed(t, m, pitch, src, region, k) {
		for c, v := range row {
			worst = max(worst, math.Abs(float64(v)-want[r][c]))
		}
	}
	require.LessOrEqual(t, worst, tolerance*peak)
}

// Source: the error function's closed form for a Gaussian beam (ISO 11146) moving
// over one dot, or a line of them.
func TestClosedForm(t *testing.T) {
	const pitch = 0.08
	dot := plane.NewBits(15, 15)
	dot.Set(7, 7)
	line := plane.NewBits(40, 15)
	for x := 5; x < 31; x++ {
		line.Set(x, 7)
	}
	for _, m := range []burn.Machine{
		beamOf(0.08, 0.10), beamOf(0.06, 0.06), beamOf(0.04, 0.12), beamOf(0.16, 0.08), beamOf(0.3, 0.2), beamOf(0.48, 0.48),
	} {
		for _, k := range []int{4, 5, 8} {
			if k == 4 && m.BeamAcross < pitch {
				continue // ChooseGrid asks for 8 and more
			}
			t.Run(fmt.Sprintf("%g x %g, grid %d", m.BeamAlong, m.BeamAcross, k), func(t *testing.T) {
				requireFormula(t, m, pitch, burn.OneBit(dot), image.Rect(-3, -3, 18, 18), k, 1e-4)
				requireFormula(t, m, pitch, burn.OneBit(line), image.Rect(-3, -3, 43, 18), k, 1e-4)
			})
		}
	}
}

func TestRandomRastersFollowTheFormula(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, m := drawRaster(t), drawBeam(t, 0.08)
		k := 8
		if m.BeamAcross >= 0.08 {
			k = rapid.IntRange(4, 8).Draw(t, "k")
		}
		requireFormula(t, m, 0.08, src, drawRegion(t, whole(src).Inset(-2)), k, 1e-4)
	})
}
