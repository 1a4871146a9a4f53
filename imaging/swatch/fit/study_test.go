package fit

import (
	"math"
	"os"
	"sort"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// Of the studies: how many worlds each tries, from 100 up, unset a few; and the
// number of the first, unset 0, for worlds that nothing was ever tuned on.
const (
	manyWorlds = "UNDERCOAT_FIT_MANY"
	firstWorld = "UNDERCOAT_FIT_FIRST"
)

// worldsOf are the numbers of the worlds that a study tries.
func worldsOf(t testing.TB, few uint64) []uint64 {
	t.Helper()
	number := func(name string, unset uint64) uint64 {
		text := os.Getenv(name)
		if text == "" {
			return unset
		}
		n, err := strconv.ParseUint(text, 10, 32)
		require.NoError(t, err, name)
		return n
	}
	many, first := number(manyWorlds, few), number(firstWorld, 0)
	if many != few {
		require.GreaterOrEqual(t, many, uint64(100), manyWorlds)
	}
	worlds := make([]uint64, many)
	for i := range worlds {
		worlds[i] = first + uint64(i)
	}
	return worlds
}

// study gathers what fits made of worlds of known truth.
type study struct {
	off            []float64 // of break-through doses, as a share
	held           int       // by the 95 % intervals
	measured       []float64 // CIEDE2000 of the colours that were called measured
	others         []float64 // and of those that were not
	means, largest []float64 // CIEDE2000 of a chart at powers it did not have
}

func (s *study) add(t testing.TB, w *world, got Result) {
	t.Helper()
	for i, c := range got.Coats {
		s.off = append(s.off, math.Abs(c.BreakThroughJCM2/w.doses[i]-1))
		s.held += one(c.Low <= w.doses[i] && w.doses[i] <= c.High)
		s.colour(c.Paint, c.Colour, w.stack.Coats[i].Colour)
	}
	s.colour(got.Ground, got.Stack.Ground.Colour, w.stack.Ground.Colour)
	mean, largest := w.heldOut(t, got)
	s.means, s.largest = append(s.means, mean), append(s.largest, largest)
}

func (s *study) colour(p Paint, is, should colour.Stored) {
	d := colour.DE2000(is.Linear().Lab(), should.Linear().Lab())
	if p.Measured {
		s.measured = append(s.measured, d)
		return
	}
	s.others = append(s.others, d)
}

// judge holds the study to what it shall keep on every chart.
func (s *study) judge(t testing.TB) {
	t.Helper()
	for _, all := range [][]float64{s.off, s.measured, s.others, s.means, s.largest} {
		require.NotEmpty(t, all)
		sort.Float64s(all)
	}
	most := func(all []float64) float64 { return all[len(all)-1] }
	coats := float64(len(s.off))
	held := float64(s.held) / coats
	t.Logf("%d charts, %d coats: break-through off by %.2f %% at the median, %.2f %% at most; 95 %% intervals hold %.1f %%", len(s.means), len(s.off), 100*s.off[len(s.off)/2], 100*most(s.off), 100*held)
	t.Logf("%d colours measured: off by CIEDE2000 %.2f at the median, %.2f at most; %d not: %.2f and %.2f", len(s.measured), s.measured[len(s.measured)/2], most(s.measured), len(s.others), s.others[len(s.others)/2], most(s.others))
	t.Logf("at powers between those of the chart: mean CIEDE2000 %.2f on the middle chart, %.2f on the worst; largest %.2f and %.2f", s.means[len(s.means)/2], most(s.means), s.largest[len(s.largest)/2], most(s.largest))
	require.LessOrEqual(t, s.off[len(s.off)/2], 0.03)
	require.LessOrEqual(t, most(s.off), 0.08)
	// Of few charts less, and more, by two standard errors of a binomial.
	few := 0.0
	if len(s.means) < 100 {
		few = 2 * math.Sqrt(0.9*0.1/coats)
	}
	require.GreaterOrEqual(t, held, 0.90-few)
	require.LessOrEqual(t, held, 0.98+few)
	require.LessOrEqual(t, most(s.measured), 2.0)
	// Source: ISO 12647-7 (from memory): a contract proof's control strip, mean and largest.
	require.LessOrEqual(t, most(s.means), 2.5)
	require.LessOrEqual(t, most(s.largest), 5.0)
}
