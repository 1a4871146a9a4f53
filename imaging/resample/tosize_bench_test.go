package resample

import (
	"context"
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// The sizes of a working day: a 12 MP photograph, a raster of 9.8 MP.
const benchW, benchH, benchCols, benchRows = 4000, 3000, 3600, 2722

func benchGrey() *plane.Grey16 {
	g := plane.NewGrey16(benchW, benchH)
	for i := range g.Pix {
		g.Pix[i] = uint16(i * 2654435761 >> 7)
	}
	return g
}

func BenchmarkToSize(b *testing.B) {
	src := benchGrey()
	for _, c := range []struct {
		name       string
		crop       layout.Crop
		cols, rows int
	}{
		{"same size", layout.Crop{X: 0.4, Y: 10.2, W: 3990, H: 2989}, benchCols, benchRows},
		{"half crop enlarged", layout.Crop{X: 900, Y: 700, W: 2000, H: 1512}, benchCols, benchRows},
		{"shrunk", layout.Crop{W: 4000, H: 3000}, 1000, 750},
	} {
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(2 * int64(c.cols) * int64(c.rows))
			b.ReportAllocs()
			for b.Loop() {
				_, err := ToSize(context.Background(), src, c.crop, c.cols, c.rows)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkView(b *testing.B) {
	src := plane.NewRGB16(benchW, benchH)
	for i := range src.Pix {
		src.Pix[i] = uint16(i * 2654435761 >> 7)
	}
	for _, width := range []int{1000, 1600, 2400} {
		b.Run(fmt.Sprintf("%d wide", width), func(b *testing.B) {
			b.SetBytes(6 * benchW * benchH)
			b.ReportAllocs()
			for b.Loop() {
				_, err := View(context.Background(), src, layout.Crop{W: benchW, H: benchH}, width, width)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkGreyView(b *testing.B) {
	src := benchGrey()
	b.SetBytes(2 * benchW * benchH)
	b.ReportAllocs()
	for b.Loop() {
		_, err := GreyView(context.Background(), src, layout.Crop{W: benchW, H: benchH}, 1600, 1600)
		require.NoError(b, err)
	}
}
