package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// By hand: a border of 3 mm all round.
func TestSlipped(t *testing.T) {
	pl := placed(t, 306, 206, 3, 0.1)
	for _, test := range []struct {
		name        string
		slip        Slip
		least, most Border
		uneven      Uneven
		words       string
	}{
		{"in its place", Slip{}, Even(3), Even(3), Uneven{Of: 3},
			"leaves 3 mm left, 3 mm right, 3 mm top and 3 mm bottom: not visible from 2 m"},
		{"2 mm to the left", Slip{X: -2}, Border{1, 5, 3, 3}, Border{1, 5, 3, 3}, Uneven{By: 4, Of: 3},
			"leaves 1 mm left, 5 mm right, 3 mm top and 3 mm bottom: visible from 2 m"},
		{"1 mm up", Slip{Y: 1}, Border{3, 3, 2, 4}, Border{3, 3, 2, 4}, Uneven{By: 2, Of: 3},
			"leaves 3 mm left, 3 mm right, 2 mm top and 4 mm bottom: visible from 2 m"},
		{"0.1 mm", Slip{X: 0.1}, Border{3.1, 2.9, 3, 3}, Border{3.1, 2.9, 3, 3}, Uneven{By: 0.2, Of: 3},
			"leaves 3.1 mm left, 2.9 mm right, 3 mm top and 3 mm bottom: not visible from 2 m"},
		{"off the panel", Slip{X: 5}, Border{8, -2, 3, 3}, Border{8, -2, 3, 3}, Uneven{By: 10, Of: 3},
			"leaves 8 mm left, -2 mm right, 3 mm top and 3 mm bottom: it reaches past the panel's right side"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := pl.Slipped(test.slip)
			require.NoError(t, err)
			require.InDeltaSlice(t, sides(test.least), sides(got.Least), 1e-9)
			require.InDeltaSlice(t, sides(test.most), sides(got.Most), 1e-9)
			require.InDelta(t, float64(test.uneven.By), float64(got.Uneven.By), 1e-9)
			require.InDelta(t, float64(test.uneven.Of), float64(got.Uneven.Of), 1e-9)
			require.Equal(t, test.words, got.Words(2000))
		})
	}
}

// By hand, to first order: half a degree over 300 mm is 2.618 mm, half of it to
// each side of the middle.
func TestSlippedByATurn(t *testing.T) {
	pl := placed(t, 306, 206, 3, 0.1)
	got, err := pl.Slipped(Slip{Degrees: 0.5})
	require.NoError(t, err)
	swing := 150 * math.Sin(0.5*math.Pi/180)
	require.InDelta(t, 3-swing, float64(got.Least.Top), 0.01)
	require.InDelta(t, 3+swing, float64(got.Most.Top), 0.01)
	require.InDelta(t, 2*swing, float64(got.Uneven.By), 0.01, "the two ends of the top side")
	require.Empty(t, got.OverEdge())
	require.Contains(t, got.Words(2000), "1.69 to 4.31 mm top")

	got, err = pl.Slipped(Slip{Degrees: 1.5})
	require.NoError(t, err)
	require.Equal(t, []Side{TopSide, BottomSide}, got.OverEdge())
}

func TestABorderMeantToBeUnevenCountsAsEven(t *testing.T) {
	pl, err := Place(Panel{Kind: Board, Size: Size{300, 200}}, Border{Left: 5, Right: 5, Top: 5, Bottom: 25}, 0.1)
	require.NoError(t, err)
	got, err := pl.Slipped(Slip{})
	require.NoError(t, err)
	require.InDelta(t, 0, float64(got.Uneven.By), 1e-9)
	require.False(t, got.Uneven.Shows(500))
}

func TestSlippedProperties(t *testing.T) {
	pl := placed(t, 306, 206, 3, 0.1)
	rapid.Check(t, func(t *rapid.T) {
		s := Slip{
			X: MM(rapid.Float64Range(-20, 20).Draw(t, "x")), Y: MM(rapid.Float64Range(-20, 20).Draw(t, "y")),
			Degrees: rapid.Float64Range(-20, 20).Draw(t, "degrees"),
		}
		got, err := pl.Slipped(s)
		require.NoError(t, err)
		back, err := pl.Slipped(Slip{-s.X, -s.Y, s.Degrees})
		require.NoError(t, err)
		require.InDelta(t, float64(got.Least.Left), float64(back.Least.Right), 1e-9, "half a turn of everything")
		require.InDelta(t, float64(got.Most.Top), float64(back.Most.Bottom), 1e-9)
		require.InDelta(t, float64(got.Uneven.By), float64(back.Uneven.By), 1e-9)
		for i, least := range sides(got.Least) {
			require.LessOrEqual(t, least, sides(got.Most)[i])
		}
	})
}

func TestSlipRefuses(t *testing.T) {
	pl, nan := placed(t, 306, 206, 3, 0.1), math.NaN()
	for name, slip := range map[string]Slip{
		"x NaN": {X: MM(nan)}, "y infinite": {Y: MM(math.Inf(1))}, "turn NaN": {Degrees: nan}, "turn": {Degrees: 46}, "x": {X: -10001},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := pl.Slipped(slip)
			requireSentence(t, err)
		})
	}
}
