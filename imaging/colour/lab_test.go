package colour_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
)

func TestLabAgainstPublishedValues(t *testing.T) {
	// Source: CIE 15 formula; values read in colour-science/colour,
	// models/tests/test_cie_lab.py.
	for _, c := range []struct {
		xyz  colour.XYZ
		want colour.Lab
	}{
		{colour.XYZ{X: .20654008, Y: .12197225, Z: .05136952}, colour.Lab{L: 41.52787529, A: 52.63858304, B: 26.92317922}},
		{colour.XYZ{X: .14222010, Y: .23042768, Z: .10495772}, colour.Lab{L: 55.11636304, A: -41.08791787, B: 30.91825778}},
		{colour.XYZ{X: .07818780, Y: .06157201, Z: .28099326}, colour.Lab{L: 29.80565520, A: 20.01830466, B: -48.34913874}},
	} {
		got := c.xyz.Lab()
		require.InDelta(t, c.want.L, got.L, 1e-7)
		require.InDelta(t, c.want.A, got.A, 1e-7)
		require.InDelta(t, c.want.B, got.B, 1e-7)
	}
}

func TestPrimariesAgainstPublishedLab(t *testing.T) {
	// Source: go-colorful, colors_test.go (its values times 100; white .95047 1 1.08883,
	// hence the tolerance).
	for _, c := range []struct {
		rgb  colour.Linear
		want colour.Lab
	}{
		{colour.Linear{R: 1}, colour.Lab{L: 53.2408, A: 80.0925, B: 67.2032}},
		{colour.Linear{G: 1}, colour.Lab{L: 87.7347, A: -86.1827, B: 83.1793}},
		{colour.Linear{B: 1}, colour.Lab{L: 32.2970, A: 79.1875, B: -107.8602}},
	} {
		got := c.rgb.Lab()
		require.InDelta(t, c.want.L, got.L, 0.02)
		require.InDelta(t, c.want.A, got.A, 0.02)
		require.InDelta(t, c.want.B, got.B, 0.02)
	}
}

func TestMatrixAgainstTheStandard(t *testing.T) {
	// Source: IEC 61966-2-1:1999, forward matrix to four decimals.
	want := [3][3]float64{{.4124, .3576, .1805}, {.2126, .7152, .0722}, {.0193, .1192, .9505}}
	for i, rgb := range []colour.Linear{{R: 1}, {G: 1}, {B: 1}} {
		got := rgb.XYZ()
		require.InDelta(t, want[0][i], got.X, 1e-3)
		require.InDelta(t, want[1][i], got.Y, 1e-3)
		require.InDelta(t, want[2][i], got.Z, 1e-3)
	}
	w := colour.Linear{R: 1, G: 1, B: 1}.XYZ()
	// Source: D65 as published with the same chromaticity.
	require.InDelta(t, 0.95045593, w.X, 1e-8)
	require.InDelta(t, 1, w.Y, 1e-12)
	require.InDelta(t, 1.08905775, w.Z, 1e-8)
}

func TestLightness(t *testing.T) {
	// Source: CIE 15 formula; values derived from it. The last is where its branches meet.
	for y, want := range map[float64]float64{
		.18: 49.496108, .184186518: 50, .5: 76.069261, .01: 8.991442, .001: 0.903296, 216.0 / 24389: 8,
	} {
		require.InDelta(t, want, colour.LStar(y), 1e-6)
		require.InDelta(t, y, colour.FromLStar(colour.LStar(y)), 1e-12)
	}
}

func TestLabRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.Float64Range(0, 1)
		c := colour.Linear{R: unit.Draw(t, "r"), G: unit.Draw(t, "g"), B: unit.Draw(t, "b")}
		back := c.Lab().Linear()
		require.InDelta(t, c.R, back.R, 1e-12)
		require.InDelta(t, c.G, back.G, 1e-12)
		require.InDelta(t, c.B, back.B, 1e-12)
	})
}

func TestCIEDE2000AgainstThePaper(t *testing.T) {
	// Source: Sharma, Wu and Dalal, Color Research and Application 30(1), 2005, table 1;
	// all 34 pairs, in both orders.
	pairs := rows(t, "../../testdata/published/ciede2000.csv")
	require.Len(t, pairs, 34)
	for _, row := range pairs {
		v := make([]float64, 8)
		for i := range v {
			v[i] = number(t, row[i])
		}
		p, q := colour.Lab{L: v[1], A: v[2], B: v[3]}, colour.Lab{L: v[4], A: v[5], B: v[6]}
		require.InDelta(t, v[7], colour.DE2000(p, q), 1e-4, "pair %s", row[0])
		require.InDelta(t, v[7], colour.DE2000(q, p), 1e-4, "pair %s turned round", row[0])
	}
}

func BenchmarkDE2000(b *testing.B) {
	p, q := colour.Lab{L: 50, A: 2.7, B: -79.8}, colour.Lab{L: 50, B: -82.7}
	for b.Loop() {
		colour.DE2000(p, q)
	}
}
