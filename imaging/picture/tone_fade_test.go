package picture

import (
	"context"
	"encoding/json"
	"math"
	"runtime"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func faded(t require.TestingT, f Fade, w, h int, perMM float64) *plane.Grey16 {
	mask, err := f.Mask(context.Background(), w, h, perMM)
	require.NoError(t, err)
	require.Equal(t, [2]int{w, h}, [2]int{mask.W, mask.H})
	return mask
}

// share is the part of a mask that is kept, in mm².
func share(mask *plane.Grey16, perMM float64) float64 {
	sum := 0.0
	for _, v := range mask.Pix {
		sum += float64(v) / full
	}
	return sum / (perMM * perMM)
}

func TestNoFadeKeepsEveryTintToTheBit(t *testing.T) {
	tints := toneScene(31, 17, 1)
	out, err := Fade{}.Apply(context.Background(), tints, 2)
	require.NoError(t, err)
	require.Equal(t, tints.Pix, out.Pix)
	require.NotSame(t, &tints.Pix[0], &out.Pix[0])
}

// The outlines by what they enclose, against the areas of plane geometry.
func TestFadeOutlinesEncloseWhatTheyShould(t *testing.T) {
	for _, c := range []struct {
		name string
		fade Fade
		want float64
	}{
		{"inset", Fade{Inset: 10}, 180 * 80},
		{"corners", Fade{Inset: 10, Corner: 20}, 180*80 - (4-math.Pi)*20*20},
		{"corners as large as they go", Fade{Corner: 900}, 200*100 - (4-math.Pi)*50*50},
		{"oval", Fade{Shape: FadeOval}, math.Pi * 100 * 50},
		{"inset oval", Fade{Shape: FadeOval, Inset: 20}, math.Pi * 80 * 30},
	} {
		t.Run(c.name, func(t *testing.T) {
			for _, perMM := range []float64{1, 4} {
				mask := faded(t, c.fade, int(200*perMM), int(100*perMM), perMM)
				require.InEpsilon(t, c.want, share(mask, perMM), 0.001)
			}
		})
	}
}

func TestFadeFeather(t *testing.T) {
	mask := faded(t, Fade{Feather: 20}, 200, 100, 1)
	row := mask.Row(50)
	for x := range 100 {
		d := (float64(x) + 0.5) / 20
		want := 1.0
		if d < 1 {
			want = d * d * (3 - 2*d)
		}
		require.InDelta(t, want, float64(row[x])/full, 1e-4, "%d mm from the edge", x)
		require.Equal(t, row[x], row[199-x])
	}
	for _, f := range []Fade{{Feather: 20}, {Feather: 20, Shape: FadeOval}, {Feather: 900, Shape: FadeOval}, {Feather: 900, Corner: 30}} {
		mask := faded(t, f, 200, 100, 1)
		require.Greater(t, mask.Row(50)[100], uint16(65300), "the middle stays: %+v", f)
		for x := 1; x < 100; x++ {
			require.GreaterOrEqual(t, mask.Row(50)[x], mask.Row(50)[x-1], "%+v", f)
		}
	}
}

func TestVignette(t *testing.T) {
	mask := faded(t, Fade{Vignette: 0.8}, 401, 201, 2)
	require.EqualValues(t, full, mask.Row(100)[200])
	require.EqualValues(t, full, mask.Row(100)[300], "nothing is taken half way out")
	require.InDelta(t, 0.2, float64(mask.Row(0)[0])/full, 0.001)
	require.Equal(t, mask.Row(0)[0], mask.Row(200)[400])
	// An edge's middle lies 1/√2 of the way to the corner.
	d := 2/math.Sqrt2 - 1
	require.InDelta(t, 1-0.8*d*d*(3-2*d), float64(mask.Row(100)[0])/full, 0.005)
}

// Parts are faded as in the whole, and at another size alike.
func TestPartsAreFaded(t *testing.T) {
	for _, f := range []Fade{{Inset: 3, Corner: 8, Feather: 6}, {Shape: FadeOval, Feather: 15, Vignette: 0.5}} {
		tints := toneScene(128, 96, 1)
		whole, err := f.Apply(context.Background(), tints, 2)
		require.NoError(t, err)
		part := lightFrom(40, 30, func(x, y int) uint16 { return tints.Row(y + 50)[x+64] })
		got, err := f.ApplyPart(context.Background(), part, layout.Size{W: 64, H: 48}, Part{PerMM: 2, Right: 32, Down: 25})
		require.NoError(t, err)
		for y := range 30 {
			require.Equal(t, whole.Row(y + 50)[64:104], got.Row(y))
		}
		large, small := faded(t, f, 256, 192, 4), faded(t, f, 128, 96, 2)
		for i, v := range halved(large).Pix {
			require.InDelta(t, v, small.Pix[i], 0.01*full)
		}
	}
	past, err := Fade{Feather: 1}.ApplyPart(context.Background(), lightFrom(4, 4, func(_, _ int) uint16 { return full }), layout.Size{W: 10, H: 10}, Part{PerMM: 1, Right: 8, Down: 2})
	require.NoError(t, err)
	require.Zero(t, past.Row(1)[2], "past the area")
	require.NotZero(t, past.Row(1)[0])
}

func TestFadeNeverAdds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		length := func(name string) layout.MM { return layout.MM(rapid.Float64Range(0, 4).Draw(t, name)) }
		f := Fade{
			Shape: rapid.SampledFrom([]FadeShape{FadeRectangle, FadeOval}).Draw(t, "shape"),
			Inset: length("inset"), Corner: length("corner"), Feather: length("feather"),
			Vignette: rapid.Float64Range(0, 1).Draw(t, "vignette"),
		}
		tints := toneScene(rapid.IntRange(20, 50).Draw(t, "w"), rapid.IntRange(20, 50).Draw(t, "h"), 1)
		out, err := f.Apply(context.Background(), tints, 2)
		require.NoError(t, err)
		for i, v := range out.Pix {
			require.LessOrEqual(t, v, tints.Pix[i])
		}
	})
}

