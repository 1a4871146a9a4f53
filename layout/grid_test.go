package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestGridOfSmallAreas(t *testing.T) {
	grid, err := Area{Size: Size{0.01, 0.3}}.Grid(1)
	require.NoError(t, err)
	require.Equal(t, Grid{Cols: 1, Rows: 1, Pitch: 1}, grid)
	require.Equal(t, Size{1, 1}, grid.Size())
	_, err = Area{}.Grid(0.1)
	requireSentence(t, err)
}

func TestGridAtTheLimit(t *testing.T) {
	grid, err := Area{Size: Size{200, 200}}.Grid(0.01)
	require.NoError(t, err)
	require.EqualValues(t, MaxDots, grid.Dots())
	_, err = Area{Size: Size{200.01, 200}}.Grid(0.01)
	require.ErrorContains(t, err, "choose a pitch of 0.02 mm or more")
}

// The pitch a refusal names can be used, and a hundredth less could not.
func TestGridNamesAPitchThatWorks(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(250, float64(MaxLength))
		size := Size{MM(side.Draw(t, "w")), MM(side.Draw(t, "h"))}
		pitch := size.finestPitch()
		_, err := Area{Size: size}.Grid(pitch)
		require.NoError(t, err)
		_, err = Area{Size: size}.Grid(pitch - 0.01)
		require.Error(t, err)
	})
}
