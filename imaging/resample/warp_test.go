package resample

import (
	"bufio"
	"context"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func warped(t require.TestingT, src *plane.Grey16, h layout.Homography, w, ht int) *plane.Grey16 {
	out, err := Warp(context.Background(), src, h, w, ht)
	require.NoError(t, err)
	require.Equal(t, [2]int{w, ht}, [2]int{out.W, out.H})
	return out
}

// Source: scikit-image 0.19.3, transform.warp of order 3 with the edge repeated, in
// 64-bit floats; the values stand in warp_pixels.csv beside the script that made
// them. Both use Keys' cubic, so the rounding to 16 bits is all that lies between.
func TestWarpAgreesWithAnotherLibrary(t *testing.T) {
	const apart = 0.51
	src := filled(61, 47, rough)
	file, err := os.Open(filepath.Join(goldens, "framing", "warp_pixels.csv"))
	require.NoError(t, err)
	defer file.Close()
	lines := bufio.NewScanner(file)
	lines.Buffer(nil, 1<<20)
	cases := 0
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		v := numbers(t, lines.Text())
		h := layout.Homography{[3]float64(v[0:3]), [3]float64(v[3:6]), [3]float64(v[6:9])}
		w, ht, want := int(v[9]), int(v[10]), v[11:]
		out := warped(t, src, h, w, ht)
		for i, value := range out.Pix {
			require.InDelta(t, math.Min(math.Max(want[i], 0), 65535), value, apart, "case %d, pixel %d,%d", cases, i%w, i/w)
		}
		cases++
	}
	require.NoError(t, lines.Err())
	require.Equal(t, 4, cases)
}

// The four values written out are the cubic's.
func TestTheTwoWaysToTheTapsAgree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := rapid.IntRange(1, 50).Draw(t, "length")
		centre := rapid.Float64Range(-5, 55).Draw(t, "centre")
		s := newWarpSampler(warpSource{}, layout.Unmoved)
		s.across.setFour(centre, length)
		for k, w := range s.across.weight[:4] {
			first := math.Floor(centre-0.5) - 1
			require.InDelta(t, cubic(first+float64(k)+0.5-centre), w, 1e-14)
		}
		require.InDelta(t, 1, s.across.weight[0]+s.across.weight[1]+s.across.weight[2]+s.across.weight[3], 1e-15)
	})
}

// Inside the picture, where nothing shrinks, a short cut is taken.
func TestTheShortCutIsTheLongWay(t *testing.T) {
	src := filled(61, 47, rough)
	h, err := layout.FromCorners([4]layout.PicturePoint{{X: 3, Y: 4}, {X: 55, Y: 8}, {X: 57, Y: 43}, {X: 4, Y: 40}}, 97, 90)
	require.NoError(t, err)
	s := newWarpSampler(warpSource{61, 47, 1, src.Pix}, h)
	for i := range 97 * 90 {
		u, v, across, down := footprint(h, float64(i%97)+0.5, float64(i/97)+0.5)
		require.Equal(t, [2]float64{1, 1}, [2]float64{across, down})
		s.across.set(u, 1, 61)
		s.down.set(v, 1, 47)
		require.Equal(t, s.grey(), s.inside(u, v))
	}
}

func TestWarpUnmovedIsTheSamePicture(t *testing.T) {
	for _, size := range [][2]int{{1, 1}, {1, 9}, {9, 1}, {53, 31}} {
		src := filled(size[0], size[1], rough)
		require.Equal(t, src.Pix, warped(t, src, layout.Unmoved, src.W, src.H).Pix)
	}
}

// drawWarp is a homography to four corners about a picture of w x h.
func drawWarp(t *rapid.T, w, h int, cols, rows float64) layout.Homography {
	reach := func(share float64, side int) float64 {
		return float64(side) * (share + rapid.Float64Range(-0.3, 0.3).Draw(t, "off"))
	}
	corners := [4]layout.PicturePoint{
		{X: reach(0, w), Y: reach(0, h)}, {X: reach(1, w), Y: reach(0, h)},
		{X: reach(1, w), Y: reach(1, h)}, {X: reach(0, w), Y: reach(1, h)},
	}
	m, err := layout.FromCorners(corners, cols, rows)
	if err != nil {
		t.Skip("no four-sided figure")
	}
	return m
}

