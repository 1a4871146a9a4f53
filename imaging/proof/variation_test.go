package proof_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/proof"
)

func TestVariations(t *testing.T) {
	r := recipe(threeCoats())
	reached := func(v proof.Variation) float64 { // share of a full burn beneath the top coat
		varied, err := v.Of(r)
		require.NoError(t, err)
		require.NoError(t, varied.Validate())
		return 1 - table(t, varied).Coverage(30000)[0]
	}
	asSet := reached(proof.AsSet)
	require.Less(t, reached(proof.LessLight), asSet)
	require.Greater(t, reached(proof.MoreLight), asSet)
	require.Greater(t, reached(proof.ThinnerPaint), asSet)
	require.Less(t, reached(proof.ThickerPaint), asSet)
	require.NotEqual(t, asSet, reached(proof.OutOfFocus))
	require.Len(t, proof.Variations(), 6)

	for v, f := range map[proof.Variation]float64{proof.AsSet: 1, proof.LessLight: 0.9, proof.MoreLight: 1.1, proof.OutOfFocus: 1} {
		varied, err := v.Of(r)
		require.NoError(t, err)
		require.InDelta(t, f*r.FullDose(), varied.FullDose(), 1e-9, "%s", v)
	}
	varied, err := proof.ThickerPaint.Of(r)
	require.NoError(t, err)
	require.InDelta(t, 27.5, varied.Stack.Coats[0].ThicknessUM, 1e-9)
	require.Equal(t, 25.0, r.Stack.Coats[0].ThicknessUM, "the recipe itself stays")
	m, err := varied.Stack.Compile(coat.Options{})
	require.NoError(t, err)
	require.False(t, math.IsInf(m.BreakThrough(2), 1), "a curve reaches a tenth further than it was measured")

	wide := r
	wide.Machine.BeamAlong = 1.9
	varied, err = proof.OutOfFocus.Of(wide)
	require.NoError(t, err)
	require.NoError(t, varied.Validate())

	_, err = proof.Variation("upside down").Of(r)
	require.ErrorContains(t, err, `variation "upside down" is not known`)
}
