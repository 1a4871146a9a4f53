package coat_test

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

func coatNames(s coat.Stack) string {
	var names []string
	for _, c := range s.Coats {
		names = append(names, c.Name)
	}
	return strings.Join(names, " ")
}

// fourCoats is a measured stack.
func fourCoats() coat.Stack {
	s := coat.Stack{Name: "measured", Ground: coat.Ground{Name: "white ground", Colour: colour.Stored{R: 240, G: 240, B: 240}}}
	for i, name := range []string{"a", "b", "c", "d"} {
		s.Coats = append(s.Coats, coat.Coat{Name: name, Colour: colour.Stored{R: uint8(60 * i)}, ThicknessUM: float64(10 + i)})
	}
	s.Curve = coat.Curve{
		Calibrated: true,
		Points:     []coat.Point{{DoseJCM2: 10}, {DoseJCM2: 100, DepthUM: 60}},
		Spread:     []float64{0.1, 0.2, 0.3, 0.4}, BreakThroughSD: []float64{0.01, 0.02, 0.03, 0.04},
		Origin: &coat.Origin{},
	}
	return s
}

func TestCoatsInAnotherOrder(t *testing.T) {
	for _, tt := range []struct {
		from, to int
		want     string
	}{
		{0, 1, "b a c d"}, {0, 3, "b c d a"}, {3, 0, "d a b c"}, {2, 1, "a c b d"}, {1, 2, "a c b d"},
	} {
		s := fourCoats()
		moved, err := s.WithMoved(tt.from, tt.to)
		require.NoError(t, err)
		require.Equal(t, tt.want, coatNames(moved), "from %d to %d", tt.from, tt.to)
		require.Equal(t, fourCoats(), s, "the stack itself stays")
		require.Equal(t, s.Curve.Points, moved.Curve.Points)
		require.Equal(t, s.Curve.Spread, moved.Curve.Spread)
		require.False(t, moved.Curve.Calibrated, "nobody has burned this order")
		require.Nil(t, moved.Curve.BreakThroughSD)
		require.Nil(t, moved.Curve.Origin)
		require.Equal(t, strings.ReplaceAll(tt.want, " ", ", ")+" over white ground", moved.Name)
	}
	same, err := fourCoats().WithMoved(2, 2)
	require.NoError(t, err)
	require.Equal(t, fourCoats(), same)
}

func TestPlacesThatAreNotInTheStack(t *testing.T) {
	for _, places := range [][2]int{{-1, 0}, {4, 0}, {0, 4}, {0, -1}} {
		_, err := fourCoats().WithMoved(places[0], places[1])
		require.ErrorContains(t, err, "choose 0 to 3, from the top down")
	}
}

func TestAStackOfLongNamesIsNamedAsFarAsItGoes(t *testing.T) {
	s := fourCoats()
	for i := range s.Coats {
		s.Coats[i].Name = strings.Repeat("ä", 80) // 160 bytes
	}
	moved, err := s.WithMoved(0, 1)
	require.NoError(t, err)
	require.True(t, strings.HasPrefix(moved.Name, "ää"))
}
