package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/simulate"
)

// done runs a command line that must succeed and gives its output.
func done(t *testing.T, args ...string) []byte {
	t.Helper()
	var out, said bytes.Buffer
	require.Equal(t, exitDone, run(t.Context(), args, &out, &said), "%v: %s", args, said.String())
	return out.Bytes()
}

// The whole way from a chart to a calibrated stack: the chart is burned into a stack
// whose coats give way at other doses than its maker thinks, and photographed aslant.
func TestFromChartToCalibratedStack(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	done(t, "chart", "--stack", "graphite-teal-sunflower", "--machine", "diode-5w5", "--powers", "4:100:4", "--speeds", "1500mm/min",
		"--pitch", "0.08mm", "--scrap", "120x90mm", "--one-bit", "-o", in("chart"))
	data, err := os.ReadFile(in("chart/chart.json"))
	require.NoError(t, err)
	chart, err := swatch.ReadChart(data)
	require.NoError(t, err)
	require.Len(t, chart.Rasters, 25)
	for _, r := range chart.Rasters {
		require.FileExists(t, in("chart/"+r.File))
	}

	truth, err := job.FindStack("graphite-teal-sunflower")
	require.NoError(t, err)
	for i := range truth.Curve.Points {
		truth.Curve.Points[i].DoseJCM2 *= 0.8
	}
	shot, err := simulate.Scene{
		Chart: chart, Machine: *chart.Machine, Stack: truth, Uneven: 0.02, W: 2400, H: 1800,
		Tilt: 10, Swing: -8, FallOff: 0.25, Cast: [3]float64{1.08, 1, 0.85}, Noise: 0.004, Seed: 3,
	}.Photo(t.Context())
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(in("chart.jpg"), shot.JPEG, 0o600))

	done(t, "read", in("chart.jpg"), "--chart", in("chart/chart.json"), "-o", in("readings.json"))
	out := done(t, "fit", in("readings.json"), "--stack", "graphite-teal-sunflower", "-o", in("calibrated.json"), "--json")
	var result struct {
		BreakThrough   []float64    `json:"break_through_j_per_cm2"`
		BreakThrough95 [][2]float64 `json:"break_through_95"`
		Spread         []float64    `json:"spread"`
		Colours        []string     `json:"colours"`
		Measured       []bool       `json:"colour_measured"`
		ColourSD       []float64    `json:"colour_sd_de00"`
		ToldApart      []bool       `json:"told_apart"`
		Residual       float64      `json:"residual_de00"`
		Status         string       `json:"status"`
	}
	require.NoError(t, json.Unmarshal(out, &result))
	require.NotEmpty(t, result.Status)
	require.Len(t, result.Measured, len(result.Colours))
	require.Len(t, result.ColourSD, len(result.Colours))
	require.True(t, result.Measured[0]) // the top coat shows on all the low powers
	require.NotContains(t, result.ToldApart, false)
	model, err := truth.Compile(coat.Options{})
	require.NoError(t, err)
	for i, got := range result.BreakThrough {
		want := model.BreakThrough(i)
		t.Logf("coat %d: %.2f J/cm2, truly %.2f", i+1, got, want)
		require.Less(t, math.Abs(got/want-1), 0.05)
		c, err := colour.ParseHex(result.Colours[i])
		require.NoError(t, err)
		require.Less(t, colour.DE2000(c.Linear().Lab(), truth.Coats[i].Colour.Linear().Lab()), 2.5)
	}
	data, err = os.ReadFile(in("calibrated.json"))
	require.NoError(t, err)
	stack, err := coat.ReadStack(data)
	require.NoError(t, err)
	require.True(t, stack.Curve.Calibrated)
	require.Equal(t, [2]float64{1500, 1500}, stack.Curve.Origin.Covered.SpeedMMPerMin)
	require.Len(t, stack.Curve.Origin.Photos, 1)

	// The calibrated stack serves at once, and no longer calls itself a guess.
	predicted := done(t, "predict", "--stack", in("calibrated.json"), "--power", "30", "--json")
	require.Contains(t, string(predicted), `"calibrated":true`)
}

func TestReadingsByEyeAreFittedToo(t *testing.T) {
	dir := t.TempDir()
	in := func(name string) string { return filepath.Join(dir, name) }
	done(t, "chart", "--stack", "slate-cream", "--machine", "diode-5w5", "--powers", "10:80:10", "--one-bit", "-o", in("chart"))
	data, err := os.ReadFile(in("chart/chart.json"))
	require.NoError(t, err)
	chart, err := swatch.ReadChart(data)
	require.NoError(t, err)
	names := swatch.SeenNames(*chart.Stack)
	seen := ""
	for i, s := range chart.Swatches {
		if i > 0 {
			seen += ","
		}
		what := "top coat"
		if s.Setting.PowerPercent > 30 {
			what = "ground"
		}
		seen += s.ID + "=" + what
	}
	require.NotEmpty(t, names)
	done(t, "read", "--chart", in("chart/chart.json"), "--seen", seen, "-o", in("readings.json"))
	out := done(t, "fit", in("readings.json"), "--stack", "slate-cream", "-o", in("calibrated.json"))
	require.Contains(t, string(out), "gives way at")
	require.Contains(t, string(out), "(not measured, to CIEDE2000 ")
	require.Contains(t, string(out), "all colours are the labels'")

	// Kept in the library, the readings go with the stack, and are fitted again by name.
	t.Setenv("XDG_CONFIG_HOME", in("config"))
	done(t, "fit", in("readings.json"), "--stack", "slate-cream", "--save", "mine")
	require.Contains(t, string(done(t, "library", "list", "--kind", "readings")), "mine-chart-1")
	again := done(t, "fit", "mine-chart-1", "--stack", "mine", "-o", in("again.json"))
	require.Contains(t, string(again), "gives way at")

	var said bytes.Buffer
	require.Equal(t, exitInput, run(t.Context(), []string{"read", "--chart", in("chart/chart.json"), "--seen", "Z9=teal", "-o", in("more.json")}, &bytes.Buffer{}, &said))
	require.Contains(t, said.String(), `no swatch "Z9"`)

	// A colour will do for words.
	out = done(t, "read", "--chart", in("chart/chart.json"), "--seen", chart.Swatches[0].ID+"=#2b7a78", "-o", in("colour.json"), "--json")
	require.Contains(t, string(out), "linear_rgb")
	said.Reset()
	require.Equal(t, exitInput, run(t.Context(), []string{"read", "--chart", in("chart/chart.json"), "--seen", chart.Swatches[0].ID + "=#2b7a", "-o", in("more.json")}, &bytes.Buffer{}, &said))
	require.Contains(t, said.String(), "#rrggbb")
}
