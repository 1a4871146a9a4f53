package job_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/layout"
)

// rasterCases are real photographs on the panels people paint. The dots follow by
// arithmetic from panel, border and pitch: (panel - borders) / pitch, rounded.
var rasterCases = []struct {
	name         string
	picture      string
	golden       bool // the picture is one of testdata/goldens, else one of Go's own
	panel        string
	border       string
	pitch        string
	cols, rows   int
	dotsPerMetre float64 // 1000 / pitch in mm, not rounded
}{
	{"board", "video-001.jpeg", false, "300 x 400 mm", "6 mm", "0.08mm", 3600, 4850, 12500},
	{"canvas", "video-001.progressive.jpeg", false, "8 x 10 in", "3 mm", "0.1mm", 1972, 2480, 10000},
	{"tile, four inks", "video-001.cmyk.jpeg", false, "150 x 150 mm", "5 mm", "300dpi", 1654, 1654, 300 / 0.0254},
	{"rose, see-through parts", "rose.png", true, "8 x 10 in", "1/4 in", "318dpi", 2385, 3021, 318 / 0.0254},
	{"dunes, lying down", "dunes.jpg", true, "160 x 90 mm", "2; 3.5; 0; 10.25 mm", "0.07mm", 2207, 1139, 1000 / 0.07},
}

// TestRasterHasTheDotsThePanelDemands looks at raster.png with programs that know
// nothing of this one.
func TestRasterHasTheDotsThePanelDemands(t *testing.T) {
	for _, c := range rasterCases {
		t.Run(c.name, func(t *testing.T) {
			var data []byte
			if c.golden {
				data = golden(t, c.picture)
			} else {
				data = withGo(t, c.picture)
			}
			d := plain(t, 1, 1, 0.1)
			var err error
			d.Panel.Size, err = layout.ParseSize(c.panel, layout.Millimetre)
			require.NoError(t, err)
			d.Border, err = layout.ParseBorder(c.border, layout.Millimetre)
			require.NoError(t, err)
			d.Setting.Pitch, err = layout.ParsePitch(c.pitch)
			require.NoError(t, err)
			dir, h := prepared(t, withPicture(t, d, c.picture, data), job.RasterOutput)
			require.Equal(t, [2]int{c.cols, c.rows}, h.Note.RasterDots)

			r := raster(t, dir)
			require.Equal(t, image.Rect(0, 0, c.cols, c.rows), r.Bounds())
			share := burned(r, r.Bounds())
			require.Greater(t, share, 0.02, "a photograph has lights")
			require.Less(t, share, 0.98, "and shadows")

			path := filepath.Join(dir, job.RasterFile)
			t.Run("chunks", func(t *testing.T) { headSays(t, path, c.cols, c.rows, c.dotsPerMetre) })
			t.Run("pngcheck", func(t *testing.T) { pngcheckSays(t, path, c.cols, c.rows, c.dotsPerMetre) })
			t.Run("Pillow", func(t *testing.T) { pillowSays(t, path, c.cols, c.rows, c.dotsPerMetre, share) })
			t.Run("ImageMagick", func(t *testing.T) { magickSays(t, path, c.cols, c.rows, share) })
		})
	}
}

// headSays reads the first chunks by their places in the file.
// Source: W3C, 2025, PNG Specification (Third Edition), clauses 5.2, 11.2.1 and 11.3.4.3.
func headSays(t *testing.T, path string, cols, rows int, dotsPerMetre float64) {
	data, err := os.ReadFile(path)
	require.NoError(t, err)
	require.Equal(t, "IHDR", string(data[12:16]))
	number := func(at int) int { return int(binary.BigEndian.Uint32(data[at:])) }
	require.Equal(t, []int{cols, rows}, []int{number(16), number(20)})
	require.Equal(t, []byte{1, 0}, data[24:26], "one bit deep, greyscale")
	at := bytes.Index(data[:256], []byte("pHYs"))
	require.Positive(t, at)
	require.InDelta(t, dotsPerMetre, number(at+4), 0.5, "dots per metre across")
	require.InDelta(t, dotsPerMetre, number(at+8), 0.5, "dots per metre down")
	require.Equal(t, byte(1), data[at+12], "the unit is the metre")
}

func pngcheckSays(t *testing.T, path string, cols, rows int, dotsPerMetre float64) {
	report := told(t, "pngcheck", "-v", path)
	require.Contains(t, report, fmt.Sprintf("%d x %d image, 1-bit grayscale, non-interlaced", cols, rows))
	whole := math.Round(dotsPerMetre)
	require.Contains(t, report, fmt.Sprintf("%.0fx%.0f pixels/meter", whole, whole))
	require.Contains(t, report, "No errors detected")
}

func pillowSays(t *testing.T, path string, cols, rows int, dotsPerMetre, share float64) {
	const script = `
import sys
from PIL import Image
r = Image.open(sys.argv[1])
print(r.mode, *r.size, *(v / 0.0254 for v in r.info["dpi"]), r.convert("L").histogram()[0])
`
	var mode string
	var w, h, black int
	var across, down float64
	_, err := fmt.Sscan(told(t, pillow(t), "-c", script, path), &mode, &w, &h, &across, &down, &black)
	require.NoError(t, err)
	require.Equal(t, "1", mode, "one bit deep")
	require.Equal(t, [2]int{cols, rows}, [2]int{w, h})
	require.InDelta(t, dotsPerMetre, across, 0.5)
	require.InDelta(t, dotsPerMetre, down, 0.5)
	require.Equal(t, int(math.Round(share*float64(cols*rows))), black, "dots that burn are black")
}

func magickSays(t *testing.T, path string, cols, rows int, share float64) {
	var w, h, depth int
	var white float64
	_, err := fmt.Sscan(told(t, "identify", "-format", "%w %h %[png:IHDR.bit-depth-orig]", path), &w, &h, &depth)
	require.NoError(t, err)
	_, err = fmt.Sscan(told(t, "identify", "-format", "%[fx:mean]", path), &white)
	require.NoError(t, err)
	require.Equal(t, [3]int{cols, rows, 1}, [3]int{w, h, depth})
	require.InDelta(t, 1-share, white, 1e-5, "dots that burn are black")
}

// told is what a program of others says; the test is skipped where it is missing.
func told(t *testing.T, name string, args ...string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		t.Skipf("%s is not installed: the raster is not checked with it here", name)
	}
	out, err := exec.Command(path, args...).CombinedOutput()
	require.NoError(t, err, string(out))
	return strings.ReplaceAll(string(out), "\r\n", "\n")
}

// pillow is a Python which has Pillow.
func pillow(t *testing.T) string {
	t.Helper()
	for _, python := range []string{"python3", "/usr/bin/python3"} {
		if exec.Command(python, "-c", "import PIL").Run() == nil {
			return python
		}
	}
	t.Skip("Pillow is not installed: the raster is not checked with it here")
	return ""
}
