package picture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/colour"
)

func table(t require.TestingT, tone Tone) *[65536]uint16 {
	out, err := tone.Table()
	require.NoError(t, err)
	return out
}

func TestNoToneChangesNothing(t *testing.T) {
	for v, l := range table(t, Tone{}) {
		require.EqualValues(t, v, l)
	}
}

// A tone too small to see must not step away from none: the way through
// lightness loses at most two steps of 65535.
func TestHardlyAnyToneChangesHardlyAnything(t *testing.T) {
	for v, l := range table(t, Tone{Mid: 1e-7}) {
		require.InDelta(t, v, l, 2)
	}
}

func TestATableNeverFallsAndKeepsItsEnds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tone := Tone{Mid: rapid.Float64Range(-1, 1).Draw(t, "mid"), Contrast: rapid.Float64Range(-1, 1).Draw(t, "contrast")}
		curve := table(t, tone)
		require.Zero(t, curve[0])
		require.EqualValues(t, 65535, curve[65535])
		for v := 1; v < len(curve); v++ {
			if curve[v] < curve[v-1] {
				require.GreaterOrEqual(t, curve[v], curve[v-1], "at %d", v)
			}
		}
	})
}

// at is where a lightness of 0..100 goes.
func at(t *testing.T, tone Tone, lightness float64) float64 {
	v := table(t, tone)[int(math.Round(colour.FromLStar(lightness)*65535))]
	return colour.LStar(float64(v) / 65535)
}

// The values follow from the curves' formulas: a gamma of two to the Mid, and the
// sigmoid 1/(1+exp(8(0.5-x))) brought to the ends 0 and 1.
func TestToneMovesLightnessAsItSays(t *testing.T) {
	sigmoid := func(x float64) float64 { return 1 / (1 + math.Exp(8*(0.5-x))) }
	steep := (sigmoid(0.3) - sigmoid(0)) / (sigmoid(1) - sigmoid(0)) * 100
	for _, c := range []struct {
		name     string
		tone     Tone
		from, to float64
	}{
		{"lighter", Tone{Mid: 1}, 50, 100 * math.Sqrt(0.5)},
		{"darker", Tone{Mid: -1}, 50, 25},
		{"half lighter", Tone{Mid: 0.5}, 30, 100 * math.Pow(0.3, math.Exp2(-0.5))},
		{"contrast about the middle", Tone{Contrast: 1}, 50, 50},
		{"contrast darkens the dark", Tone{Contrast: 1}, 30, steep},
		{"contrast lightens the light", Tone{Contrast: 1}, 70, 100 - steep},
		{"half the contrast", Tone{Contrast: 0.5}, 30, (30 + steep) / 2},
		{"flatter undoes steeper", Tone{Contrast: -1}, steep, 30},
	} {
		t.Run(c.name, func(t *testing.T) { require.InDelta(t, c.to, at(t, c.tone, c.from), 0.02) })
	}
}

func TestToneRefuses(t *testing.T) {
	for _, tone := range []Tone{{Mid: 1.01}, {Mid: math.NaN()}, {Contrast: -2}, {Contrast: math.Inf(1)}} {
		_, err := tone.Table()
		require.ErrorContains(t, err, "is outside -1..1")
	}
}
