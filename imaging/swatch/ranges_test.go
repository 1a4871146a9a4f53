package swatch_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func TestParsePowers(t *testing.T) {
	for text, want := range map[string][]float64{
		"5:60:5":         {5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60},
		"10,20,30":       {10, 20, 30},
		" 30 ; 10 %, 20": {10, 20, 30},
		"5:6:0.2":        {5, 5.2, 5.4, 5.6, 5.8, 6},
		"10:20:5,50":     {10, 15, 20, 50},
		"10:19:5%":       {10, 15},
		"7:7:1":          {7},
		"12.5":           {12.5},
	} {
		got, err := swatch.ParsePowers(text)
		require.NoError(t, err, text)
		require.Equal(t, want, got, text)
	}
	for text, want := range map[string]string{
		"":              "no value is given",
		",;":            "no value is given",
		"0":             "not above 0",
		"101":           "not above 0 and up to 100 %",
		"NaN":           "not above 0",
		"Inf":           "not above 0",
		"5:60":          "is no range",
		"5:60:5:5":      "is no range",
		"60:5:5":        "runs downwards",
		"5:60:0":        "not above 0",
		"1:100:0.00001": "choose a larger step",
		"10,20,10":      "10 stands there twice",
		"ten":           `"ten" is not`,
	} {
		_, err := swatch.ParsePowers(text)
		require.ErrorContains(t, err, want, text)
	}
}

func TestParseSpeeds(t *testing.T) {
	for text, want := range map[string][]layout.MMPerSecond{
		"1500mm/min":          {25},
		"1500":                {25},
		"1200,1500 mm/min":    {20, 25},
		"10:50:20mm/s":        {10, 30, 50},
		"10mm/s, 1200mm/min":  {10, 20},
		"600:1800:600 mm/min": {10, 20, 30},
	} {
		got, err := swatch.ParseSpeeds(text)
		require.NoError(t, err, text)
		require.InDeltaSlice(t, numbers(want), numbers(got), 1e-9, text)
	}
	for _, text := range []string{"", "fast", "1500mm", "0", "10:5:1mm/s", "1500mm/min,1500"} {
		_, err := swatch.ParseSpeeds(text)
		require.Error(t, err, text)
	}
}

func TestParsePitches(t *testing.T) {
	for text, want := range map[string][]layout.MM{
		"0.08mm":          {0.08},
		"0.08,0.1mm":      {0.08, 0.1},
		"254,127dpi":      {0.1, 0.2},
		"0.06:0.1:0.02mm": {0.06, 0.08, 0.1},
	} {
		got, err := swatch.ParsePitches(text)
		require.NoError(t, err, text)
		require.InDeltaSlice(t, numbers(want), numbers(got), 1e-9, text)
	}
	for _, text := range []string{"", "5mm", "0", "fine"} {
		_, err := swatch.ParsePitches(text)
		require.Error(t, err, text)
	}
}

func TestParsePasses(t *testing.T) {
	got, err := swatch.ParsePasses("1:4:1,8")
	require.NoError(t, err)
	require.Equal(t, []int{1, 2, 3, 4, 8}, got)
	for _, text := range []string{"", "0", "1.5", "21", "two"} {
		_, err := swatch.ParsePasses(text)
		require.Error(t, err, text)
	}
}

func numbers[T ~float64](values []T) []float64 {
	all := make([]float64, len(values))
	for i, v := range values {
		all[i] = float64(v)
	}
	return all
}

func TestParseTints(t *testing.T) {
	got, err := swatch.ParseTints("5, 25:75:25, 95")
	require.NoError(t, err)
	require.Equal(t, []float64{0.05, 0.25, 0.5, 0.75, 0.95}, got)
	for _, bad := range []string{"", "4", "96", "NaN", "25,25", "half"} {
		_, err := swatch.ParseTints(bad)
		require.ErrorContains(t, err, "write, for instance", bad)
	}
}