func TestFadeOnOddSizesAndCores(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	for _, size := range [][2]int{{0, 0}, {0, 7}, {1, 1}, {1, 40}, {300, 1}} {
		faded(t, Fade{Feather: 5, Vignette: 1, Shape: FadeOval}, size[0], size[1], 3)
	}
	want := faded(t, Fade{Feather: 5, Shape: FadeOval}, 77, 51, 3)
	for _, cores := range []int{1, 3, 8} {
		runtime.GOMAXPROCS(cores)
		require.Equal(t, want.Pix, faded(t, Fade{Feather: 5, Shape: FadeOval}, 77, 51, 3).Pix)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	for _, f := range []Fade{{}, {Feather: 3}} {
		_, err := f.Apply(ended, toneScene(9, 9, 1), 1)
		require.ErrorIs(t, err, context.Canceled)
	}
}

func TestFadeRefuses(t *testing.T) {
	for _, c := range []struct {
		fade  Fade
		perMM float64
		want  string
	}{
		{Fade{Shape: "star"}, 1, `fade shape is "star": choose oval`},
		{Fade{Inset: -1}, 1, "fade inset -1 mm is outside 0 to 1000 mm"},
		{Fade{Corner: layout.MM(math.NaN())}, 1, "fade corner NaN mm"},
		{Fade{Feather: 1001}, 1, "fade feather 1001 mm"},
		{Fade{Vignette: 1.5}, 1, "vignette 1.5 is outside 0 to 1"},
		{Fade{Vignette: math.NaN()}, 1, "vignette NaN"},
		{Fade{Inset: 20}, 1, "fade inset 20 mm leaves nothing of a picture area 60 x 40 mm"},
		{Fade{Feather: 1}, 0, "0 pixels a mm is not possible"},
		{Fade{Feather: 1}, math.NaN(), "NaN pixels a mm"},
	} {
		_, err := c.fade.Apply(context.Background(), toneScene(60, 40, 1), c.perMM)
		require.ErrorContains(t, err, c.want)
	}
}

func TestFadeInFiles(t *testing.T) {
	data, err := json.Marshal(Fade{Shape: FadeOval, Feather: 12.5})
	require.NoError(t, err)
	require.JSONEq(t, `{"shape":"oval","feather_mm":12.5}`, string(data))
	data, err = json.Marshal(Fade{})
	require.NoError(t, err)
	require.Equal(t, `{}`, string(data))
}
