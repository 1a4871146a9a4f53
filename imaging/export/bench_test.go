package export

import (
	"compress/zlib"
	"fmt"
	"image"
	"io"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// Cols and rows of the benchmarks: 9.8 million dots, 252 x 252 mm at 0.08 mm.
const benchSide = 3130

// ramp is error-diffused from no dot on the left to every dot on the right with a
// slow wave on it: what a screened picture looks like to a compressor.
func ramp(w, h int) *plane.Bits {
	bits := plane.NewBits(w, h)
	below := make([]float32, w+2)
	for y := range h {
		here := below
		below = make([]float32, w+2)
		for x := range w {
			tint := float32(x)/float32(w)*0.8 + 0.2*float32((x*y/4096)%64)/64
			v := tint + here[x+1]
			if v >= 0.5 {
				bits.Set(x, y)
				v--
			}
			here[x+2] += v * 7 / 16
			below[x] += v * 3 / 16
			below[x+1] += v * 5 / 16
			below[x+2] += v / 16
		}
	}
	return bits
}

func BenchmarkWriteRaster(b *testing.B) {
	bits := ramp(benchSide, benchSide)
	b.SetBytes(int64(len(bits.Pix)))
	b.ReportAllocs()
	var size counter
	for b.Loop() {
		size = 0
		require.NoError(b, WriteRaster(&size, bits, 0.08))
	}
	b.ReportMetric(float64(size), "file-bytes")
}

// BenchmarkRasterLevels is where the level and the filter of a raster come from.
func BenchmarkRasterLevels(b *testing.B) {
	bits := ramp(benchSide, benchSide)
	for _, filter := range []struct {
		name string
		row  func(to, row, above []byte)
	}{
		{"none", func(to, row, _ []byte) { copy(to, row) }},
		{"up", func(to, row, above []byte) {
			for i := range to {
				to[i] = row[i] - above[i]
			}
		}},
	} {
		for _, level := range []int{zlib.HuffmanOnly, 1, 2, 3, 4, 5, 6, 7, 8, 9} {
			b.Run(fmt.Sprintf("%s/%d", filter.name, level), func(b *testing.B) {
				b.SetBytes(int64(len(bits.Pix)))
				b.ReportAllocs()
				var size counter
				line, above := make([]byte, bits.Stride), make([]byte, bits.Stride)
				for b.Loop() {
					size = 0
					z, err := zlib.NewWriterLevel(&size, level)
					require.NoError(b, err)
					for y := range bits.H {
						filter.row(line, bits.Row(y), above)
						above = bits.Row(y)
						_, err := z.Write(line)
						require.NoError(b, err)
					}
					require.NoError(b, z.Close())
				}
				b.ReportMetric(float64(size), "file-bytes")
			})
		}
	}
}

func BenchmarkWriteProof(b *testing.B) {
	img := paint(image.Rect(0, 0, benchSide, benchSide))
	b.SetBytes(int64(len(img.Pix)))
	b.ReportAllocs()
	for b.Loop() {
		require.NoError(b, WriteProof(io.Discard, img, 12500))
	}
}

// TestWriteRasterNeedsLittleMemory holds the promise of streaming.
func TestWriteRasterNeedsLittleMemory(t *testing.T) {
	bits := plane.NewBits(20_000, 10_000)
	result := testing.Benchmark(func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			require.NoError(b, WriteRaster(io.Discard, bits, 0.08))
		}
	})
	require.Less(t, result.AllocedBytesPerOp(), int64(2<<20*(runtime.GOMAXPROCS(0)+1)))
}

type counter int64

func (c *counter) Write(p []byte) (int, error) {
	*c += counter(len(p))
	return len(p), nil
}
