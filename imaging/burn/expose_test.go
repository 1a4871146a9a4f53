package burn_test

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// exposed is a region's doses, shares of full dose, row after row.
func exposed(t require.TestingT, m burn.Machine, pitch layout.MM, src burn.Source, region image.Rectangle, k int) [][]float32 {
	var rows [][]float32
	err := burn.ExposeRelative(context.Background(), m, pitch, src, region, k, func(row int, shares []float32) error {
		require.Equal(t, len(rows), row)
		require.Len(t, shares, k*region.Dx())
		rows = append(rows, append([]float32(nil), shares...))
		return nil
	})
	require.NoError(t, err)
	require.Len(t, rows, k*region.Dy())
	return rows
}

func whole(src burn.Source) image.Rectangle {
	w, h := src.Size()
	return image.Rect(0, 0, w, h)
}

func full(w, h int) *plane.Bits {
	b := plane.NewBits(w, h)
	for y := range h {
		for x := range w {
			b.Set(x, y)
		}
	}
	return b
}

func beamOf(along, across layout.MM) burn.Machine {
	m := starter()
	m.BeamAlong, m.BeamAcross = along, across
	return m
}

func mean(rows [][]float32) float64 {
	total, n := 0.0, 0
	for _, row := range rows {
		for _, v := range row {
			total += float64(v)
			n++
		}
	}
	return total / float64(n)
}

// Source: the mean dose of a raster is power over speed times pitch, whatever the beam.
func TestFullyBurnedMean(t *testing.T) {
	const pitch = 0.1
	s := burn.Setting{PowerPercent: 30, Speed: 25, Pitch: pitch, Passes: 1} // 60 J/cm2
	for _, width := range []float64{0.1, 0.25, 0.5, 0.8, 1, 1.25, 2, 3, 4, 6} {
		for k := 1; k <= burn.MaxGrid; k++ {
			t.Run(fmt.Sprintf("beam of %g pitches, grid %d", width, k), func(t *testing.T) {
				m := beamOf(layout.MM(width*pitch), layout.MM(width*pitch))
				var rows [][]float32
				err := burn.Expose(context.Background(), m, s, 1, burn.OneBit(full(40, 40)), image.Rect(18, 18, 22, 22), k,
					func(_ int, row []float32) error {
						rows = append(rows, append([]float32(nil), row...))
						return nil
					})
				require.NoError(t, err)
				require.InEpsilon(t, 60, mean(rows), 1e-6)
			})
		}
	}
}

// drawRaster is a random small raster of any kind.
func drawRaster(t *rapid.T) burn.Source {
	w, h := rapid.IntRange(1, 24).Draw(t, "w"), rapid.IntRange(1, 12).Draw(t, "h")
	if rapid.Bool().Draw(t, "eight bit") {
		g := plane.NewGrey16(w, h)
		for i := range g.Pix {
			g.Pix[i] = rapid.Uint16().Draw(t, "share")
		}
		return burn.EightBit(g)
	}
	return burn.OneBit(drawDots(t, w, h))
}

func drawDots(t *rapid.T, w, h int) *plane.Bits {
	b := plane.NewBits(w, h)
	for y := range h {
		for x := range w {
			if rapid.Bool().Draw(t, "dot") {
				b.Set(x, y)
			}
		}
	}
	return b
}

func drawRegion(t *rapid.T, within image.Rectangle) image.Rectangle {
	x := rapid.IntRange(within.Min.X, within.Max.X-1).Draw(t, "x")
	y := rapid.IntRange(within.Min.Y, within.Max.Y-1).Draw(t, "y")
	return image.Rect(x, y, rapid.IntRange(x+1, within.Max.X).Draw(t, "x1"), rapid.IntRange(y+1, within.Max.Y).Draw(t, "y1"))
}

// drawBeam is a beam of half a pitch to 20 pitches, so that every way through the
// code is taken.
func drawBeam(t *rapid.T, pitch float64) burn.Machine {
	width := func(name string) layout.MM {
		return layout.MM(pitch * rapid.SampledFrom([]float64{0.5, 1, 1.3, 2, 4, 7, 20}).Draw(t, name))
	}
	return beamOf(width("along"), width("across"))
}

// Light adds up: what two rasters give, burned over each other, is the sum.
func TestStepsAddUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawBeam(t, 0.08)
		a, b := drawDots(t, 17, 9), drawDots(t, 17, 9)
		both, err := burn.Steps(burn.Step{Dots: a, Share: 0.25}, burn.Step{Dots: b, Share: 0.75})
		require.NoError(t, err)
		one := exposed(t, m, 0.08, burn.OneBit(a), image.Rect(-1, -1, 18, 10), 2)
		two := exposed(t, m, 0.08, burn.OneBit(b), image.Rect(-1, -1, 18, 10), 2)
		for r, row := range exposed(t, m, 0.08, both, image.Rect(-1, -1, 18, 10), 2) {
			for c, v := range row {
				require.InDelta(t, 0.25*one[r][c]+0.75*two[r][c], v, 1e-6*4)
			}
		}
	})
}

