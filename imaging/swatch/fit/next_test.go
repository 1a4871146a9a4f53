package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/mat"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
)

// knownAtTruth is how tightly a chart of these swatches knows the break-throughs, as
// the mean standard error of their logarithms, where the model stands at the truth.
func (w *world) knownAtTruth(t testing.TB, all []burn.Setting) float64 {
	t.Helper()
	r := w.read(t, rand.New(rand.NewPCG(1, 1)), 0.01, 0.02, all...)
	in, err := gather(context.Background(), []swatch.Readings{r}, w.stack, Options{})
	require.NoError(t, err)
	p, x, err := in.problem(parameters{coats: len(w.doses)})
	require.NoError(t, err)
	for i, s := range w.stack.Curve.Spread {
		x[p.spread(i)] = math.Log(s)
	}
	normal := mat.NewSymDense(p.count(), nil)
	p.slope(x, normal, make([]float64, p.count()))
	f := &fitted{problem: p}
	return math.Exp(-f.knownOfBreaks(normal) / float64(2*p.coats))
}

// The proposed swatches must tell more than as many set evenly into the gaps of the
// chart, although they are chosen from the coarse chart and judged at the truth.
func TestNextSwatchesTellMost(t *testing.T) {
	const worlds = 24
	better, sum := 0, 0.0
	for seed := range uint64(worlds) {
		random := rand.New(rand.NewPCG(33, seed))
		w := anyWorld(t, random, 3)
		first := powers(6, 60, 9)
		got := fitOf(t, w.guess(random), w.read(t, random, 0.5, 1, settings(25, 0.08, 1, first...)...))
		require.Len(t, got.Next, 5)
		seen := map[float64]bool{}
		for _, s := range got.Next {
			require.NotContains(t, first, s.PowerPercent)
			require.False(t, seen[s.PowerPercent])
			seen[s.PowerPercent] = true
			require.Equal(t, burn.Setting{PowerPercent: s.PowerPercent, Speed: 25, Pitch: 0.08, Passes: 1}, s)
		}
		chart := settings(25, 0.08, 1, first...)
		proposed := w.knownAtTruth(t, append(chart[:len(chart):len(chart)], got.Next...))
		even := w.knownAtTruth(t, append(chart[:len(chart):len(chart)], settings(25, 0.08, 1, 10.5, 19.5, 28.5, 37.5, 46.5)...))
		sum += math.Log(proposed / even)
		better += one(proposed < even)
	}
	t.Logf("better in %d of %d worlds; standard errors %.2f of those of an even chart", better, worlds, math.Exp(sum/worlds))
	require.GreaterOrEqual(t, better, 18)
	require.Less(t, math.Exp(sum/worlds), 0.95)
}
