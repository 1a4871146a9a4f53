package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// By hand: x from -140 to 120 and y from -75 to 95.
func TestWalk(t *testing.T) {
	pl, err := Place(Panel{Kind: Board, Size: Size{300, 200}}, Border{Left: 10, Right: 30, Top: 5, Bottom: 25}, 0.1)
	require.NoError(t, err)
	stops := pl.Walk()
	want := []Stop{
		{SpotCentre, Point{-10, 10}, 0},
		{SpotUpperLeft, Point{-140, 95}, 5}, {SpotTop, Point{-10, 95}, 5},
		{SpotUpperRight, Point{120, 95}, 5}, {SpotRight, Point{120, 10}, 30},
		{SpotLowerRight, Point{120, -75}, 25}, {SpotBottom, Point{-10, -75}, 25},
		{SpotLowerLeft, Point{-140, -75}, 10}, {SpotLeft, Point{-140, 10}, 10},
		{SpotUpperLeft, Point{-140, 95}, 5}, {SpotCentre, Point{-10, 10}, 0},
	}
	require.Len(t, stops, len(want))
	for i, stop := range stops {
		require.Equal(t, want[i].Spot, stop.Spot)
		requirePoint(t, want[i].At, stop.At, 1e-9)
		require.InDelta(t, float64(want[i].Beside), float64(stop.Beside), 1e-9)
		if i > 0 {
			last := stops[i-1].At
			straight := i == 1 || i == len(stops)-1 || stop.At.X == last.X || stop.At.Y == last.Y
			require.True(t, straight, "the head goes along the outline")
		}
	}
	require.Contains(t, WalkCautions()[0], "eyewear")
	require.Contains(t, WalkCautions()[0], "maker's own way")
}