// A one-bit raster takes a way of its own through tables; power for each dot, at
// full or none, is the plain way.
func TestTablesAgreeWithThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := drawBeam(t, 0.08)
		dots := drawDots(t, rapid.IntRange(1, 40).Draw(t, "w"), 5)
		levels := plane.NewGrey16(dots.W, dots.H)
		for i := range levels.Pix {
			if dots.At(i%dots.W, i/dots.W) {
				levels.Pix[i] = 65535
			}
		}
		k := rapid.IntRange(1, 8).Draw(t, "k")
		region := drawRegion(t, image.Rect(-30, -3, dots.W+30, 8))
		plain := exposed(t, m, 0.08, burn.EightBit(levels), region, k)
		for r, row := range exposed(t, m, 0.08, burn.OneBit(dots), region, k) {
			for c, v := range row {
				require.InDelta(t, plain[r][c], v, 1e-6*4, "peaks are up to 3.2 of the full dose")
			}
		}
	})
}

func TestRegionEqualsTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		src, m := drawRaster(t), drawBeam(t, 0.08)
		k := rapid.IntRange(1, 8).Draw(t, "k")
		all := whole(src).Inset(-3)
		region := drawRegion(t, all)
		left := (region.Min.X - all.Min.X) * k
		want := exposed(t, m, 0.08, src, all, k)[(region.Min.Y-all.Min.Y)*k:]
		for r, row := range exposed(t, m, 0.08, src, region, k) {
			require.Equal(t, want[r][left:left+len(row)], row, "to the bit")
		}
	})
}

func TestBandsInParallelEqualTheWhole(t *testing.T) {
	dots := noise(203, 97, 0.4)
	want := exposed(t, starter(), 0.08, burn.OneBit(dots), whole(burn.OneBit(dots)), 2)
	e, err := burn.NewExposer(starter(), 0.08, 2)
	require.NoError(t, err)
	got := make([][]float32, 2*dots.H)
	err = plane.SplitRows(context.Background(), dots.H, func(ctx context.Context, y0, y1 int) error {
		return e.Expose(ctx, burn.OneBit(dots), image.Rect(0, y0, dots.W, y1), nil, func(row int, shares []float32) error {
			got[2*y0+row] = append([]float32(nil), shares...)
			return nil
		})
	})
	require.NoError(t, err)
	require.Equal(t, want, got)
}

// Blocks of 16 x 16 dots, each grid against one twice as fine, from a quarter of
// what ChooseGrid asks for upwards.
func TestFinerGridsAgree(t *testing.T) {
	const block = 16
	dots := burn.OneBit(noise(144, 144, 0.4))
	region := image.Rect(8, 8, 136, 136)
	blocks := func(m burn.Machine, k int) []float64 {
		side := region.Dx() / block
		means := make([]float64, side*side)
		for r, row := range exposed(t, m, 0.08, dots, region, k) {
			for c, v := range row {
				means[r/(block*k)*side+c/(block*k)] += float64(v) / float64(block*block*k*k)
			}
		}
		return means
	}
	for _, m := range []burn.Machine{beamOf(0.08, 0.10), beamOf(0.10, 0.08), beamOf(0.16, 0.16), beamOf(0.32, 0.24)} {
		for k := (burn.ChooseGrid(m, 0.08) + 3) / 4; k <= 4; k *= 2 {
			t.Run(fmt.Sprintf("%g x %g, grid %d", m.BeamAlong, m.BeamAcross, k), func(t *testing.T) {
				fine := blocks(m, 2*k)
				worst := 0.0
				for i, v := range blocks(m, k) {
					worst = max(worst, math.Abs(v/fine[i]-1))
				}
				require.Less(t, worst, 0.005)
			})
		}
	}
}

func TestDosesScale(t *testing.T) {
	src := burn.OneBit(noise(12, 9, 0.5))
	m := starter()
	doses := func(s burn.Setting, exponent float64) (all []float32) {
		err := burn.Expose(context.Background(), m, s, exponent, src, whole(src), 3, func(_ int, row []float32) error {
			all = append(all, row...)
			return nil
		})
		require.NoError(t, err)
		return all
	}
	base := doses(usual(), 1)
	for name, c := range map[string]struct {
		setting          burn.Setting
		exponent, factor float64
	}{
		"twice the power":   {burn.Setting{PowerPercent: 60, Speed: 25, Pitch: 0.08, Passes: 1}, 1, 2},
		"twice the speed":   {burn.Setting{PowerPercent: 30, Speed: 50, Pitch: 0.08, Passes: 1}, 1, 0.5},
		"three passes":      {burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08, Passes: 3}, 1, 3},
		"passes to a power": {burn.Setting{PowerPercent: 30, Speed: 25, Pitch: 0.08, Passes: 4}, 0.85, math.Pow(4, 0.85)},
	} {
		t.Run(name, func(t *testing.T) {
			for i, v := range doses(c.setting, c.exponent) {
				require.InDelta(t, c.factor*float64(base[i]), v, 1e-6*c.factor*float64(base[i]))
			}
		})
	}
	t.Run("relative doses", func(t *testing.T) {
		i := 0
		for _, row := range exposed(t, m, 0.08, src, whole(src), 3) {
			for _, v := range row {
				require.Equal(t, base[i], v*float32(burn.Dose(m, usual(), 1)))
				i++
			}
		}
	})
}

