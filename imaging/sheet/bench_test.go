package sheet

import (
	"image"
	"io"
	"testing"

	"undercoat/layout"
)

// BenchmarkJob makes a job sheet with a proof of the usual size: 1350 x 1800 pixels.
func BenchmarkJob(b *testing.B) {
	n := noteOf(b, layout.Size{W: 301.5, H: 402.5}, layout.Bed{W: 410, H: 430})
	img := image.NewRGBA(image.Rect(0, 0, 1350, 1800))
	for i := range img.Pix {
		img.Pix[i] = uint8(i * i >> 7)
	}
	b.SetBytes(int64(len(img.Pix)))
	b.ReportAllocs()
	for b.Loop() {
		if err := Job(io.Discard, n, Options{Proof: img}); err != nil {
			b.Fatal(err)
		}
	}
}
