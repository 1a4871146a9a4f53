package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/swatch"
)

// The same without a photograph: for every other swatch or so a word, for the rest a
// colour picked by hand, off by up to CIEDE2000 1.5 and rounded to a code value.
func TestStudyOfHandReadings(t *testing.T) {
	var s study
	for _, seed := range worldsOf(t, 16) {
		random := rand.New(rand.NewPCG(seed, 72))
		w := anyWorld(t, random, 2+int(seed%3))
		guess := w.guess(random)
		got, err := Fit(context.Background(), []swatch.Readings{w.byHand(t, random)}, guess, Options{})
		require.NoError(t, err, "world %d", seed)
		s.add(t, w, got)
	}
	s.judge(t)
}

// A beam so wide that every swatch is a mesh of three coats: the words, each true by
// the largest share, lie beside the colours of the rest, which carry the fit.
func TestWordsThatMislead(t *testing.T) {
	random := rand.New(rand.NewPCG(1061, 72))
	w := anyWorld(t, random, 4)
	w.guess(random)
	got := fitOf(t, w.stack, w.byHand(t, random))
	require.Equal(t, Poor, got.Grade)
	require.Contains(t, got.Status(), "words agree with what the other swatches show")
	require.NotContains(t, got.Status(), "from the model on average")
	for i, c := range got.Coats {
		require.InEpsilon(t, w.doses[i], c.BreakThroughJCM2, 0.08)
	}
}

func (w *world) byHand(t testing.TB, random *rand.Rand) swatch.Readings {
	t.Helper()
	patchy := 0.002 + 0.008*random.Float64()
	burned := settings(25, 0.08, 1, chartPowers()...)
	for i := range burned {
		burned[i].PowerPercent *= math.Exp(patchy * random.NormFloat64())
	}
	r := w.read(t, random, 0.3, 1.0, burned...)
	for i, set := range settings(25, 0.08, 1, chartPowers()...) {
		read := &r.Swatches[i]
		if random.Float64() < 0.25 {
			read.LinearRGB, read.Seen = nil, w.words(t, random, burned[i])
		} else {
			picked := read.LinearRGB.Stored().Linear()
			read.LinearRGB = &picked
		}
		read.Setting = set
	}
	return r
}
