package picture

import (
	"context"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/layout"
)

// Source: the published algorithm in numpy 1.24.2; see the README beside local.csv.
func TestLocalContrastAgreesWithThePublishedAlgorithm(t *testing.T) {
	out := applied(t, Tone{Local: LocalContrast{Limit: 2.5, Tile: 32}}, toneScene(128, 96, 1), 1)
	most, mean := apart(toneGolden(t, "local.csv", 128, 96), out, 0, lstarOf)
	t.Logf("largest difference %.4f, mean %.5f of L*", most, mean)
	require.LessOrEqual(t, most, 0.01)
	require.LessOrEqual(t, mean, 0.001)
}

// Source: scikit-image 0.19.3, exposure.equalize_adapthist, after Zuiderveld's own
// code; see the README beside local_library.csv. It gives a bin the sum at the bin's
// upper edge, which is half of L* too light where the curve is steepest, and deals
// whole counts out.
func TestLocalContrastAgreesWithAnotherLibrary(t *testing.T) {
	light := toneScene(512, 384, 4)
	light.Pix[0], light.Pix[len(light.Pix)-1] = 0, full
	out := applied(t, Tone{Local: LocalContrast{Limit: 2.5, Tile: 128}}, light, 1)
	want := toneGolden(t, "local_library.csv", 64, 48)
	most, mean := 0.0, 0.0
	for i, l := range want {
		d := l - lstarOf(float64(out.Row(i / 64 * 8)[i%64*8]))
		most, mean = math.Max(most, math.Abs(d)), mean+d/float64(len(want))
	}
	t.Logf("largest difference %.2f, mean %.3f of L*", most, mean)
	require.LessOrEqual(t, most, 1.3)
	require.InDelta(t, 0.4, mean, 0.1)
}

func TestLocalContrastRaisesWhatIsFlat(t *testing.T) {
	// Faint waves on a dark half and on a bright half.
	light := lightFrom(200, 100, func(x, _ int) uint16 {
		return lightOf((30 + 40*float64(x/100) + 3*math.Sin(float64(x)*math.Pi/10)) * perLStar)
	})
	out := applied(t, Tone{Local: LocalContrast{Limit: 4, Tile: 25}}, light, 2)
	for _, x := range []int{45, 145} { // a crest; the next trough is 10 further
		before := lstarOf(float64(light.Row(50)[x])) - lstarOf(float64(light.Row(50)[x+10]))
		after := lstarOf(float64(out.Row(50)[x])) - lstarOf(float64(out.Row(50)[x+10]))
		require.InDelta(t, 6, before, 0.1)
		require.Greater(t, after, 2.5*before)
	}
}

// An even area stays even, black stays black, white white, and what is between
// moves by no more than it says.
func TestLocalContrastOnEvenAreas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Uint16().Draw(t, "light")
		c := LocalContrast{Limit: rapid.Float64Range(1, 10).Draw(t, "limit"), Tile: layout.MM(rapid.Float64Range(2, 40).Draw(t, "tile"))}
		w, h := rapid.IntRange(1, 80).Draw(t, "w"), rapid.IntRange(1, 80).Draw(t, "h")
		out := applied(t, Tone{Local: c}, lightFrom(w, h, func(_, _ int) uint16 { return v }), 2)
		for _, got := range out.Pix {
			require.Equal(t, out.Pix[0], got)
		}
		require.InDelta(t, lstarOf(float64(v)), lstarOf(float64(out.Pix[0])), (c.Limit-1)/1.28+0.001)
		if v == 0 || v == full {
			require.Equal(t, v, out.Pix[0])
		}
	})
}

// A tile's curve never falls and is nowhere steeper than the limit.
func TestLocalCurves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var counts [localBins]float64
		for range rapid.IntRange(1, 40).Draw(t, "bins") {
			counts[rapid.IntRange(0, localBins-1).Draw(t, "bin")] += rapid.Float64Range(1, 1000).Draw(t, "n")
		}
		limit := rapid.Float64Range(1, 10).Draw(t, "limit")
		curve := LocalContrast{Limit: limit}.curve(&counts)
		require.Zero(t, curve[0])
		require.EqualValues(t, 1, curve[localBins])
		for i := range localBins {
			rise := float64(curve[i+1] - curve[i])
			require.GreaterOrEqual(t, rise, 0.0)
			require.LessOrEqual(t, rise, limit/localBins+1e-6)
			if limit == 1 {
				require.InDelta(t, 1.0/localBins, rise, 1e-6)
			}
		}
	})
}

// Parts come out as in the whole, to the bit: what a place becomes is settled by
// the whole area.
func TestPartsAreToned(t *testing.T) {
	light := toneScene(128, 96, 1)
	tone := Tone{Local: LocalContrast{Limit: 3, Tile: 20}, Mid: 0.2}
	whole := applied(t, tone, light, 2)
	ready, err := tone.Ready(context.Background(), light, 2)
	require.NoError(t, err)
	part := lightFrom(40, 30, func(x, y int) uint16 { return light.Row(y + 50)[x+64] })
	got, err := ready.Apply(context.Background(), part, Part{PerMM: 2, Right: 32, Down: 25})
	require.NoError(t, err)
	for y := range 30 {
		require.Equal(t, whole.Row(y + 50)[64:104], got.Row(y))
	}

	_, err = tone.Ready(context.Background(), nil, 2)
	require.ErrorContains(t, err, "local contrast needs the picture")
	ready, err = Tone{Mid: 0.2}.Ready(context.Background(), nil, 2)
	require.NoError(t, err)
	for _, p := range []Part{{}, {PerMM: math.NaN()}, {PerMM: math.Inf(1)}, {PerMM: 1, Right: layout.MM(math.NaN())}, {PerMM: 1, Down: layout.MM(math.Inf(-1))}} {
		_, err := ready.Apply(context.Background(), part, p)
		require.Error(t, err, "%+v", p)
	}
}

func TestLocalContrastRefuses(t *testing.T) {
	for _, c := range []struct {
		local LocalContrast
		want  string
	}{
		{LocalContrast{Limit: 0.5, Tile: 20}, "local contrast 0.5 is outside 1 to 10"},
		{LocalContrast{Limit: math.NaN(), Tile: 20}, "local contrast NaN"},
		{LocalContrast{Limit: 2}, "tile 0 mm is outside 2 to 500 mm"},
		{LocalContrast{Limit: 2, Tile: layout.MM(math.NaN())}, "tile NaN mm"},
	} {
		require.ErrorContains(t, Tone{Local: c.local}.Validate(), c.want)
	}
}
