package coat_test

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// Source: J. L. Saunderson, J. Opt. Soc. Am. 32, 1942, with K1 .04 and K2 .6;
// values follow from the formula.
func TestSaunderson(t *testing.T) {
	for r, want := range map[float64]float64{
		0: .04, .05: .059794, .1: .080851, .25: .152941, .5: .314286, .75: .563636, .9: .791304, 1: 1,
	} {
		require.InDelta(t, want, coat.Saunderson(r, 0.04), 1e-6)
		require.InDelta(t, r, coat.Inner(coat.Saunderson(r, 0.04), 0.04), 1e-12)
		require.InDelta(t, want-0.04, coat.Saunderson(r, 0), 1e-6, "glare turned away")
	}
}

// Source: as above: an inner reflectance of .1 is L* 34.2 as a matt film and 24.0
// under gloss.
func TestGlossDeepensTheDarks(t *testing.T) {
	matt := coat.Saunderson(0.1, 0.04)
	bare := colour.Linear{R: matt, G: matt, B: matt}
	require.InDelta(t, 34.2, bare.Lab().L, 0.05)
	gloss, err := coat.Gloss.Seen(bare)
	require.NoError(t, err)
	require.InDelta(t, 24.0, gloss.Lab().L, 0.05)
}

func TestFinishesGoFromMattToGloss(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.Float64Range(0, 1)
		bare := colour.Linear{R: unit.Draw(t, "r"), G: unit.Draw(t, "g"), B: unit.Draw(t, "b")}
		y := bare.Y()
		for _, f := range coat.Finishes() {
			seen, err := f.Seen(bare)
			require.NoError(t, err)
			require.LessOrEqual(t, seen.Y(), y+1e-12, "%s", f)
			require.GreaterOrEqual(t, min(seen.R, seen.G, seen.B), 0.0)
			y = seen.Y()
		}
		matt, err := coat.Matt.Seen(bare)
		require.NoError(t, err)
		require.Equal(t, bare, matt)
		satin, err := coat.Satin.Seen(bare)
		require.NoError(t, err)
		gloss, err := coat.Gloss.Seen(bare)
		require.NoError(t, err)
		require.InDelta(t, (matt.G+gloss.G)/2, satin.G, 1e-12, "satin is halfway")
	})
}

func TestDarkPaintsStayApartUnderGloss(t *testing.T) {
	black, err := coat.Gloss.Seen(hex("#101010").Linear())
	require.NoError(t, err)
	graphite, err := coat.Gloss.Seen(hex("#2b2d30").Linear())
	require.NoError(t, err)
	require.Greater(t, graphite.Lab().L, black.Lab().L+3)
}
