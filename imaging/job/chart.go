package job

import (
	"context"
	"fmt"
	"io"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/plane"
	"undercoat/imaging/screen"
	"undercoat/imaging/sheet"
	"undercoat/imaging/swatch"
)

// The files of a chart's folder besides its rasters: one to read a photograph of it
// with later, one to take to the machine.
const (
	ChartFile      = "chart.json"
	ChartSheetFile = "sheet.pdf"
)

// WriteChart writes all of a chart into the folder dir, which is made if missing: the
// rasters to burn, ChartFile and ChartSheetFile. It gives the files' names. They appear
// together or not at all, and replace others only with force. progress may be nil.
func WriteChart(ctx context.Context, dir string, chart swatch.Chart, force bool, progress func(fraction float64)) ([]string, error) {
	data, err := chart.JSON()
	if err != nil {
		return nil, err
	}
	set := export.NewSet(dir, force)
	defer set.Discard()
	for i := range chart.Rasters {
		if err := addChartRaster(ctx, set, chart, i); err != nil {
			return nil, err
		}
		if progress != nil {
			progress(float64(i+1) / float64(len(chart.Rasters)+1))
		}
	}
	for _, f := range []export.Content{
		{Name: ChartFile, Write: func(w io.Writer) error { _, err := w.Write(data); return err }},
		{Name: ChartSheetFile, Write: func(w io.Writer) error { return sheet.Chart(w, chart, sheet.Options{}) }},
	} {
		if err := set.Add(f.Name, f.Write); err != nil {
			return nil, err
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := set.Commit(); err != nil {
		return nil, err
	}
	if progress != nil {
		progress(1)
	}
	return set.Names(), nil
}

// ChartScreen is the screen that a tint row is made with.
func ChartScreen(ctx context.Context, tints *plane.Grey16) (*plane.Bits, error) {
	return screen.Screen(ctx, tints, screen.Options{})
}

func addChartRaster(ctx context.Context, set *export.Set, chart swatch.Chart, i int) error {
	raster, err := chart.Raster(ctx, i, ChartScreen)
	if err != nil {
		return err
	}
	return set.Add(raster.File, func(w io.Writer) error {
		if raster.Shares != nil {
			return export.WriteShares(export.UntilDone(ctx, w), raster.Shares, raster.Setting.Pitch)
		}
		return export.WriteRaster(export.UntilDone(ctx, w), raster.Dots, raster.Setting.Pitch)
	})
}

// SettingText is a setting on one line.
func SettingText(s burn.Setting) string {
	passes := "1 pass"
	if s.Passes > 1 {
		passes = fmt.Sprintf("%d passes", s.Passes)
	}
	return fmt.Sprintf("%5.4g %% at %.6g mm/min, pitch %.4g mm, %s", s.PowerPercent, s.Speed.PerMinute(), float64(s.Pitch), passes)
}
