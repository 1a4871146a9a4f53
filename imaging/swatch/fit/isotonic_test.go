package fit

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestIsotonicAgainstPublishedValues(t *testing.T) {
	a, b := 25.0/6, 20.0/3
	for _, c := range []struct {
		name             string
		y, weights, want []float64
	}{
		// Source: F. M. T. A. Busing, "Monotone regression: a simple and fast O(n)
		// PAVA implementation", J. Stat. Softw. 102(1), 2022.
		{"pooled to one level", []float64{8, 4, 8, 2, 2, 0, 8}, nil, []float64{4, 4, 4, 4, 4, 4, 8}},
		// Source: SciPy, test_isotonic_regression.py, for this and the next.
		{"three levels", []float64{0, 6, 8, 3, 5, 2, 1, 7, 9, 4}, nil, []float64{0, a, a, a, a, a, a, b, b, b}},
		{"weighted", []float64{3, 2, 1, 10, 9, 8, 20, 10}, []float64{1, 2, 5, .5, .5, .5, 1, 3},
			[]float64{1.5, 1.5, 1.5, 9, 9, 9, 12.5, 12.5}},
		{"empty", nil, nil, []float64{}},
		{"one", []float64{3}, nil, []float64{3}},
	} {
		t.Run(c.name, func(t *testing.T) {
			require.InDeltaSlice(t, c.want, isotonic(c.y, c.weights), 1e-12)
		})
	}
}

func TestIsotonicNeverFallsAndKeepsTheSum(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.SliceOfN(rapid.Float64Range(-100, 100), 1, 40).Draw(t, "y")
		level := isotonic(y, nil)
		require.Len(t, level, len(y))
		was, is := 0.0, 0.0
		for i := range y {
			was, is = was+y[i], is+level[i]
			if i > 0 {
				require.GreaterOrEqual(t, level[i], level[i-1])
			}
		}
		require.InDelta(t, was, is, 1e-9)
	})
}
