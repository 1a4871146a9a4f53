package picture

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestOneWeightMovesAndTheOthersShareTheRest(t *testing.T) {
	require.Equal(t, 0.7152, Mix{}.Weight(Green))
	m := Mix{}.WithWeight(Red, 0.6)
	require.InDelta(t, 0.6, m.R, 1e-12)
	require.InDelta(t, 0.7152/0.0722, m.G/m.B, 1e-9, "as they did")
	require.Equal(t, Mix{R: 0.2, G: 0.4, B: 0.4}, Mix{R: 1}.WithWeight(Red, 0.2))
}

func TestAMixWithAWeightSetIsAMix(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Mix{}
		for range rapid.IntRange(1, 5).Draw(t, "moves") {
			c := Channel(rapid.IntRange(0, 2).Draw(t, "channel"))
			v := rapid.Float64Range(0, 1).Draw(t, "weight")
			m = m.WithWeight(c, v)
			require.Equal(t, v, m.Weight(c))
			require.NoError(t, m.Validate())
		}
	})
}