func TestWarpKeepsAnEvenAreaToTheLastBit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w, h := rapid.IntRange(1, 90).Draw(t, "w"), rapid.IntRange(1, 90).Draw(t, "h")
		cols, rows := rapid.IntRange(2, 60).Draw(t, "cols"), rapid.IntRange(2, 60).Draw(t, "rows")
		value := rapid.Uint16().Draw(t, "value")
		m := drawWarp(t, w, h, float64(cols), float64(rows))
		out, err := Warp(context.Background(), filled(w, h, func(int, int) uint16 { return value }), m, cols, rows)
		if err != nil {
			require.ErrorContains(t, err, "warped picture of")
			return
		}
		for _, v := range out.Pix {
			require.Equal(t, value, v)
		}
	})
}

// A ramp's value is its place: what is read off it is where the homography went, to
// a fortieth of a source pixel; the widened cubic does not reproduce a slope exactly.
func TestWarpLooksWhereTheHomographySays(t *testing.T) {
	const slope = 60
	across := filled(1000, 700, func(x, _ int) uint16 { return uint16(slope * x) })
	down := filled(1000, 700, func(_, y int) uint16 { return uint16(slope * y) })
	corners := [4]layout.PicturePoint{{X: 120, Y: 60}, {X: 930, Y: 130}, {X: 880, Y: 640}, {X: 60, Y: 560}}
	for _, size := range [][2]int{{800, 500}, {200, 125}, {31, 900}} {
		h, err := layout.FromCorners(corners, float64(size[0]), float64(size[1]))
		require.NoError(t, err)
		u, v := warped(t, across, h, size[0], size[1]), warped(t, down, h, size[0], size[1])
		for y := range size[1] {
			for x := range size[0] {
				p := h.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
				require.InDelta(t, slope*(p.X-0.5), u.Row(y)[x], 1.5, "%d,%d", x, y)
				require.InDelta(t, slope*(p.Y-0.5), v.Row(y)[x], 1.5, "%d,%d", x, y)
			}
		}
	}
}

// Shrunk, a pattern of single pixels turns to the grey it has, wherever it stands
// and however it is turned. Every second or third pixel picked out would not.
func TestWarpDoesNotAlias(t *testing.T) {
	stripes := filled(600, 400, func(x, _ int) uint16 { return uint16(x % 2 * 60000) })
	checks := filled(600, 400, func(x, y int) uint16 { return uint16((x + y) % 2 * 60000) })
	for _, degrees := range []float64{0, 7, 30, 45} {
		s, err := layout.Straighten(600, 400, degrees)
		require.NoError(t, err)
		for _, shrink := range []float64{2, 3, 5.5} {
			cols, rows := int(float64(s.W)/shrink), int(float64(s.H)/shrink)
			h := s.ToRaw.OnCrop(layout.Crop{W: float64(s.W), H: float64(s.H)}, cols, rows)
			for name, src := range map[string]*plane.Grey16{"stripes": stripes, "checks": checks} {
				out := warped(t, src, h, cols, rows)
				require.InEpsilon(t, 30000, mean(out), 0.01, "%s turned by %g", name, degrees)
				for y := 3; y < rows-3; y++ {
					for x := 3; x < cols-3; x++ {
						require.InDelta(t, 30000, out.Row(y)[x], 3000, "%s by %g, %g times smaller", name, degrees, shrink)
					}
				}
			}
		}
	}
}

// Without a turn it does what ToSize does, with another kernel: on a picture
// without detail near the pixel they agree to a thousandth of full scale.
func TestWarpAgreesWithToSizeOnSmoothPictures(t *testing.T) {
	src := filled(300, 200, smooth)
	crop := layout.Crop{X: 20.5, Y: 10.25, W: 240, H: 160}
	for _, size := range [][2]int{{480, 320}, {240, 160}, {90, 60}} {
		want, err := ToSize(context.Background(), src, crop, size[0], size[1])
		require.NoError(t, err)
		got := warped(t, src, layout.Unmoved.OnCrop(crop, size[0], size[1]), size[0], size[1])
		for i := range want.Pix {
			require.InDelta(t, want.Pix[i], got.Pix[i], 66)
		}
	}
}

