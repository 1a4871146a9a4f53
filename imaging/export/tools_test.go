package export

import (
	"bytes"
	"fmt"
	"image"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// outside writes a file of each kind and gives their paths, for other programs to read.
func outside(t *testing.T) (raster, proof string, bits *plane.Bits) {
	t.Helper()
	dir := t.TempDir()
	raster, proof = filepath.Join(dir, "raster.png"), filepath.Join(dir, "proof.png")
	bits = noise(1003, 401, 11)
	require.NoError(t, os.WriteFile(raster, rasterBytes(t, bits, 0.08), 0o600))
	var out bytes.Buffer
	require.NoError(t, WriteProof(&out, paint(image.Rect(0, 0, 57, 31)), 5906))
	require.NoError(t, os.WriteFile(proof, out.Bytes(), 0o600))
	return raster, proof, bits
}

func needs(t *testing.T, tool string) string {
	t.Helper()
	path, err := exec.LookPath(tool)
	if err != nil {
		t.Skipf("%s is not installed: the files are not checked with it here", tool)
	}
	return path
}

func TestPngcheckAgrees(t *testing.T) {
	tool := needs(t, "pngcheck")
	raster, proof, _ := outside(t)
	for path, wants := range map[string][]string{
		raster: {"1003 x 401 image, 1-bit grayscale, non-interlaced", "pHYs", "12500x12500 pixels/meter"},
		proof:  {"57 x 31 image, 24-bit RGB", "sRGB", "rendering intent = perceptual", "gAMA", "0.45455", "5906x5906 pixels/meter"},
	} {
		report, err := exec.Command(tool, "-v", path).CombinedOutput()
		require.NoError(t, err, string(report))
		for _, want := range append(wants, "No errors detected") {
			require.Contains(t, string(report), want)
		}
	}
}

func TestPillowReadsTheSame(t *testing.T) {
	tool := needs(t, "python3")
	if system := "/usr/bin/python3"; exec.Command(tool, "-c", "import PIL").Run() != nil {
		if exec.Command(system, "-c", "import PIL").Run() != nil {
			t.Skip("Pillow is not installed: the files are not checked with it here")
		}
		tool = system
	}
	raster, proof, bits := outside(t)
	const script = `
import sys
from PIL import Image
r, p = Image.open(sys.argv[1]), Image.open(sys.argv[2])
print(r.mode, *r.size, r.convert("L").histogram()[0], round(r.info["dpi"][0], 1))
print(p.mode, *p.size, p.info["srgb"], p.info["gamma"], p.getpixel((3, 2)))
`
	out, err := exec.Command(tool, "-c", script, raster, proof).CombinedOutput()
	require.NoError(t, err, string(out))
	want := fmt.Sprintf("1 1003 401 %d 317.5\nRGB 57 31 0 0.45455 (21, 10, 1)\n", bits.Count())
	require.Equal(t, want, strings.ReplaceAll(string(out), "\r\n", "\n"))
}

func TestImageMagickReadsTheSame(t *testing.T) {
	tool := needs(t, "convert")
	if version, _ := exec.Command(tool, "-version").Output(); !bytes.Contains(version, []byte("ImageMagick")) {
		t.Skip("convert is not ImageMagick's: the files are not checked with it here")
	}
	raster, _, bits := outside(t)
	pbm := filepath.Join(filepath.Dir(raster), "raster.pbm")
	out, err := exec.Command(tool, raster, pbm).CombinedOutput()
	require.NoError(t, err, string(out))
	got, err := os.ReadFile(pbm)
	require.NoError(t, err)
	// A raw PBM is a head and then rows packed as ours are, 1 for black.
	head := []byte("P4\n1003 401\n")
	require.True(t, bytes.HasPrefix(got, head))
	require.True(t, bytes.Equal(bits.Pix, got[len(head):]), "the same dots, bit by bit")
}
