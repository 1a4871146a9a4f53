package screen_test

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/imaging/screen"
)

// even is a plane of one tint, given as a share.
func even(w, h int, share float64) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for i := range g.Pix {
		g.Pix[i] = uint16(share*65535 + 0.5)
	}
	return g
}

// sixteenths is a plane of tints given in 1/16.
func sixteenths(rows ...[]float64) *plane.Grey16 {
	g := plane.NewGrey16(len(rows[0]), len(rows))
	for y, row := range rows {
		for x, v := range row {
			g.Row(y)[x] = uint16(v/16*65535 + 0.5)
		}
	}
	return g
}

func picture(b *plane.Bits) []string {
	rows := make([]string, b.H)
	for y := range rows {
		var s strings.Builder
		for x := range b.W {
			if b.At(x, y) {
				s.WriteByte('1')
			} else {
				s.WriteByte('0')
			}
		}
		rows[y] = s.String()
	}
	return rows
}

func dots(t require.TestingT, tints *plane.Grey16, o screen.Options) *plane.Bits {
	b, err := screen.Screen(context.Background(), tints, o)
	require.NoError(t, err)
	return b
}

// Source: Floyd and Steinberg, "An adaptive algorithm for spatial grey scale",
// Proc. SID 17/2, 1976: weights 7, 3, 5, 1 of 16. All numbers below are in 1/16
// of full: burn from 8 upwards, an error e sends 7e/16 to the next dot, 3e/16
// below and behind, 5e/16 below, e/16 below and ahead.
//
//	row 0: tints 6 12 3, from the left
//	  6                           -> 0, e =  6
//	  12 + 7*6/16     = 14.625    -> 1, e = -1.375
//	  3 - 7*1.375/16  =  2.398    -> 0, e =  2.398
//	it leaves below
//	  dot 0: 5*6/16 - 3*1.375/16             =  1.617
//	  dot 1: 6/16 - 5*1.375/16 + 3*2.398/16  =  0.395
//	  dot 2: -1.375/16 + 5*2.398/16          =  0.664
//	row 1: tints 5 7 8
//	  one way, from the left:
//	    5 + 1.617               =  6.617    -> 0, e =  6.617
//	    7 + 0.395 + 7*6.617/16  = 10.290    -> 1, e = -5.710
//	    8 + 0.664 - 7*5.710/16  =  6.166    -> 0, e =  6.166
//	    it leaves below
//	      dot 0: 5*6.617/16 - 3*5.710/16              =  0.997
//	      dot 1: 6.617/16 - 5*5.710/16 + 3*6.166/16   = -0.215
//	      dot 2: -5.710/16 + 5*6.166/16               =  1.570
//	  serpentine, from the right:
//	    8 + 0.664               =  8.664    -> 1, e = -7.336
//	    7 + 0.395 - 7*7.336/16  =  4.186    -> 0, e =  4.186
//	    5 + 1.617 + 7*4.186/16  =  8.448    -> 1, e = -7.552
//	    it leaves below (mirrored)
//	      dot 2: -5*7.336/16 + 3*4.186/16             = -1.508
//	      dot 1: -7.336/16 + 5*4.186/16 - 3*7.552/16  = -0.566
//	      dot 0: 4.186/16 - 5*7.552/16                = -2.098
//	row 2: tints 8 8 9, from the left both times
//	  one way:    8.997 -> 1, e = -7.003; 7.785 - 3.064 = 4.721 -> 0; 10.570 + 2.065 -> 1
//	  serpentine: 5.902 -> 0, e =  5.902; 7.434 + 2.582 = 10.016 -> 1, e = -5.984; 7.492 - 2.618 = 4.874 -> 0
func TestScreenWorkedByHand(t *testing.T) {
	tints := sixteenths([]float64{6, 12, 3}, []float64{5, 7, 8}, []float64{8, 8, 9})
	t.Run("one way", func(t *testing.T) {
		require.Equal(t, []string{"010", "010", "101"}, picture(dots(t, tints, screen.Options{OneWay: true, Plain: true})))
	})
	t.Run("serpentine", func(t *testing.T) {
		require.Equal(t, []string{"010", "101", "010"}, picture(dots(t, tints, screen.Options{Plain: true})))
	})
}

