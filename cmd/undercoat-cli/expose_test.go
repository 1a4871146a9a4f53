package main

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/export"
	"undercoat/imaging/plane"
)

// burned writes a fully burned raster of w x h dots and gives its path.
func burned(t *testing.T, w, h int) string {
	t.Helper()
	dots := plane.NewBits(w, h)
	for y := range h {
		for x := range w {
			dots.Set(x, y)
		}
	}
	var b bytes.Buffer
	require.NoError(t, export.WriteRaster(&b, dots, 0.1))
	path := filepath.Join(t.TempDir(), "raster.png")
	require.NoError(t, os.WriteFile(path, b.Bytes(), 0o644))
	return path
}

func TestExposeWritesTheDoseMap(t *testing.T) {
	machine := filepath.Join(t.TempDir(), "m.json")
	require.NoError(t, os.WriteFile(machine, []byte(`{"kind":"undercoat-machine","version":1,"name":"m","optical_power_w":5,
		"power_offset_percent":0,"beam_width_along_mm":0.1,"beam_width_across_mm":0.1,"bed_mm":[400,400],"run_up_mm":5,
		"acceleration_mm_per_s2":500,"top_speed_mm_per_min":6000,"power_per_pixel":false,"skips_blank":true}`), 0o644))
	var out, errs bytes.Buffer
	code := run(t.Context(), []string{"expose", burned(t, 24, 16), "--machine", machine,
		"--power", "30", "--speed", "1500mm/min", "--pitch", "0.1mm", "--grid", "2", "-o", "-"}, &out, &errs)
	require.Equal(t, exitDone, code, errs.String())
	rows, err := csv.NewReader(&out).ReadAll()
	require.NoError(t, err)
	require.Len(t, rows, 32)
	require.Len(t, rows[0], 48)
	// 100 x 5 W x 30 % / (25 mm/s x 0.1 mm) = 60 J/cm2 (arithmetic): the mean over
	// a dot amid a fully burned field, whatever the beam.
	sum := 0.0
	for y := 16; y < 18; y++ {
		for x := 24; x < 26; x++ {
			v, err := strconv.ParseFloat(rows[y][x], 64)
			require.NoError(t, err)
			sum += v
		}
	}
	require.InDelta(t, 60, sum/4, 0.06)
}

func TestExposeRefuses(t *testing.T) {
	raster := burned(t, 4, 4)
	dir := t.TempDir()
	letter := filepath.Join(dir, "letter.png")
	require.NoError(t, os.WriteFile(letter, []byte("dear maker"), 0o644))
	for name, c := range map[string]struct {
		args []string
		code int
		want string
	}{
		"no output":   {[]string{raster}, exitUsage, "--output is missing"},
		"no raster":   {[]string{filepath.Join(dir, "none.png"), "-o", "-"}, exitInput, "there is no file"},
		"letter":      {[]string{letter, "-o", "-"}, exitInput, "black burns"},
		"grid":        {[]string{raster, "-o", "-", "--grid", "9"}, exitInput, "9"},
		"beside file": {[]string{raster, "-o", filepath.Join(raster, "dose.csv")}, exitWrite, "raster.png"},
	} {
		t.Run(name, func(t *testing.T) {
			var out, errs bytes.Buffer
			require.Equal(t, c.code, run(t.Context(), append([]string{"expose"}, c.args...), &out, &errs), errs.String())
			require.Contains(t, errs.String(), c.want)
			require.Empty(t, out.String())
		})
	}
}