// Straightening there and back gives the picture again, but for detail near the pixel.
func TestTurningThereAndBack(t *testing.T) {
	src := filled(301, 201, smooth)
	there, err := layout.Straighten(301, 201, 12)
	require.NoError(t, err)
	back, err := there.ToRaw.Inverse()
	require.NoError(t, err)
	turned := warped(t, src, there.ToRaw, there.W, there.H)
	again := warped(t, turned, back, 301, 201)
	for y := range 201 {
		for x := range 301 {
			p := back.Apply(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			if p.X < 4 || p.Y < 4 || p.X > float64(there.W)-4 || p.Y > float64(there.H)-4 {
				continue // cut off by the turn
			}
			require.InDelta(t, src.Row(y)[x], again.Row(y)[x], 40)
		}
	}
}

func TestWarpRGBIsWarpThrice(t *testing.T) {
	grey := [3]*plane.Grey16{filled(61, 47, rough), filled(61, 47, smooth), filled(61, 47, func(x, y int) uint16 { return uint16(900*x + y) })}
	src := plane.NewRGB16(61, 47)
	for c, g := range grey {
		for i, v := range g.Pix {
			src.Pix[3*i+c] = v
		}
	}
	h, err := layout.FromCorners([4]layout.PicturePoint{{X: -5, Y: 3}, {X: 50, Y: 8}, {X: 65, Y: 50}, {X: 2, Y: 40}}, 37, 29)
	require.NoError(t, err)
	out, err := WarpRGB(context.Background(), src, h, 37, 29)
	require.NoError(t, err)
	for c, g := range grey {
		want := warped(t, g, h, 37, 29)
		for i, v := range want.Pix {
			require.Equal(t, v, out.Pix[3*i+c])
		}
	}
}

func TestWarpIsTheSameOnAnyNumberOfCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	src := filled(203, 150, rough)
	h, err := layout.FromCorners([4]layout.PicturePoint{{X: 5, Y: 3}, {X: 190, Y: 20}, {X: 200, Y: 140}, {X: 20, Y: 130}}, 97, 61)
	require.NoError(t, err)
	var first *plane.Grey16
	for _, cores := range []int{1, 2, 3, 7} {
		runtime.GOMAXPROCS(cores)
		out := warped(t, src, h, 97, 61)
		if first == nil {
			first = out
		}
		require.Equal(t, first.Pix, out.Pix)
	}
}

func TestWarpRefuses(t *testing.T) {
	src := filled(40, 30, smooth)
	for _, c := range []struct {
		name  string
		src   *plane.Grey16
		h     layout.Homography
		w, ht int
		want  string
	}{
		{"no picture", plane.NewGrey16(0, 5), layout.Unmoved, 4, 4, "0 x 5 pixels is empty"},
		{"no result", src, layout.Unmoved, 0, 4, "outside 1 to 400 million"},
		{"too many pixels", src, layout.Unmoved, 40_000, 40_000, "outside 1 to 400 million"},
		{"not a number", src, layout.Homography{{math.NaN(), 0, 0}, {0, 1, 0}, {0, 0, 1}}, 4, 4, "the value NaN"},
		{"beyond the horizon", src, layout.Homography{{1, 0, 0}, {0, 1, 0}, {-0.1, 0, 1}}, 20, 4, "beyond the horizon"},
		{"nothing", src, layout.Homography{}, 4, 4, "beyond the horizon"},
		{"too small", src, layout.Homography{{65, 0, 0}, {0, 1, 0}, {0, 0, 1}}, 4, 4, "65 times smaller, more than 64"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Warp(context.Background(), c.src, c.h, c.w, c.ht)
			require.ErrorContains(t, err, c.want)
		})
	}
	_, err := WarpRGB(context.Background(), plane.NewRGB16(0, 0), layout.Unmoved, 1, 1)
	require.ErrorContains(t, err, "is empty")
}

func TestWarpStopsWithItsContext(t *testing.T) {
	src := benchGrey()
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() {
		_, err := Warp(ctx, src, layout.Unmoved.OnCrop(layout.Crop{W: benchW, H: benchH}, 9000, 9000), 9000, 9000)
		done <- err
	}()
	cancel()
	select {
	case err := <-done:
		require.ErrorIs(t, err, context.Canceled)
	case <-time.After(time.Second):
		t.Fatal("still at work a second after the end")
	}
}

func BenchmarkWarp(b *testing.B) {
	src := benchGrey()
	for _, c := range []struct {
		name       string
		degrees    float64
		cols, rows int
	}{{"turned, 10 MP", 3, benchCols, benchRows}, {"turned and shrunk", 3, 1200, 900}} {
		s, err := layout.Straighten(benchW, benchH, c.degrees)
		require.NoError(b, err)
		h := s.ToRaw.OnCrop(layout.Crop{W: float64(s.W), H: float64(s.H)}, c.cols, c.rows)
		b.Run(c.name, func(b *testing.B) {
			b.SetBytes(2 * int64(c.cols) * int64(c.rows))
			b.ReportAllocs()
			for b.Loop() {
				_, err := Warp(context.Background(), src, h, c.cols, c.rows)
				require.NoError(b, err)
			}
		})
	}
}
