package sheet_test

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/sheet"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

func chart(t *testing.T) swatch.Chart {
	t.Helper()
	data, ok := assets.Machine("diode-5w5")
	require.True(t, ok)
	machine, err := burn.ReadMachine(data)
	require.NoError(t, err)
	c, err := swatch.New(swatch.Request{
		Machine: machine, Scrap: layout.Size{W: 120, H: 90}, Margin: 3, Powers: []float64{10, 20, 30, 40, 50},
		Speeds: []layout.MMPerSecond{25}, Pitches: []layout.MM{0.08}, OneBit: true,
	})
	require.NoError(t, err)
	return c
}

// What a second reader of PDF files finds on the chart's sheet is what chart.json holds.
func TestTheChartsSheetSaysWhatTheChartHolds(t *testing.T) {
	tool, err := exec.LookPath("pdftotext")
	if err != nil {
		t.Skip("there is no pdftotext to read the sheet back with")
	}
	c := chart(t)
	for _, letter := range []bool{false, true} {
		var out, again bytes.Buffer
		require.NoError(t, sheet.Chart(&out, c, sheet.Options{Letter: letter}))
		require.NoError(t, sheet.Chart(&again, c, sheet.Options{Letter: letter}))
		require.Equal(t, out.Bytes(), again.Bytes())
		path := filepath.Join(t.TempDir(), "sheet.pdf")
		require.NoError(t, os.WriteFile(path, out.Bytes(), 0o600))
		read, err := exec.Command(tool, "-layout", path, "-").Output()
		require.NoError(t, err)
		text := strings.Join(strings.Fields(string(read)), " ")
		for _, s := range c.Swatches {
			require.Contains(t, text, fmt.Sprintf("%s %.2f %.2f %g %%", s.ID, float64(s.Centre.X), float64(s.Centre.Y), s.Setting.PowerPercent))
		}
		for _, r := range c.Rasters {
			require.Contains(t, text, fmt.Sprintf("%s %g %%", r.File, r.Setting.PowerPercent))
		}
		for _, caution := range export.Cautions() {
			require.Contains(t, text, caution[:20])
		}
	}
}
