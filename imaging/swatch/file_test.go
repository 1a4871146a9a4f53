package swatch_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func TestChartFileReadsBackTheSame(t *testing.T) {
	tints := request()
	tints.Kind, tints.Powers = swatch.Tints, []float64{30}
	eight := request()
	eight.Machine.PowerPerPixel, eight.Stack = true, nil
	for name, r := range map[string]swatch.Request{"solid": request(), "tints": tints, "eight bits": eight} {
		t.Run(name, func(t *testing.T) {
			data, err := newChart(t, r).JSON()
			require.NoError(t, err)
			back, err := swatch.ReadChart(data)
			require.NoError(t, err)
			again, err := back.JSON()
			require.NoError(t, err)
			require.Equal(t, string(data), string(again))
			for _, file := range back.Rasters {
				found := false
				for _, s := range back.Swatches {
					found = found || s.Setting == file.Setting
				}
				require.True(t, found, "a raster's setting is still that of its swatch, to the last bit")
			}
		})
	}
}

// The least a chart may say.
const plainChart = `{"kind":"undercoat-chart","version":1,"size_mm":[60,40],"marks_mm":[[-30,20],[30,20],[30,-20],[-30,-20]],
	"swatches":[{"id":"A1","centre_mm":[-10,0],"size_mm":[10,10],"power_percent":12,"speed_mm_per_min":1500,"pitch_mm":0.08,"passes":1}],
	"rasters":[{"file":"chart-01.png","power_percent":12,"speed_mm_per_min":1500,"pitch_mm":0.08,"passes":1}]}`

func TestReadChart(t *testing.T) {
	c, err := swatch.ReadChart([]byte(plainChart))
	require.NoError(t, err)
	require.Equal(t, layout.Point{X: -10}, c.Swatches[0].Centre)
	require.Equal(t, burn.Setting{PowerPercent: 12, Speed: 25, Pitch: 0.08, Passes: 1}, c.Swatches[0].Setting)
	require.Equal(t, c.Swatches[0].Setting, c.Rasters[0].Setting)
	_, ok := c.Swatch("A1")
	require.True(t, ok)
	_, ok = c.Swatch("A2")
	require.False(t, ok)
	for change, want := range map[[2]string]string{
		{`undercoat-chart`, `undercoat-stack`}:             `kind is "undercoat-stack"`,
		{`"version":1`, `"version":2`}:                     "version is 2",
		{`,[-30,-20]]`, `]`}:                               "marks_mm holds 3 corners",
		{`[30,-20]`, `[-30,20]`}:                           "marks_mm do not span a rectangle",
		{`"id":"A1"`, `"id":""`}:                           `swatches[0]: id "" is empty`,
		{`"centre_mm":[-10,0]`, `"centre_mm":[-40,0]`}:     "swatches[0] reaches 45, 5 mm from the centre of a chart of 60 x 40 mm",
		{`"size_mm":[10,10]`, `"size_mm":[-1,10]`}:         "swatches[0]: size_mm",
		{`"power_percent":12,`, `"power_percent":120,`}:    "swatches[0]: power_percent 120",
		{`"passes":1`, `"passes":0`}:                       "swatches[0]: passes 0",
		{`"id":"A1"`, `"id":"A1","tint":0.01`}:             "swatches[0]: tint 0.01",
		{`"id":"A1"`, `"id":"A1","colour":"#fff"`}:         "swatches[0].colour is not known",
		{`"version":1`, `"version":1,"chart_kind":"dots"`}: `chart_kind is "dots"`,
		{`"version":1`, `"version":1,"mark_side_mm":30`}:   "mark_side_mm 30 is out of range",
	} {
		_, err := swatch.ReadChart([]byte(strings.Replace(plainChart, change[0], change[1], 1)))
		require.ErrorContains(t, err, want)
	}
}

