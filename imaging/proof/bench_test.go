package proof_test

import (
	"context"
	"fmt"
	"testing"
	"undercoat/imaging/burn"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

func BenchmarkNewTintTable(b *testing.B) {
	for _, beam := range []layout.MM{0.04, 0.08, 0.16, 0.5} {
		r := recipe(threeCoats())
		r.Machine.BeamAlong, r.Machine.BeamAcross = beam, beam
		b.Run(fmt.Sprintf("beam %.2f mm", beam), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				table(b, r)
			}
		})
	}
}

// BenchmarkPowerChange is what must fit into a frame: a new table and a view of
// 1400 x 900 pixels painted with it.
func BenchmarkPowerChange(b *testing.B) {
	ctx := context.Background()
	t := table(b, recipe(threeCoats()))
	tints := picture(1400, 900)
	b.SetBytes(int64(4 * len(tints.Pix)))
	b.ReportAllocs()
	power := 20.0
	for b.Loop() {
		r := t.Recipe()
		power += 0.1
		if power > 90 {
			power = 20
		}
		r.Setting.PowerPercent = power
		next, err := t.With(ctx, r)
		require.NoError(b, err)
		_, err = next.Paint(ctx, tints)
		require.NoError(b, err)
	}
}

func BenchmarkEven(b *testing.B) {
	t := table(b, recipe(threeCoats()))
	for b.Loop() {
		t.Even().LinearTable()
	}
}

// fullRaster is a panel of 9.8 million dots.
func fullRaster(b *testing.B) *plane.Bits {
	return dots(b, picture(2700, 3640), screen.Options{})
}

func BenchmarkExact(b *testing.B) {
	ctx := context.Background()
	bits := fullRaster(b)
	for _, k := range []int{1, 2, 4, 8} {
		b.Run(fmt.Sprintf("grid %d", k), func(b *testing.B) {
			r := recipe(threeCoats())
			r.Grid = k
			b.SetBytes(int64(bits.W * bits.H))
			b.ReportAllocs()
			for b.Loop() {
				_, err := proof.Exact(ctx, r, burn.OneBit(bits), whole(bits), 900, 1213, nil)
				require.NoError(b, err)
			}
		})
	}
}

// BenchmarkExactUnderAWideBeam has no patterns to look up: it goes sample by sample.
func BenchmarkExactUnderAWideBeam(b *testing.B) {
	bits := fullRaster(b)
	r := recipe(threeCoats())
	r.Machine.BeamAlong, r.Machine.BeamAcross = 0.2, 0.2
	for _, k := range []int{1, 2, 0} {
		b.Run(fmt.Sprintf("grid %d", k), func(b *testing.B) {
			r.Grid = k
			b.SetBytes(int64(bits.W * bits.H))
			b.ReportAllocs()
			for b.Loop() {
				_, err := proof.Exact(context.Background(), r, burn.OneBit(bits), whole(bits), 900, 1213, nil)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkLoupe(b *testing.B) {
	ctx := context.Background()
	bits := fullRaster(b)
	r := recipe(threeCoats())
	for _, wide := range []float64{2000, 1400, 1000, 500, 140, 14, 0.7} {
		b.Run(fmt.Sprintf("%g dots", wide), func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				w := proof.Window{X: 300.3, Y: 400.7, W: wide, H: wide * 900 / 1400}
				_, err := proof.Loupe(ctx, r, burn.OneBit(bits), w, 1400, 900)
				require.NoError(b, err)
			}
		})
	}
}

func BenchmarkDistant(b *testing.B) {
	ctx := context.Background()
	t := table(b, recipe(threeCoats()))
	img, err := t.Paint(ctx, picture(1400, 900))
	require.NoError(b, err)
	b.SetBytes(int64(len(img.Pix)))
	for b.Loop() {
		_, err := proof.Distant(ctx, img, 0.2, 2000)
		require.NoError(b, err)
	}
}
