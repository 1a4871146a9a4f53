package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestTravelAddsTheRunUpAtBothEnds(t *testing.T) {
	travel := Travel(Grid{Cols: 4000, Rows: 3000, Pitch: 0.1}, 5)
	require.InDelta(t, 410, float64(travel.W), 1e-9)
	require.InDelta(t, 300, float64(travel.H), 1e-9)
}
