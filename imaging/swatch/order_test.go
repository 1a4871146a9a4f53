package swatch

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestSpreadOutKeepsNeighboursApart(t *testing.T) {
	for _, tc := range []struct{ n, cols, apart int }{
		{12, 4, 3}, {20, 5, 4}, {30, 6, 7}, {60, 10, 10}, {61, 10, 10}, {120, 12, 11},
	} {
		ranks := spreadOut(tc.n, tc.cols)
		sorted := slices.Sorted(slices.Values(ranks))
		for i, r := range sorted {
			require.Equal(t, i, r, "each rank once")
		}
		least := tc.n
		for i, r := range ranks {
			if (i+1)%tc.cols != 0 && i+1 < tc.n {
				least = min(least, max(r-ranks[i+1], ranks[i+1]-r))
			}
			if i+tc.cols < tc.n {
				least = min(least, max(r-ranks[i+tc.cols], ranks[i+tc.cols]-r))
			}
		}
		t.Logf("%d swatches in %d columns: neighbours at least %d ranks apart", tc.n, tc.cols, least)
		require.GreaterOrEqual(t, least, tc.apart)
	}
}

func TestSpreadOutOfFew(t *testing.T) {
	require.Equal(t, []int{}, spreadOut(0, 1))
	require.Equal(t, []int{0}, spreadOut(1, 1))
	require.ElementsMatch(t, []int{0, 1}, spreadOut(2, 2))
	require.ElementsMatch(t, []int{0, 1, 2}, spreadOut(3, 3))
}

func TestPlaceName(t *testing.T) {
	for _, tc := range []struct {
		row, col int
		want     string
	}{{0, 0, "A1"}, {1, 2, "B3"}, {25, 9, "Z10"}, {26, 0, "AA1"}, {51, 0, "AZ1"}, {52, 0, "BA1"}, {701, 0, "ZZ1"}, {702, 0, "AAA1"}} {
		require.Equal(t, tc.want, placeName(tc.row, tc.col))
	}
}
