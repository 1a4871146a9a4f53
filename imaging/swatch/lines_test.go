package swatch_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// The areas cover the dots that a raster of the chart burns for a swatch, and no
// others.
func TestLineAreasAreWhatTheRastersBurn(t *testing.T) {
	c, err := swatch.New(swatch.Request{
		Machine: machine(), Kind: swatch.Lines, Scrap: layout.Size{W: 90, H: 70}, Margin: 5, Side: 5,
		Powers: []float64{10, 20, 30, 40, 50}, Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.13},
	})
	require.NoError(t, err)
	c.MarkSetting = nil
	for i := range c.Rasters {
		raster, err := c.Raster(context.Background(), i, nil)
		require.NoError(t, err)
		want, total := map[[2]int]bool{}, 0
		for _, s := range c.Swatches {
			if s.Setting != raster.Setting {
				continue
			}
			areas, err := c.LineAreas(s)
			require.NoError(t, err)
			require.Len(t, areas, 3)
			for _, a := range areas {
				require.InDelta(t, 0.13, float64(a.Size.H), 1e-9)
				require.InDelta(t, 5, float64(a.Size.W), 0.13)
				require.Less(t, float64(max(a.Centre.X-s.Centre.X, s.Centre.X-a.Centre.X)), 0.131)
			}
			for y := range raster.Dots.H {
				for x := range raster.Dots.W {
					p := layout.Point{
						X: 0.13 * (layout.MM(x) + 0.5 - layout.MM(raster.Dots.W)/2),
						Y: 0.13 * (layout.MM(raster.Dots.H)/2 - layout.MM(y) - 0.5),
					}
					for _, a := range areas {
						dx, dy := max(p.X-a.Centre.X, a.Centre.X-p.X), max(p.Y-a.Centre.Y, a.Centre.Y-p.Y)
						if dx < a.Size.W/2 && dy < a.Size.H/2 {
							want[[2]int{x, y}] = true
						}
					}
				}
			}
		}
		for y := range raster.Dots.H {
			for x := range raster.Dots.W {
				if raster.Dots.At(x, y) {
					total++
					require.True(t, want[[2]int{x, y}], "dot %d, %d", x, y)
				}
			}
		}
		require.Len(t, want, total)
		require.NotZero(t, total)
	}
}

func TestReadingsKeepTheWidthsOfLines(t *testing.T) {
	r := swatch.Readings{Swatches: []swatch.Reading{
		{ID: "A1", Setting: burn.Setting{PowerPercent: 10, Speed: 25, Pitch: 0.1, Passes: 1}, OpticalPowerW: 5, Width: 0.12, WidthScatter: 0.004},
		{ID: "A2", Setting: burn.Setting{PowerPercent: 5, Speed: 25, Pitch: 0.1, Passes: 1}, OpticalPowerW: 5, LeftOut: "too faint"},
	}}
	data, err := r.JSON()
	require.NoError(t, err)
	require.Contains(t, string(data), `"width_mm": 0.12`)
	again, err := swatch.ReadReadings(data)
	require.NoError(t, err)
	require.Equal(t, r, again)
	require.True(t, again.Swatches[0].IsLine())
	require.False(t, again.Swatches[1].IsLine())

	for name, change := range map[string]func(*swatch.Reading){
		"exactly one": func(s *swatch.Reading) { s.LeftOut = "no" },
		"width_mm":    func(s *swatch.Reading) { s.Width = 80 },
		"scatter_mm":  func(s *swatch.Reading) { s.WidthScatter = -1 },
	} {
		bad := swatch.Readings{Swatches: append([]swatch.Reading(nil), r.Swatches...)}
		change(&bad.Swatches[0])
		require.ErrorContains(t, bad.Validate(), name)
	}
}