const plainReadings = `{"kind":"undercoat-readings","version":1,"swatches":[
	{"id":"A1","power_percent":12,"speed_mm_per_min":1500,"pitch_mm":0.08,"passes":1,"optical_power_w":5,"linear_rgb":[0.1,0.2,0.3],"scatter":0.01},
	{"id":"A2","power_percent":14,"speed_mm_per_min":1500,"pitch_mm":0.08,"passes":1,"optical_power_w":5,"seen":"teal"}]}`

func TestReadReadings(t *testing.T) {
	r, err := swatch.ReadReadings([]byte(plainReadings))
	require.NoError(t, err)
	require.Equal(t, &colour.Linear{R: 0.1, G: 0.2, B: 0.3}, r.Swatches[0].LinearRGB)
	require.Equal(t, "teal", r.Swatches[1].Seen)
	m := machine()
	r.Machine, r.Photo = &m, &swatch.PhotoFacts{Name: "chart.jpg", SHA256: "00", Date: "2026-03-01"}
	data, err := r.JSON()
	require.NoError(t, err)
	back, err := swatch.ReadReadings(data)
	require.NoError(t, err)
	require.Equal(t, r, back)
	for change, want := range map[[2]string]string{
		{`"seen":"teal"`, `"seen":""`}:                       "swatches[1]: 0 of linear_rgb, seen, width_mm and left_out are given",
		{`"seen":"teal"`, `"seen":"teal","left_out":"dust"`}: "swatches[1]: 2 of linear_rgb",
		{`"id":"A2"`, `"id":"A1"`}:                           `swatches[1]: id "A1" stands there twice`,
		{`[0.1,0.2,0.3]`, `[0.1,9,0.3]`}:                     "swatches[0]: linear_rgb[1] 9 is out of range",
		{`"optical_power_w":5`, `"optical_power_w":0`}:       "swatches[0]: optical_power_w 0",
		{`"scatter":0.01`, `"scatter":-1`}:                   "swatches[0]: scatter -1",
		{`"version":1`, `"version":3`}:                       "version is 3",
		{`undercoat-readings`, `undercoat-chart`}:            `kind is "undercoat-chart"`,
		{`"scatter":0.01`, `"blur":1`}:                       "swatches[0].blur is not known",
	} {
		_, err := swatch.ReadReadings([]byte(strings.Replace(plainReadings, change[0], change[1], 1)))
		require.ErrorContains(t, err, want)
	}
}

func FuzzReadChart(f *testing.F) {
	f.Add([]byte(plainChart))
	data, err := newChart(f, request()).JSON()
	require.NoError(f, err)
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := swatch.ReadChart(data)
		if err != nil {
			return
		}
		once, err := c.JSON()
		require.NoError(t, err)
		back, err := swatch.ReadChart(once)
		require.NoError(t, err)
		twice, err := back.JSON()
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

func FuzzReadReadings(f *testing.F) {
	f.Add([]byte(plainReadings))
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := swatch.ReadReadings(data)
		if err != nil {
			return
		}
		once, err := r.JSON()
		require.NoError(t, err)
		back, err := swatch.ReadReadings(once)
		require.NoError(t, err)
		twice, err := back.JSON()
		require.NoError(t, err)
		require.Equal(t, string(once), string(twice))
	})
}

func FuzzParseRanges(f *testing.F) {
	for _, text := range []string{"5:60:5", "10,20,30", "1000,1500mm/min", "0.08,0.1mm", "254dpi", "1:1e9:1e-9", ":::", "é,5"} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		if powers, err := swatch.ParsePowers(text); err == nil {
			for i, p := range powers {
				require.True(t, p > 0 && p <= 100)
				require.True(t, i == 0 || p > powers[i-1], "in rising order")
			}
		}
		if speeds, err := swatch.ParseSpeeds(text); err == nil {
			for _, v := range speeds {
				require.True(t, v > 0 && v <= layout.MaxSpeed)
			}
		}
		if pitches, err := swatch.ParsePitches(text); err == nil {
			for _, p := range pitches {
				require.True(t, p >= layout.MinPitch && p <= layout.MaxPitch)
			}
		}
		if passes, err := swatch.ParsePasses(text); err == nil {
			require.NotEmpty(t, passes)
		}
	})
}
