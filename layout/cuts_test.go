package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestCutsGoToBlankRows(t *testing.T) {
	blank := func(from, to int) func(int) float64 {
		return func(row int) float64 {
			if row >= from && row < to {
				return 0
			}
			return 100
		}
	}
	for _, test := range []struct {
		name    string
		n       int
		count   int
		longest int
		window  MM
		cost    func(int) float64
		want    []int
	}{
		{"no cost, even", 1000, 2, 700, 20, nil, []int{500}},
		{"even in three", 1000, 3, 700, 20, nil, []int{333, 666}},
		{"into the blank band, at its nearest inner row", 1000, 2, 700, 20, blank(550, 580), []int{551}},
		{"a single blank row: on its near side", 1000, 2, 700, 20, blank(450, 451), []int{451}},
		{"blank rows out of the window do not count", 1000, 2, 700, 2, blank(550, 580), []int{500}},
		{"as far as the bed allows", 1000, 2, 520, 20, blank(550, 580), []int{500}},
		{"no choice", 1000, 2, 500, 20, blank(505, 510), []int{500}},
		{"the default window is 20 mm", 1000, 2, 900, 0, blank(690, 700), []int{691}},
		{"and no more", 1000, 2, 900, 0, blank(702, 710), []int{500}},
		{"one part has no cut", 10, 1, 10, 20, nil, nil},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := Cuts{Window: test.window}.choose(test.n, test.count, test.longest, 0.1, test.cost)
			require.NoError(t, err)
			require.Equal(t, test.want, got)
		})
	}
}

// All cuts that are allowed are tried, and none is better than those chosen.
func TestCutsAreTheBest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		count := rapid.IntRange(2, 4).Draw(t, "count")
		n := rapid.IntRange(count, 40).Draw(t, "n")
		longest := rapid.IntRange((n+count-1)/count, n).Draw(t, "longest")
		window := rapid.IntRange(1, 20).Draw(t, "window")
		prices := rapid.SliceOfN(rapid.IntRange(0, 4), n, n).Draw(t, "prices")
		cost := func(row int) float64 { return float64(prices[row]) }

		got, err := Cuts{Window: MM(window)}.choose(n, count, longest, 1, cost)
		require.NoError(t, err)
		require.Len(t, got, count-1)
		value := func(cuts []int) (float64, int, bool) {
			price, stray, last := 0.0, 0, 0
			for k, at := range append(append([]int(nil), cuts...), n) {
				if at <= last || at-last > longest {
					return 0, 0, false
				}
				if last = at; k == len(cuts) {
					break
				}
				off := abs(at - n*(k+1)/count)
				if off > window || off > (n/count-1)/2 {
					return 0, 0, false
				}
				price += cost(at-1) + cost(at)
				stray += off
			}
			return price, stray, true
		}
		price, stray, ok := value(got)
		require.True(t, ok, "cuts %v are not allowed", got)
		bestPrice, bestStray := math.Inf(1), 0
		var try func(cuts []int)
		try = func(cuts []int) {
			if len(cuts) == count-1 {
				if p, s, ok := value(cuts); ok && (p < bestPrice || (p == bestPrice && s < bestStray)) {
					bestPrice, bestStray = p, s
				}
				return
			}
			for at := 1; at < n; at++ {
				try(append(append([]int(nil), cuts...), at))
			}
		}
		try(nil)
		require.Equal(t, bestPrice, price)
		require.Equal(t, bestStray, stray)
	})
}

func BenchmarkCuts(b *testing.B) {
	cost := func(row int) float64 { return float64(row * 7919 % 1000) }
	b.ReportAllocs()
	for b.Loop() {
		if _, err := (Cuts{Window: 100}).choose(125_000, 25, 5_500, 0.08, cost); err != nil {
			b.Fatal(err)
		}
	}
}
