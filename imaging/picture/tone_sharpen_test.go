package picture

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func applied(t require.TestingT, tone Tone, light *plane.Grey16, perMM float64) *plane.Grey16 {
	out, err := tone.Apply(context.Background(), light, perMM)
	require.NoError(t, err)
	require.Equal(t, [2]int{light.W, light.H}, [2]int{out.W, out.H})
	return out
}

// Source: the published algorithm in SciPy 1.10.1 (sharpen_boxes.csv), and
// scikit-image 0.19.3, filters.unsharp_mask (sharpen_gauss.csv); see the README
// beside them. The blur of four means is a Gaussian to within 4 % of its peak,
// which is what tells the two apart: two thousandths of the range at the most.
func TestSharpenAgreesWithOtherLibraries(t *testing.T) {
	light := toneScene(64, 48, 1)
	for _, c := range []struct {
		golden     string
		sharpen    Sharpen
		margin     int
		most, mean float64
	}{
		{"sharpen_boxes.csv", Sharpen{Radius: 0.13, Amount: 1.5}, 0, 0.51, 0.26},
		{"sharpen_gauss.csv", Sharpen{Radius: 0.25, Amount: 0.8}, 0, 130, 25},
	} {
		t.Run(c.golden, func(t *testing.T) {
			out := applied(t, Tone{Sharpen: c.sharpen}, light, 10)
			most, mean := apart(toneGolden(t, c.golden, 64, 48), out, c.margin, plain)
			t.Logf("largest difference %.2f, mean %.2f of 65535", most, mean)
			require.LessOrEqual(t, most, c.most)
			require.LessOrEqual(t, mean, c.mean)
		})
	}
}

// A window's mean spreads a point by exactly the variance that was asked for.
func TestSpreadingWindows(t *testing.T) {
	for _, variance := range []float64{0, 1e-6, 0.01, 0.3, 2.0 / 3, 0.7, 1.9, 2, 5, 33.3, 1000} {
		w := spreadingWindow(variance)
		second := 0.0
		for d := -w.reach; d <= w.reach; d++ {
			second += float64(d * d)
		}
		second += 2 * w.edge * float64((w.reach+1)*(w.reach+1))
		require.InDelta(t, variance, second/w.side(), 1e-9*math.Max(1, variance))
		require.GreaterOrEqual(t, w.edge, 0.0)
		require.LessOrEqual(t, w.edge, 1.0)
	}
}

// An edge comes out as the mask says: the dark side darker, the light side lighter,
// far from it nothing, and the mean of all kept.
func TestSharpenRaisesAnEdge(t *testing.T) {
	light := lightFrom(60, 9, func(x, _ int) uint16 { return uint16(20000 + x/30*20000) })
	out := applied(t, Tone{Sharpen: Sharpen{Radius: 0.2, Amount: 1}}, light, 10)
	row, sum := out.Row(4), 0.0
	for _, v := range row {
		sum += float64(v)
	}
	require.EqualValues(t, 20000, row[5])
	require.EqualValues(t, 40000, row[54])
	require.Less(t, row[29], uint16(14500))
	require.Greater(t, row[30], uint16(45500))
	require.InDelta(t, 30000*60, sum, 60)
}

func TestSharpenThreshold(t *testing.T) {
	faint := lightFrom(60, 9, func(x, _ int) uint16 { return uint16(20000 + x/30*300) }) // 0.7 of L* apart
	require.Equal(t, faint.Pix, applied(t, Tone{Sharpen: Sharpen{Radius: 0.2, Amount: 2, Threshold: 1}}, faint, 10).Pix)
	require.NotEqual(t, faint.Pix, applied(t, Tone{Sharpen: Sharpen{Radius: 0.2, Amount: 2}}, faint, 10).Pix)

	// Past the threshold it sets in without a jump.
	steep := lightFrom(60, 9, func(x, _ int) uint16 { return uint16(20000 + x/30*20000) })
	all := applied(t, Tone{Sharpen: Sharpen{Radius: 0.2, Amount: 1}}, steep, 10).Row(4)
	some := applied(t, Tone{Sharpen: Sharpen{Radius: 0.2, Amount: 1, Threshold: 2}}, steep, 10).Row(4)
	for x := range all {
		require.LessOrEqual(t, math.Abs(float64(some[x])-float64(steep.Row(4)[x])), math.Abs(float64(all[x])-float64(steep.Row(4)[x])))
	}
	require.Less(t, some[29], uint16(17000))
}

// What is burned after the suggested sharpening: stripes two dots wide keep the
// contrast that the beam and the dots' squares take. A sine of that period is
// blurred and sharpened by formula.
func TestSuggestSharpen(t *testing.T) {
	for _, c := range []struct{ pitch, beam layout.MM }{{0.08, 0.08}, {0.08, 0.1}, {0.08, 0.16}, {0.1, 0.1}, {0.05, 0.1}, {0.05, 0}} {
		s, err := SuggestSharpen(c.pitch, c.beam)
		require.NoError(t, err)
		require.NoError(t, s.Validate())
		require.GreaterOrEqual(t, s.Radius, c.pitch)
		require.GreaterOrEqual(t, s.Radius, c.beam/2)
		f := 2 * math.Pi / (4 * float64(c.pitch))
		gauss := func(sigma float64) float64 { return math.Exp(-sigma * sigma * f * f / 2) }
		square := math.Sin(f*float64(c.pitch)/2) / (f * float64(c.pitch) / 2)
		contrast := (1 + s.Amount*(1-gauss(float64(s.Radius)))) * gauss(float64(c.beam)/4) * square
		if s.Amount == 2 {
			require.Less(t, contrast, 1.0)
			continue
		}
		require.InDelta(t, 1, contrast, 0.01, "pitch %v, beam %v: %+v", c.pitch, c.beam, s)
	}
	wide, err := SuggestSharpen(0.05, 0.3)
	require.NoError(t, err)
	require.Equal(t, Sharpen{Radius: 0.15, Amount: 2, Threshold: 1}, wide)
	for _, c := range []struct {
		pitch, beam layout.MM
		want        string
	}{
		{0, 0.1, "pitch 0 mm is outside 0.01 to 1"},
		{layout.MM(math.NaN()), 0.1, "pitch NaN mm"},
		{0.1, -1, "beam width -1 mm is outside 0 to 4"},
		{0.1, layout.MM(math.Inf(1)), "beam width +Inf"},
	} {
		_, err := SuggestSharpen(c.pitch, c.beam)
		require.ErrorContains(t, err, c.want)
	}
}
