package picture

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
)

// lightRamp has one pixel of each whole L*, 0..100.
func lightRamp() *plane.Grey16 {
	return lightFrom(101, 1, func(x, _ int) uint16 { return lightOf(float64(x) * perLStar) })
}

func TestClippedCountsWhatThePointsCutOff(t *testing.T) {
	for _, c := range []struct {
		tone      Tone
		low, high float64
	}{
		{Tone{}, 0, 0},
		{Tone{Black: 9.5}, 10, 0},
		{Tone{White: 95.5}, 0, 5},
		{Tone{Black: 49.5, White: 60.5}, 50, 40},
	} {
		low, high := c.tone.Clipped(lightRamp())
		require.InDelta(t, c.low/101, low, 1e-12)
		require.InDelta(t, c.high/101, high, 1e-12)
	}
	low, high := Tone{Black: 50}.Clipped(plane.NewGrey16(0, 0))
	require.Equal(t, [2]float64{0, 0}, [2]float64{low, high})
}

func TestPointsBecomeBlackAndWhite(t *testing.T) {
	tone := Tone{Black: 20, White: 80}
	for from, to := range map[float64]float64{0: 0, 20: 0, 50: 50, 35: 25, 80: 100, 100: 100} {
		require.InDelta(t, to, at(t, tone, from), 0.02)
	}
}

func TestSuggestPoints(t *testing.T) {
	black, white, err := SuggestPoints(lightRamp(), 0.05) // five pixels each side
	require.NoError(t, err)
	require.InDelta(t, 5, black, 0.11)
	require.InDelta(t, 95, white, 0.11)
	low, high := Tone{Black: black, White: white}.Clipped(lightRamp())
	require.LessOrEqual(t, low, 0.05)
	require.LessOrEqual(t, high, 0.05)
	require.NoError(t, Tone{Black: black, White: white}.Validate())

	black, white, err = SuggestPoints(lightFrom(7, 3, func(_, _ int) uint16 { return 9000 }), 0.01)
	require.NoError(t, err)
	require.Equal(t, [2]float64{0, 100}, [2]float64{black, white}, "nothing to stretch")
	black, white, err = SuggestPoints(plane.NewGrey16(0, 3), 0)
	require.NoError(t, err)
	require.Equal(t, [2]float64{0, 100}, [2]float64{black, white})
	for _, share := range []float64{-0.1, 0.2, math.NaN()} {
		_, _, err := SuggestPoints(lightRamp(), share)
		require.ErrorContains(t, err, "is outside 0 to 0.1")
	}
}

func TestPointsRefuse(t *testing.T) {
	for _, c := range []struct {
		tone Tone
		want string
	}{
		{Tone{Black: -1}, "black point -1 is outside 0 to 99"},
		{Tone{Black: math.NaN()}, "black point NaN"},
		{Tone{Black: 99.5}, "black point 99.5"},
		{Tone{Black: 50, White: 50.5}, "white point 50.5 is outside 51 to 100"},
		{Tone{White: 101}, "white point 101 is outside 1 to 100"},
		{Tone{White: math.Inf(1)}, "white point +Inf"},
	} {
		require.ErrorContains(t, c.tone.Validate(), c.want)
	}
}
