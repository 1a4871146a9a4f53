package burn_test

import (
	"context"
	"fmt"
	"image"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// The size of a 224 x 280 mm picture at 0.08 mm pitch: 9.8 million dots.
const benchW, benchH = 2800, 3500

// noise is a raster with each dot burned with the given chance.
func noise(w, h int, chance float64) *plane.Bits {
	r := rand.New(rand.NewPCG(1, 2))
	b := plane.NewBits(w, h)
	for y := range h {
		for x := range w {
			if r.Float64() < chance {
				b.Set(x, y)
			}
		}
	}
	return b
}

// BenchmarkExpose counts the bytes of the dose map it makes, 4 a sub-cell, in
// one goroutine.
func BenchmarkExpose(b *testing.B) {
	dots := noise(benchW, benchH, 0.4)
	levels := plane.NewGrey16(benchW, benchH)
	for i := range levels.Pix {
		levels.Pix[i] = uint16(i * 40503 >> 7)
	}
	m := starter()
	run := func(name string, m burn.Machine, src burn.Source, k int) {
		b.Run(name, func(b *testing.B) {
			e, err := burn.NewExposer(m, 0.08, k)
			require.NoError(b, err)
			b.ReportAllocs()
			b.SetBytes(4 * benchW * benchH * int64(k*k))
			buf := &burn.Buffer{}
			for b.Loop() {
				err := e.Expose(context.Background(), src, image.Rect(0, 0, benchW, benchH), buf, func(int, []float32) error { return nil })
				require.NoError(b, err)
			}
		})
	}
	for _, k := range []int{1, 2, 4, 8} {
		run(fmt.Sprintf("one bit k=%d", k), m, burn.OneBit(dots), k)
	}
	for _, k := range []int{1, 2, 4} {
		run(fmt.Sprintf("eight bit k=%d", k), m, burn.EightBit(levels), k)
	}
	wide := m
	wide.BeamAlong, wide.BeamAcross = 0.32, 0.32
	run("one bit, beam of 4 pitches, k=2", wide, burn.OneBit(dots), 2)
	wide.BeamAlong, wide.BeamAcross = 2, 2
	run("one bit, beam of 25 pitches, k=1", wide, burn.OneBit(dots), 1)
}

// BenchmarkExposeBands shares the raster out to all cores.
func BenchmarkExposeBands(b *testing.B) {
	dots := burn.OneBit(noise(benchW, benchH, 0.4))
	for _, k := range []int{1, 2, 4, 8} {
		b.Run(fmt.Sprintf("k=%d", k), func(b *testing.B) {
			e, err := burn.NewExposer(starter(), 0.08, k)
			require.NoError(b, err)
			b.ReportAllocs()
			b.SetBytes(4 * benchW * benchH * int64(k*k))
			for b.Loop() {
				err := plane.SplitRows(context.Background(), benchH, func(ctx context.Context, y0, y1 int) error {
					return e.Expose(ctx, dots, image.Rect(0, y0, benchW, y1), nil, func(int, []float32) error { return nil })
				})
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkNewExposer is what a new beam, pitch or grid costs before the first row.
func BenchmarkNewExposer(b *testing.B) {
	for _, k := range []int{1, 8} {
		b.Run(fmt.Sprintf("k=%d", k), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				_, err := burn.NewExposer(starter(), 0.08, k)
				require.NoError(b, err)
			}
		})
	}
}
