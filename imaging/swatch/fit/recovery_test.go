package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"sort"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// Known stacks, charts of them read with the noise of a photograph, and what the
// fit makes of them.
func TestFitFindsWhatIsTrue(t *testing.T) {
	worlds := worldsOf(t, 60)
	var off, paints, means, largest []float64
	held, coats := 0, 0
	for _, seed := range worlds {
		random := rand.New(rand.NewPCG(seed, 4))
		w := anyWorld(t, random, 2+int(seed%4))
		r := w.read(t, random, 0.5, 1, settings(25, 0.08, 1, chartPowers()...)...)
		got, err := Fit(context.Background(), []swatch.Readings{r}, w.guess(random), Options{})
		require.NoError(t, err, "world %d", seed)
		for i, c := range got.Coats {
			e := math.Abs(c.BreakThroughJCM2/w.doses[i] - 1)
			off = append(off, e)
			coats++
			held += one(c.Low <= w.doses[i] && w.doses[i] <= c.High)
			if !w.shows(t, r, i) {
				continue
			}
			paints = append(paints, colour.DE2000(c.Colour.Linear().Lab(), w.stack.Coats[i].Colour.Linear().Lab()))
		}
		mean, most := w.heldOut(t, got)
		means, largest = append(means, mean), append(largest, most)
	}
	for _, all := range [][]float64{off, paints, means, largest} {
		sort.Float64s(all)
	}
	at := func(all []float64, share float64) float64 { return all[int(share*float64(len(all)-1))] }
	share := float64(held) / float64(coats)
	t.Logf("%d coats: break-through off by %.2f %% at the median, %.2f %% at most; 95 %% intervals hold %.1f %%; paints off by CIEDE2000 %.2f at 95 of 100, %.2f at most; held out: mean up to %.2f, largest %.2f",
		coats, 100*at(off, 0.5), 100*at(off, 1), 100*share, at(paints, 0.95), at(paints, 1), at(means, 1), at(largest, 1))
	require.LessOrEqual(t, at(off, 0.5), 0.03)
	require.LessOrEqual(t, at(off, 1), 0.08)
	// Of a coat that one swatch alone shows, that swatch's own noise is left.
	require.LessOrEqual(t, at(paints, 0.95), 2.0)
	require.LessOrEqual(t, at(paints, 1), 3.0)
	require.GreaterOrEqual(t, share, 0.90)
	require.LessOrEqual(t, share, 0.98+2*math.Sqrt(0.98*0.02/float64(coats)))
	// Source: ISO 12647-7 (from memory): a proof's control strip, mean and largest.
	require.LessOrEqual(t, at(means, 1), 2.5)
	require.LessOrEqual(t, at(largest, 1), 5.0)
}

// chartPowers are 36 swatches, closer where a percent is more of the dose.
func chartPowers() []float64 { return append(powers(4, 19, 1), powers(20, 58, 2)...) }

// shows tells whether a coat covers nearly all of at least one swatch: the colour of
// what is nowhere seen alone is drawn on from mixtures.
func (w *world) shows(t testing.TB, r swatch.Readings, i int) bool {
	t.Helper()
	for _, s := range r.Swatches {
		if _, coverage := w.look(t, s.Setting); coverage[i] > 0.9 {
			return true
		}
	}
	return false
}

// heldOut is how far the calibrated stack is from the truth at powers between
// those of the chart.
func (w *world) heldOut(t testing.TB, got Result) (mean, largest float64) {
	t.Helper()
	found := newWorld(t, got.Stack, w.machine)
	between := settings(25, 0.08, 1, powers(4.5, 57.5, 1)...)
	for _, s := range between {
		is, _ := found.look(t, s)
		should, _ := w.look(t, s)
		d := colour.DE2000(is.Lab(), should.Lab())
		mean += d / float64(len(between))
		largest = math.Max(largest, d)
	}
	return mean, largest
}
