package coat_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
)

func two(share float64) []float64 { return []float64{share, 1 - share} }

// density is that of a reflectance above the substrate's.
func density(d float64) float64 { return math.Pow(10, -d) }

// Source: A. Murray, J. Franklin Inst. 221, 1936; values follow from the formula.
func TestMixAgainstMurrayDavies(t *testing.T) {
	require.InDelta(t, 0.45, coat.Mix(two(0.5), []float64{0.05, 0.85}, 1), 1e-15)
	require.InDelta(t, density(0.30), coat.Mix(two(0.515101713), []float64{density(1.50), 1}, 1), 1e-9)
}

// Source: J. A. C. Yule and W. J. Nielsen, TAGA Proc. 3, 1951; values follow from
// the formula.
func TestMixAgainstYuleNielsen(t *testing.T) {
	for n, want := range map[float64]float64{0: .45, 1: .45, 1.7: .351081639, 2: .328077641, 4: .263591821} {
		require.InDelta(t, want, coat.Mix(two(0.5), []float64{0.05, 0.85}, n), 1e-9, "n %g", n)
	}
	require.InDelta(t, .206155281, coat.Mix(two(0.5), []float64{0.05, 0.85}, 1e7), 1e-6, "n without bound")
	for n, share := range map[float64]float64{1.7: .384302587, 2: .355222745} {
		require.InDelta(t, density(0.30), coat.Mix(two(share), []float64{density(1.50), 1}, n), 1e-9, "n %g", n)
	}
	require.InDelta(t, density(.459896286), coat.Mix(two(0.5), []float64{density(1.50), 1}, 2), 1e-9)
}

// Source: the values above: the tone value increase of a 50 % dot at n = 2 is
// the share that Murray-Davies reads from it, 67.5 %, less 50.
func TestDotGain(t *testing.T) {
	seen := coat.Mix(two(0.5), []float64{density(1.50), 1}, 2)
	apparent := (1 - seen) / (1 - density(1.50))
	require.InDelta(t, .674510221, apparent, 1e-8)
}

// Source: H. E. J. Neugebauer, Z. wiss. Photogr. 36, 1937, from memory, with the
// shares of three independent screens of .6, .3 and .2; values follow from the
// formula.
func TestMixAgainstNeugebauer(t *testing.T) {
	areas := []float64{.224, .336, .096, .056, .144, .084, .024, .036}
	looks := []float64{.80, .30, .25, .65, .08, .20, .22, .04}
	require.InDelta(t, .37544, coat.Mix(areas, looks, 1), 1e-12)
	require.InDelta(t, .329806022, coat.Mix(areas, looks, 2), 1e-9)
}
