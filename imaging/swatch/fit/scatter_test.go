package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/swatch"
)

// readUneven reads swatches whose paint is not equally thick: each looks like one of
// a dose that is off by scatter.
func (w *world) readUneven(t testing.TB, random *rand.Rand, scatter float64, powers []float64) swatch.Readings {
	t.Helper()
	burned := settings(25, 0.08, 1, powers...)
	for i := range burned {
		burned[i].PowerPercent *= math.Exp(scatter * random.NormFloat64())
	}
	r := w.read(t, random, 0.5, 1, burned...)
	for i, s := range settings(25, 0.08, 1, powers...) {
		r.Swatches[i].Setting = s
	}
	return r
}

func TestIntervalsAllowForUnevenPaint(t *testing.T) {
	worlds := worldsOf(t, 24)
	for _, scatter := range []float64{0.02, 0.05} {
		held, coats, sum := 0, 0, 0.0
		var off []float64
		for _, seed := range worlds {
			random := rand.New(rand.NewPCG(61, seed))
			w := anyWorld(t, random, 2+int(seed%3))
			got, err := Fit(context.Background(), []swatch.Readings{w.readUneven(t, random, scatter, chartPowers())}, w.guess(random), Options{})
			require.NoError(t, err)
			sum += got.DoseLnScatter / float64(len(worlds))
			for i, c := range got.Coats {
				held += one(c.Low <= w.doses[i] && w.doses[i] <= c.High)
				coats++
				off = append(off, math.Abs(c.BreakThroughJCM2/w.doses[i]-1))
			}
		}
		sort.Float64s(off)
		at := func(share float64) float64 { return 100 * off[int(share*float64(len(off)-1))] }
		t.Logf("scatter %.3f is read as %.3f on average; break-through off by %.1f %% at the median, %.1f %% at 99 of 100, %.1f %% at most; 95 %% intervals hold %d of %d",
			scatter, sum, at(0.5), at(0.99), at(1), held, coats)
		require.InDelta(t, scatter, sum, 0.5*scatter)
		// Such a panel has no swatch to spare: where two of three beside a break-through
		// are off alike, so is the fit, and its interval is wide.
		require.LessOrEqual(t, at(0.99), 12.0)
		// 90 % of many; of the few of a quick run less two standard errors of a binomial.
		least := 0.90
		if len(worlds) < 100 {
			least -= 2 * math.Sqrt(0.9*0.1/float64(coats))
		}
		require.GreaterOrEqual(t, float64(held), least*float64(coats))
	}
}
