package screen

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
)

// Source: Bayer 1973; the file says how it was made.
func TestBayerMatrices(t *testing.T) {
	rows := map[int]int{}
	for _, row := range numberRows(t, "screen_bayer.csv") {
		n, y := number(t, row[0]), number(t, row[1])
		require.Len(t, row[2:], n)
		for x, text := range row[2:] {
			require.Equal(t, number(t, text), bayerRank(n, x, y), "%d x %d at %d,%d", n, n, x, y)
		}
		rows[n]++
	}
	require.Equal(t, map[int]int{2: 2, 4: 4, 8: 8, 16: 16}, rows)
}

func TestBayerIsItsOwnQuarter(t *testing.T) {
	for _, n := range []int{2, 4, 8, 16} {
		ranks := make([]int, 0, n*n)
		for y := range n {
			for x := range n {
				rank := bayerRank(n, x, y)
				ranks = append(ranks, rank)
				part := [2][2]int{{0, 2}, {3, 1}}[2*y/n][2*x/n]
				require.Equal(t, 4*bayerRank(n/2, x%(n/2), y%(n/2))+part, rank)
			}
		}
		slices.Sort(ranks)
		for i, r := range ranks {
			require.Equal(t, i, r, "each rank of %d x %d once", n, n)
		}
	}
}

// burnedOf counts the dots of an even tint in a raster.
func burnedOf(t testing.TB, tint uint16, w, h int, o Options) int {
	s, err := New(w, o)
	require.NoError(t, err)
	tints, dots := make([]uint16, w), make([]byte, (w+7)/8)
	for x := range tints {
		tints[x] = tint
	}
	n := 0
	for range h {
		s.Row(tints, dots)
		n += burnedIn(dots)
	}
	return n
}

// Left plain, k of n^2 burns exactly k dots of each tile.
func TestPlainBayerBurnsAsManyDots(t *testing.T) {
	for _, n := range []int{2, 4, 8, 16} {
		for k := range n*n + 1 {
			tint := uint16(math.Round(float64(k) / float64(n*n) * 65535))
			require.Equal(t, k, burnedOf(t, tint, n, n, Options{Kind: Bayer, Matrix: n, Plain: true}), "%d of %d", k, n*n)
		}
	}
}

// The tiles take turns, but none is more than one dot from the next.
func TestBayerTilesKeepStep(t *testing.T) {
	const n, tint = 4, 20000
	s, err := New(n*maskSize, Options{Kind: Bayer, Matrix: n})
	require.NoError(t, err)
	tints, dots := make([]uint16, n*maskSize), make([]byte, n*maskSize/8)
	for x := range tints {
		tints[x] = tint
	}
	perTile := make([]int, maskSize)
	for range n {
		s.Row(tints, dots)
		for i := range perTile {
			perTile[i] += burnedIn([]byte{dots[i/2] << (4 * (i % 2)) & 0xf0})
		}
	}
	require.Equal(t, 4, slices.Min(perTile), "20000/65535 of 16 dots is 4.9")
	require.Equal(t, 5, slices.Max(perTile))
}

// levels counts the thresholds that each level of places burns.
func levels(t *testing.T, thresholds []uint16) {
	t.Helper()
	sorted := slices.Clone(thresholds)
	slices.Sort(sorted)
	require.NotZero(t, sorted[0], "a tint of 0 never burns")
	places := len(sorted)
	for k := range places + 1 {
		tint := uint16(math.Round(float64(k) / float64(places) * 65535))
		burned, _ := slices.BinarySearch(sorted, tint+1)
		if k == places {
			burned = places // tint+1 has come round to 0; no threshold is higher than 65535
		}
		if burned != k {
			require.Equal(t, k, burned, "level %d of %d", k, places)
		}
	}
}

func TestEveryLevelBurnsAsManyDots(t *testing.T) {
	t.Run("blue noise", func(t *testing.T) {
		s := newBlueNoise(0, Options{Seed: 5}).(*ordered)
		levels(t, s.grid.(*tile).thresholds)
	})
	for _, key := range []clusterKey{{6, 0, Round}, {6.25, 45, Round}, {5, 45, Line}, {11.3, 75, Round}, {2, 0, Round}} {
		t.Run(fmt.Sprint(key), func(t *testing.T) {
			levels(t, newClusterTile(key).thresholds)
		})
	}
}

func TestThresholdIsAtHalf(t *testing.T) {
	for tint, want := range map[uint16]int{0: 0, 1: 0, 32767: 0, 32768: 64, 65535: 64} {
		require.Equal(t, want, burnedOf(t, tint, 8, 8, Options{Kind: Threshold}), "tint %d", tint)
	}
}

// A screen of fewer dots is part of one of more: a lighter tint never burns what a
// darker one leaves.
func TestOrderedScreensOnlyGrow(t *testing.T) {
	for _, o := range []Options{{Kind: BlueNoise}, {Kind: Bayer, Matrix: 4}, {Kind: Clustered, AngleDegrees: 30}, {Kind: Clustered, Spot: Line}, {Kind: Threshold}} {
		t.Run(string(o.Kind+" ")+string(o.Spot), func(t *testing.T) {
			last := make([]byte, 32)
			for tint := 0; tint <= 65535; tint += 1285 {
				s, err := New(8*len(last), o)
				require.NoError(t, err)
				tints, dots := make([]uint16, 8*len(last)), make([]byte, len(last))
				for x := range tints {
					tints[x] = uint16(tint)
				}
				for range 3 {
					s.Row(tints, dots)
				}
				for i, b := range last {
					require.Zero(t, b&^dots[i], "tint %d", tint)
				}
				last = dots
			}
		})
	}
}
