package proof_test

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
)

// What is counted on the very dots is what the table tells of their tints.
func TestExposedSharesAgreeWithTheTable(t *testing.T) {
	r := recipe(threeCoats())
	tt := table(t, r)
	tints := picture(240, 180)
	dots, err := screen.Screen(t.Context(), tints, r.Screen)
	require.NoError(t, err)
	full, bins := 1.5*r.FullDose(), 12
	got, err := proof.ExposedShares(t.Context(), r, burn.OneBit(dots), full, bins)
	require.NoError(t, err)
	want := tt.DoseShares(tints, full, bins)
	sum, off := 0.0, 0.0
	for i := range got {
		sum += got[i]
		off += max(got[i]-want[i], want[i]-got[i]) / 2
	}
	require.InDelta(t, 1, sum, 1e-9)
	require.Less(t, off, 0.05, "of the area lies elsewhere: %v, %v", got, want)
}

func TestExposedSharesAtTheEnds(t *testing.T) {
	r := recipe(threeCoats())
	none, err := proof.ExposedShares(t.Context(), r, burn.OneBit(plane.NewBits(20, 10)), 100, 8)
	require.NoError(t, err)
	require.Equal(t, []float64{1, 0, 0, 0, 0, 0, 0, 0}, none)
	all := plane.NewBits(60, 40)
	for y := range all.H {
		for x := range all.W {
			all.Set(x, y)
		}
	}
	shares, err := proof.ExposedShares(t.Context(), r, burn.OneBit(all), r.FullDose()/100, 8)
	require.NoError(t, err)
	require.Greater(t, shares[7], 0.99, "what gets more counts in the last bin")
	empty, err := proof.ExposedShares(t.Context(), r, burn.OneBit(plane.NewBits(0, 0)), 100, 3)
	require.NoError(t, err)
	require.Equal(t, []float64{0, 0, 0}, empty)

	ended, stop := context.WithCancel(t.Context())
	stop()
	_, err = proof.ExposedShares(ended, r, burn.OneBit(all), 100, 8)
	require.ErrorIs(t, err, context.Canceled)
	r.Setting.PowerPercent = 300
	_, err = proof.ExposedShares(t.Context(), r, burn.OneBit(all), 100, 8)
	require.Error(t, err)
}
