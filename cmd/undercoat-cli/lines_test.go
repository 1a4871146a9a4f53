package main

import (
	"context"
	"fmt"
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/imaging/swatch/simulate"
)

// lineChartPhotograph is a near photograph of a chart of lines, burned into its own
// stack.
func lineChartPhotograph(t *testing.T, path string) []byte {
	t.Helper()
	data, err := photographLines(t.Context(), path, 2400)
	require.NoError(t, err)
	return data
}

func photographLines(ctx context.Context, path string, pixels int) ([]byte, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	chart, err := swatch.ReadChart(data)
	if err != nil {
		return nil, err
	}
	shot, err := simulate.LineScene{Scene: simulate.Scene{
		Chart: chart, Machine: *chart.Machine, Stack: *chart.Stack, Uneven: 0.02,
		W: pixels, H: pixels * 3 / 4, Fill: 0.85, Tilt: 4, Swing: 3, FallOff: 0.2, Noise: 0.004, Seed: 1,
	}, Soft: 0.8}.Photo(ctx)
	return shot.JPEG, err
}

// lineReadings are the widths of lines of a beam 0.12 mm wide, measured by somebody.
func lineReadings(t *testing.T) []byte {
	t.Helper()
	m, err := job.FindMachine("diode-5w5")
	require.NoError(t, err)
	r := swatch.Readings{Machine: &m}
	real := beam.LineFit{Width: 0.12, Threshold: 8}
	for i, power := range []float64{20, 40, 60, 80, 100} {
		r.Swatches = append(r.Swatches, swatch.Reading{
			ID: fmt.Sprintf("A%d", i+1), OpticalPowerW: m.OpticalPowerW, Width: real.WidthAt(power - m.PowerOffsetPercent),
			Setting: burn.Setting{PowerPercent: power, Speed: 25, Pitch: 0.1, Passes: 1},
		})
	}
	data, err := r.JSON()
	require.NoError(t, err)
	return data
}

// photographed makes a photograph of a burned chart of lines: photographed near|far
// CHART PHOTO.
func photographed(ts *testscript.TestScript, neg bool, args []string) {
	pixels := map[string]int{"near": 1800, "far": 600}
	if neg || len(args) != 3 || pixels[args[0]] == 0 {
		ts.Fatalf("usage: photographed near|far CHART PHOTO")
	}
	data, err := photographLines(context.Background(), ts.MkAbs(args[1]), pixels[args[0]])
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[2]), data, 0o600))
}