// Source: Floyd and Steinberg 1976; the patterns and counts follow from the
// weights when an error that leaves the raster is dropped (raster scan, burn from
// half upwards), worked out in double precision.
func TestScreenEvenTints(t *testing.T) {
	t.Run("half is a checkerboard", func(t *testing.T) {
		got := picture(dots(t, even(8, 8, 0.5), screen.Options{OneWay: true, Plain: true}))
		for y, row := range got {
			require.Equal(t, []string{"10101010", "01010101"}[y%2], row)
		}
	})
	t.Run("quarter", func(t *testing.T) {
		got := picture(dots(t, even(8, 4, 0.25), screen.Options{OneWay: true, Plain: true}))
		require.Equal(t, []string{"00000000", "01010101", "00000000", "01010101"}, got)
	})
	// count is what the exact share gives, near what the nearest 16-bit tint gives,
	// both in double precision: a few dots of 16384 hang on the last bit.
	type counts struct{ oneWay, serpentine int }
	for _, c := range []struct {
		share       float64
		count, near counts
	}{
		{0.1, counts{1599, 1597}, counts{1600, 1596}},
		{0.25, counts{4036, 4078}, counts{4036, 4080}},
		{0.5, counts{8192, 8192}, counts{8192, 8192}},
		{0.75, counts{12348, 12306}, counts{12348, 12304}},
		{0.9, counts{14785, 14787}, counts{14788, 14789}},
	} {
		t.Run(fmt.Sprintf("count at %g", c.share), func(t *testing.T) {
			tints := even(128, 128, c.share)
			got := counts{dots(t, tints, screen.Options{OneWay: true, Plain: true}).Count(), dots(t, tints, screen.Options{Plain: true}).Count()}
			require.Equal(t, c.near, got)
			require.InDelta(t, c.count.oneWay, got.oneWay, 3)
			require.InDelta(t, c.count.serpentine, got.serpentine, 3)
		})
	}
}

func TestScreenShapes(t *testing.T) {
	for _, k := range screen.Kinds() {
		for _, c := range []struct{ w, h int }{{0, 0}, {0, 3}, {3, 0}, {1, 1}, {1, 40}, {40, 1}, {9, 2}, {16, 5}} {
			t.Run(fmt.Sprintf("%s %dx%d", k, c.w, c.h), func(t *testing.T) {
				for _, o := range []screen.Options{{}, {Plain: true}, {OneWay: true, MinDot: 2, MinGap: 3}} {
					o.Kind = k
					b := dots(t, even(c.w, c.h, 1), o)
					require.Equal(t, c.w, b.W)
					require.Equal(t, c.h, b.H)
					require.Equal(t, c.w*c.h, b.Count(), "every dot burns and the padding stays 0")
					require.Zero(t, dots(t, even(c.w, c.h, 0), o).Count(), "none burns")
					dots(t, even(c.w, c.h, 0.4), o)
				}
			})
		}
	}
}

func TestScreenRefuses(t *testing.T) {
	_, err := screen.Screen(context.Background(), even(1, 1, 0), screen.Options{Kind: "lace"})
	require.ErrorContains(t, err, `unknown screen "lace": choose one of floyd-steinberg, `)
	_, err = screen.New(-1, screen.Options{})
	require.ErrorContains(t, err, "raster width -1")
}

// endingContext ends after its Err has been asked some times.
type endingContext struct {
	context.Context
	left int
}

func (c *endingContext) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

func TestScreenStops(t *testing.T) {
	for _, k := range screen.Kinds() {
		t.Run(string(k), func(t *testing.T) {
			o := screen.Options{Kind: k}
			for _, left := range []int{0, 5} {
				ctx := &endingContext{context.Background(), left}
				b, err := screen.Screen(ctx, even(8, 1000, 0.5), o)
				require.ErrorIs(t, err, context.Canceled)
				require.Nil(t, b)
				require.Equal(t, -1, ctx.left, "stopped at the first row past the end")
			}
			ctx, cancel := context.WithTimeout(context.Background(), time.Nanosecond)
			defer cancel()
			<-ctx.Done()
			_, err := screen.Screen(ctx, even(8, 8, 0.5), o)
			require.True(t, errors.Is(err, context.DeadlineExceeded))
		})
	}
}

// drawTints is a random plane with plenty of pure tints in it.
func drawTints(t *rapid.T) *plane.Grey16 {
	g := plane.NewGrey16(rapid.IntRange(1, 40).Draw(t, "w"), rapid.IntRange(1, 30).Draw(t, "h"))
	tint := rapid.OneOf(rapid.Uint16(), rapid.SampledFrom([]uint16{0, 1, 32767, 32768, 65534, 65535}))
	for i := range g.Pix {
		g.Pix[i] = tint.Draw(t, "tint")
	}
	return g
}

func drawOptions(t *rapid.T) screen.Options {
	return screen.Options{
		Kind:   rapid.SampledFrom(screen.Kinds()).Draw(t, "kind"),
		OneWay: rapid.Bool().Draw(t, "one way"), Plain: rapid.Bool().Draw(t, "plain"), Seed: rapid.Uint64Range(0, 2).Draw(t, "seed"),
		MinDot: rapid.SampledFrom([]int{0, 2}).Draw(t, "dot"), MinGap: rapid.SampledFrom([]int{0, 3}).Draw(t, "gap"),
		Matrix: rapid.SampledFrom([]int{0, 2, 16}).Draw(t, "matrix"), Spot: rapid.SampledFrom([]screen.Spot{"", screen.Line}).Draw(t, "spot"),
	}
}

func TestPureTintsStayPure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tints := drawTints(t)
		b := dots(t, tints, drawOptions(t))
		for y := range b.H {
			for x, v := range tints.Row(y) {
				if v == 0 || v == 65535 {
					require.Equal(t, v == 65535, b.At(x, y), "dot %d,%d", x, y)
				}
			}
		}
	})
}

