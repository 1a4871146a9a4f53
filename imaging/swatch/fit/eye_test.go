package fit

import (
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/swatch"
)

// words is what an eye would call a swatch: by the shares of area, judged as if the
// dose were off by a few percent.
func (w *world) words(t testing.TB, random *rand.Rand, s burn.Setting) string {
	t.Helper()
	s.PowerPercent *= math.Exp(0.05 * random.NormFloat64())
	_, coverage := w.look(t, s)
	order := make([]int, len(coverage))
	for i := range order {
		order[i] = i
	}
	sort.Slice(order, func(i, j int) bool { return coverage[order[i]] > coverage[order[j]] })
	label := func(i int) string {
		if i == len(w.stack.Coats) {
			return "ground"
		}
		return w.stack.Coats[i].Name
	}
	first, second := order[0], order[1]
	switch {
	case coverage[first] > 0.85:
		return label(first)
	case coverage[second] > 0.35:
		return label(first) + " and " + label(second)
	}
	return "mostly " + label(first)
}

func (w *world) byEye(t testing.TB, random *rand.Rand, all []burn.Setting) swatch.Readings {
	t.Helper()
	r := w.read(t, random, 0, 0, all...)
	for i := range r.Swatches {
		r.Swatches[i].LinearRGB, r.Swatches[i].Seen = nil, w.words(t, random, all[i])
	}
	return r
}

func TestFitOfWordsAlone(t *testing.T) {
	var off []float64
	held, coats := 0, 0
	for seed := range uint64(24) {
		random := rand.New(rand.NewPCG(41, seed))
		w := anyWorld(t, random, 2+int(seed%3))
		got := fitOf(t, w.guess(random), w.byEye(t, random, settings(25, 0.08, 1, chartPowers()...)))
		require.Equal(t, len(got.Swatches), got.WordsRead)
		require.Greater(t, float64(got.WordsAgreed), 0.8*float64(got.WordsRead))
		require.Zero(t, got.ResidualDE00)
		for i, c := range got.Coats {
			off = append(off, math.Abs(c.BreakThroughJCM2/w.doses[i]-1))
			held += one(c.Low <= w.doses[i] && w.doses[i] <= c.High)
			coats++
			require.Equal(t, w.stack.Coats[i].ThicknessUM, got.Stack.Coats[i].ThicknessUM)
		}
	}
	sort.Float64s(off)
	t.Logf("%d coats by eye: off by %.1f %% at the median, %.1f %% at most; intervals hold %d", coats, 100*off[len(off)/2], 100*off[len(off)-1], held)
	require.Less(t, off[len(off)/2], 0.05)
	require.Less(t, off[len(off)-1], 0.25)
	require.GreaterOrEqual(t, float64(held), 0.88*float64(coats))
}

func TestFitPutsWordsAndPhotographTogether(t *testing.T) {
	random := rand.New(rand.NewPCG(42, 1))
	w := newWorld(t, threeCoats(), aMachine())
	all := settings(25, 0.08, 1, chartPowers()...)
	r := w.read(t, random, 0.5, 1, all...)
	for i := range r.Swatches {
		if i%3 == 1 {
			r.Swatches[i].LinearRGB, r.Swatches[i].Seen = nil, w.words(t, random, all[i])
		}
	}
	got := fitOf(t, w.guess(random), r)
	requireBreaks(t, w.doses, got, 0.03)
	require.Equal(t, len(all)/3, got.WordsRead)
	require.Greater(t, got.ResidualDE00, 0.0)
}

// One slip of the pen in thirty words moves little.
func TestAWrongWordDoesNotDrag(t *testing.T) {
	random := rand.New(rand.NewPCG(43, 1))
	w := newWorld(t, threeCoats(), aMachine())
	r := w.byEye(t, random, settings(25, 0.08, 1, chartPowers()...))
	before := fitOf(t, w.stack, r)
	r.Swatches[3].Seen = "ground"
	after := fitOf(t, w.stack, r)
	requireBreaks(t, []float64{before.Coats[0].BreakThroughJCM2, before.Coats[1].BreakThroughJCM2, before.Coats[2].BreakThroughJCM2}, after, 0.05)
	require.Contains(t, after.Status(), "do not fit the others: "+r.Swatches[3].ID)
}

func TestDepthSeen(t *testing.T) {
	for text, want := range map[string]depth{
		"paint 1":             {-0.15, 0.15},
		"paint 3":             {1.85, 2.15},
		"ground":              {2.85, 3.15},
		"mostly paint 2":      {0.5, 1.5},
		"paint 2 and paint 3": {1.25, 1.75},
		"scorched":            {3.5, 4},
	} {
		seen, err := swatch.ParseSeen(text, threeCoats())
		require.NoError(t, err)
		got := depthSeen(seen)
		require.InDelta(t, want.low, got.low, 1e-9, text)
		require.InDelta(t, want.high, got.high, 1e-9, text)
	}
}
