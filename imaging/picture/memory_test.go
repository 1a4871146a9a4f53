package picture

import (
	"fmt"
	"image"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"
)

// What each format and depth takes, against what it announced, at a size where
// nothing else counts.
func TestMemoryAsAnnounced(t *testing.T) {
	r := image.Rect(0, 0, 640, 480)
	noise := images(r)
	files := map[string][]byte{}
	for _, name := range []string{"progressive.jpg", "inks.jpg", "lossy.webp", "lossless.webp", "alpha.webp"} {
		files[name] = sample(t, "larger-"+name)
	}
	for _, kind := range []string{"Gray", "Gray16", "NRGBA", "NRGBA64", "Paletted"} {
		files["PNG "+kind] = pngOf(t, noise[kind])
		files["TIFF "+kind] = tiffOf(t, noise[kind], tiff.Deflate)
		files["TIFF plain "+kind] = tiffOf(t, noise[kind], tiff.Uncompressed)
	}
	files["JPEG"] = jpegOf(t, noise["NRGBA"])
	files["JPEG grey"] = jpegOf(t, noise["Gray"])
	files["BMP"] = bmpOf(t, noise["NRGBA"])
	for name, data := range files {
		t.Run(name, func(t *testing.T) {
			h, err := Probe(data)
			require.NoError(t, err)
			survive(t, data, Limits{})
			taken := allocated(func() { greyOf(t, data, Turn{}) })
			t.Logf("announced %s, took %s", inMegabytes(h.MemoryBytes), inMegabytes(taken))
		})
	}
}

func inMegabytes(n int64) string { return fmt.Sprintf("%.1f MB", float64(n)/1e6) }