func TestExposeEnds(t *testing.T) {
	dots := burn.OneBit(full(50, 400))
	t.Run("context", func(t *testing.T) {
		ctx, cancel := context.WithCancel(context.Background())
		defer cancel()
		rows := 0
		err := burn.Expose(ctx, starter(), usual(), 1, dots, whole(dots), 2, func(int, []float32) error {
			if rows++; rows == 7 {
				cancel()
			}
			return nil
		})
		require.ErrorIs(t, err, context.Canceled)
		require.Equal(t, 7, rows)
	})
	t.Run("emit", func(t *testing.T) {
		full := errors.New("disk full")
		rows := 0
		err := burn.Expose(context.Background(), starter(), usual(), 1, dots, whole(dots), 2, func(int, []float32) error {
			rows++
			return full
		})
		require.Equal(t, full, err)
		require.Equal(t, 1, rows)
	})
	t.Run("empty region", func(t *testing.T) {
		require.Empty(t, exposed(t, starter(), 0.08, dots, image.Rectangle{}, 2))
	})
	t.Run("empty raster", func(t *testing.T) {
		require.Zero(t, mean(exposed(t, starter(), 0.08, burn.OneBit(plane.NewBits(0, 0)), image.Rect(-2, -2, 2, 2), 2)))
	})
	t.Run("far away", func(t *testing.T) {
		require.Zero(t, mean(exposed(t, starter(), 0.08, dots, image.Rect(5000, -5000, 5009, -4998), 2)))
	})
}

func TestExposeRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(*burn.Machine, *burn.Setting)
		k     int
		want  string
	}{
		"no beam":    {func(m *burn.Machine, _ *burn.Setting) { m.BeamAlong = 0 }, 1, "beam_width_along_mm 0"},
		"vast beam":  {func(m *burn.Machine, _ *burn.Setting) { m.BeamAcross = 100 }, 1, "beam_width_across_mm 100"},
		"NaN":        {func(m *burn.Machine, _ *burn.Setting) { m.BeamAcross = layout.MM(math.NaN()) }, 1, "beam_width_across_mm NaN"},
		"no speed":   {func(_ *burn.Machine, s *burn.Setting) { s.Speed = 0 }, 1, "speed_mm_per_min 0"},
		"300 passes": {func(_ *burn.Machine, s *burn.Setting) { s.Passes = 300 }, 1, "passes 300"},
		"no grid":    {func(*burn.Machine, *burn.Setting) {}, 0, "grid 0 is out of range: choose 1 to 8"},
		"fine grid":  {func(*burn.Machine, *burn.Setting) {}, 9, "grid 9"},
	} {
		t.Run(name, func(t *testing.T) {
			m, s := starter(), usual()
			c.spoil(&m, &s)
			err := burn.Expose(context.Background(), m, s, 1, burn.OneBit(full(3, 3)), image.Rect(0, 0, 3, 3), c.k, nil)
			require.ErrorContains(t, err, c.want)
		})
	}
	for _, exponent := range []float64{-1, 4, math.NaN(), math.Inf(1)} {
		err := burn.Expose(context.Background(), starter(), usual(), exponent, burn.OneBit(full(3, 3)), image.Rect(0, 0, 3, 3), 1, nil)
		require.ErrorContains(t, err, "pass_exponent")
	}
	_, err := burn.NewExposer(beamOf(0.08, 0), 0.08, 1)
	require.ErrorContains(t, err, "beam_width_across_mm 0")
	_, err = burn.NewExposer(starter(), 2, 1)
	require.ErrorContains(t, err, "pitch_mm 2")
	_, err = burn.NewExposer(starter(), 0.08, 9)
	require.ErrorContains(t, err, "grid 9")
}

func TestBufferIsReused(t *testing.T) {
	e, err := burn.NewExposer(starter(), 0.08, 2)
	require.NoError(t, err)
	require.Equal(t, 2, e.Grid())
	along, across := e.Reach()
	require.Equal(t, []int{1, 1}, []int{along, across})
	src, buf := burn.OneBit(noise(64, 64, 0.5)), &burn.Buffer{}
	expose := func() {
		err = e.Expose(context.Background(), src, image.Rect(8, 8, 56, 56), buf, func(int, []float32) error { return nil })
	}
	expose()
	require.NoError(t, err)
	require.Zero(t, testing.AllocsPerRun(20, expose))
}
