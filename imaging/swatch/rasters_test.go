package swatch_test

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func TestRastersOfOneSizeHoldTheSwatches(t *testing.T) {
	c := newChart(t, request())
	var first *plane.Bits
	for i, file := range c.Rasters {
		r, err := c.Raster(context.Background(), i, nil)
		require.NoError(t, err)
		require.Equal(t, file, r.RasterFile)
		if first == nil {
			first = r.Dots
		}
		require.Equal(t, []int{first.W, first.H}, []int{r.Dots.W, r.Dots.H})
		for _, s := range c.Swatches {
			// Its middle is burned in its own raster and in no other.
			x := int(math.Floor(float64(s.Centre.X)/0.1 + float64(r.Dots.W)/2))
			y := int(math.Floor(-float64(s.Centre.Y)/0.1 + float64(r.Dots.H)/2))
			require.Equal(t, s.Setting == file.Setting, r.Dots.At(x, y), s.ID)
			if s.Setting == file.Setting && file.Setting != *c.MarkSetting {
				require.InEpsilon(t, float64(s.Size.W*s.Size.H)/0.01, r.Dots.Count(), 0.03)
			}
		}
	}
}

func TestMarksAreBurnedOnceAndTheFirstHasItsHole(t *testing.T) {
	c := newChart(t, request())
	for i, file := range c.Rasters {
		r, err := c.Raster(context.Background(), i, nil)
		require.NoError(t, err)
		marked := file.Setting == *c.MarkSetting
		for _, p := range c.MarkAreas() {
			require.Equal(t, marked, burnedAt(r.Dots, 0.1, layout.Point{X: p.Centre.X, Y: p.Centre.Y - p.Size.H/4}), "below the middle of a mark")
		}
		require.False(t, burnedAt(r.Dots, 0.1, c.MarkHole().Centre))
		for _, a := range c.References {
			require.False(t, burnedAt(r.Dots, 0.1, a.Centre), "unburned field")
		}
	}
}

func burnedAt(dots *plane.Bits, pitch float64, p layout.Point) bool {
	return dots.At(int(math.Floor(float64(p.X)/pitch+float64(dots.W)/2)), int(math.Floor(-float64(p.Y)/pitch+float64(dots.H)/2)))
}

func TestEightBitRasterHoldsTheShares(t *testing.T) {
	r := request()
	r.Machine.PowerPerPixel, r.Machine.PowerOffsetPercent = true, 3
	c := newChart(t, r)
	raster, err := c.Raster(context.Background(), 0, nil)
	require.NoError(t, err)
	require.Nil(t, raster.Dots)
	row := make([]float32, raster.Shares.W)
	for _, s := range c.Swatches {
		burn.EightBit(raster.Shares).ShareRow(int(math.Floor(-float64(s.Centre.Y)/0.1+float64(raster.Shares.H)/2)), row)
		share := row[int(math.Floor(float64(s.Centre.X)/0.1+float64(raster.Shares.W)/2))]
		full := r.Machine.OpticalW(raster.Setting.PowerPercent)
		require.InDelta(t, r.Machine.OpticalW(s.Setting.PowerPercent), full*float64(share), 1e-6, "no rounding is left between chart and raster")
	}
}

func TestTintsAreScreened(t *testing.T) {
	r := request()
	r.Kind, r.Powers = swatch.Tints, []float64{30}
	c := newChart(t, r)
	_, err := c.Raster(context.Background(), 0, nil)
	require.ErrorContains(t, err, "needs a screen")
	// Every other dot: what matters is that the screen's dots come through.
	half := func(_ context.Context, tints *plane.Grey16) (*plane.Bits, error) {
		dots := plane.NewBits(tints.W, tints.H)
		for y := range tints.H {
			for x := y % 2; x < tints.W; x += 2 {
				dots.Set(x, y)
			}
		}
		return dots, nil
	}
	raster, err := c.Raster(context.Background(), 0, half)
	require.NoError(t, err)
	require.Greater(t, raster.Dots.Count(), 10*100*100/2)
	wrong := func(context.Context, *plane.Grey16) (*plane.Bits, error) { return plane.NewBits(1, 1), nil }
	_, err = c.Raster(context.Background(), 0, wrong)
	require.ErrorContains(t, err, "the screen made 1 x 1 dots")
}

func TestLinesAreOneDotHigh(t *testing.T) {
	r := request()
	r.Kind = swatch.Lines
	c := newChart(t, r)
	for i, file := range c.Rasters {
		raster, err := c.Raster(context.Background(), i, nil)
		require.NoError(t, err)
		if file.Setting == *c.MarkSetting {
			continue
		}
		lines := 0
		for y := range raster.Dots.H {
			first, last, ok := raster.Dots.Span(y)
			if ok {
				lines++
				require.InDelta(t, 100, last-first+1, 1)
			}
		}
		require.Equal(t, 3, lines)
	}
}

func TestRasterRefusals(t *testing.T) {
	c := newChart(t, request())
	_, err := c.Raster(context.Background(), 12, nil)
	require.ErrorContains(t, err, "raster 12 is not one of the chart's 12")
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = c.Raster(ctx, 0, nil)
	require.ErrorIs(t, err, context.Canceled)
}

func TestLabelsSayIDAndPower(t *testing.T) {
	c := newChart(t, request())
	s := c.Swatches[0]
	s.Setting.PowerPercent = 12.5
	require.Equal(t, "A1 12.5", c.Label(s))
	s.Setting.PowerPercent = 30
	require.Equal(t, "A1 30", c.Label(s))
	c.Kind, s.Tint = swatch.Tints, 0.35
	require.Equal(t, "A1 35", c.Label(s))
}