// The plain reading of the paper: the whole error plane held at once, every
// share added where it falls, and the books closed at the end.
func TestErrorIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tints, o := drawTints(t), screen.Options{Plain: true, OneWay: rapid.Bool().Draw(t, "one way")}
		w, h := tints.W, tints.H
		carried := make([]int64, w*(h+1)) // in 1/256 of a tint unit
		var wanted, burned, dropped int64
		plain := plane.NewBits(w, h)
		for y := range h {
			from, step := 0, 1
			if !o.OneWay && y%2 == 1 {
				from, step = w-1, -1
			}
			for i := range w {
				x := from + i*step
				v := int64(tints.Row(y)[x])*256 + carried[y*w+x]
				wanted += int64(tints.Row(y)[x]) * 256
				e := v
				if 2*v >= 65535*256 {
					plain.Set(x, y)
					burned += 65535 * 256
					e -= 65535 * 256
				}
				next, back, below := 7*e>>4, 3*e>>4, 5*e>>4
				for _, share := range []struct {
					x, y int
					e    int64
				}{{x + step, y, next}, {x - step, y + 1, back}, {x, y + 1, below}, {x + step, y + 1, e - next - back - below}} {
					if share.x < 0 || share.x >= w {
						dropped += share.e
						continue
					}
					carried[share.y*w+share.x] += share.e
				}
			}
		}
		for _, e := range carried[w*h:] {
			dropped += e
		}
		require.Equal(t, wanted, burned+dropped)
		require.Equal(t, picture(plain), picture(dots(t, tints, o)))
	})
}

func TestPlainMeanIsKept(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		share := rapid.Float64Range(0, 1).Draw(t, "share")
		o := screen.Options{Plain: true, OneWay: rapid.Bool().Draw(t, "one way")}
		got := float64(dots(t, even(128, 128, share), o).Count()) / (128 * 128)
		require.InDelta(t, share, got, 0.005)
	})
}

func TestRowByRowIsTheWhole(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tints, o := drawTints(t), drawOptions(t)
		s, err := screen.New(tints.W, o)
		require.NoError(t, err)
		b := plane.NewBits(tints.W, tints.H)
		for i := range b.Pix {
			b.Pix[i] = 0xff // what stood there before must not matter
		}
		for y := range tints.H {
			s.Row(tints.Row(y), b.Row(y))
		}
		require.Equal(t, dots(t, tints, o), b)
	})
}

// The sums stand for the dots themselves: they are the same on every machine,
// whatever the number of processors, until a screen is changed on purpose.
func TestDotsAreTheSameEverywhere(t *testing.T) {
	tints := plane.NewGrey16(201, 120)
	for y := range tints.H {
		for x := range tints.W {
			tints.Row(y)[x] = uint16(x*326 + y*y%97*3)
		}
	}
	for _, k := range screen.Kinds() {
		t.Run(string(k), func(t *testing.T) {
			o := screen.Options{Kind: k, AngleDegrees: 30}
			before := runtime.GOMAXPROCS(1)
			one := dots(t, tints, o)
			runtime.GOMAXPROCS(before)
			require.Equal(t, one, dots(t, tints, o))
			require.Equal(t, sums[k], fmt.Sprintf("%08x", crc32.ChecksumIEEE(one.Pix)))
		})
	}
}

var sums = map[screen.Kind]string{
	screen.FloydSteinberg:    "ae271651",
	screen.BeamAware:         "9e8e4905",
	screen.BlueNoise:         "c8bbb312",
	screen.JarvisJudiceNinke: "2c5d89f1",
	screen.Stucki:            "f44985da",
	screen.Burkes:            "1023824a",
	screen.Sierra:            "cfbb96f5",
	screen.SierraTwoRow:      "b0a194ae",
	screen.SierraLite:        "17de9a1a",
	screen.Atkinson:          "ded2486c",
	screen.Clustered:         "ac2117ab",
	screen.Bayer:             "95f96df7",
	screen.Threshold:         "290ecfa7",
}

func BenchmarkScreen(b *testing.B) {
	tints := plane.NewGrey16(2800, 3500)
	for i := range tints.Pix {
		tints.Pix[i] = uint16(i * 40503 >> 7)
	}
	var all []screen.Options
	for _, k := range screen.Kinds() {
		all = append(all, screen.Options{Kind: k, Matrix: 8})
	}
	for _, o := range append(all, screen.Options{OneWay: true}, screen.Options{MinDot: 2, MinGap: 2}, screen.Options{Kind: screen.BeamAware, MinDot: 2, MinGap: 2}) {
		b.Run(fmt.Sprintf("%s,one way=%t,least=%d", cmp.Or(o.Kind, screen.FloydSteinberg), o.OneWay, o.MinDot), func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(2 * len(tints.Pix)))
			for b.Loop() {
				dots(b, tints, o)
			}
		})
	}
}
