package proof_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
)

func TestStrip(t *testing.T) {
	first := table(t, recipe(threeCoats()))
	tints := picture(60, 40)
	powers := []float64{15, 25, 40, 60, 90}
	strip, err := first.Strip(context.Background(), powers, always(tints))
	require.NoError(t, err)
	require.Len(t, strip, 5)
	left := 1.0
	for i, p := range strip {
		require.Equal(t, powers[i], p.PowerPercent)
		r := first.Recipe()
		r.Setting.PowerPercent = powers[i]
		want, err := table(t, r).Paint(context.Background(), tints)
		require.NoError(t, err)
		require.Equal(t, want.Pix, p.Image.Pix)
		sum := 0.0
		for _, share := range p.Coverage {
			sum += share
		}
		require.InDelta(t, 1, sum, 1e-4)
		require.Less(t, p.Coverage[0], left, "more power leaves less of the top coat")
		left = p.Coverage[0]
	}

	_, err = first.Strip(context.Background(), []float64{20, 120}, always(tints))
	require.ErrorContains(t, err, "power_percent 120")
	failed := errors.New("no picture")
	_, err = first.Strip(context.Background(), []float64{20}, func(*proof.TintTable) (*plane.Grey16, error) { return nil, failed })
	require.ErrorIs(t, err, failed)
}

func always(tints *plane.Grey16) func(*proof.TintTable) (*plane.Grey16, error) {
	return func(*proof.TintTable) (*plane.Grey16, error) { return tints, nil }
}

func TestSuggestTopCoat(t *testing.T) {
	ctx := context.Background()
	first := table(t, recipe(threeCoats()))
	tints := picture(60, 40)
	for _, wanted := range []float64{0.9, 0.7, 0.5} {
		power, err := first.SuggestTopCoat(ctx, always(tints), wanted)
		require.NoError(t, err)
		r := first.Recipe()
		r.Setting.PowerPercent = power
		require.InDelta(t, wanted, table(t, r).PictureCoverage(tints)[0], 1e-3)
	}
	_, err := first.SuggestTopCoat(ctx, always(even(10, 10, 100)), 0.2)
	require.ErrorContains(t, err, "keeps at least")
	for _, bad := range []float64{-0.1, 1.1, math.NaN()} {
		_, err := first.SuggestTopCoat(ctx, always(tints), bad)
		require.ErrorContains(t, err, "out of range")
	}
	failed := errors.New("no picture")
	_, err = first.SuggestTopCoat(ctx, func(*proof.TintTable) (*plane.Grey16, error) { return nil, failed }, 0.5)
	require.ErrorIs(t, err, failed)
}

func TestSuggestReach(t *testing.T) {
	ctx := context.Background()
	first := table(t, recipe(threeCoats()))
	before := 0.0
	for layer := 1; layer <= 3; layer++ {
		power, err := first.SuggestReach(ctx, layer)
		require.NoError(t, err)
		require.Greater(t, power, before)
		before = power
		r := first.Recipe()
		r.Setting.PowerPercent = power
		reached := 0.0
		for _, share := range table(t, r).Coverage(math.MaxUint16)[layer:] {
			reached += share
		}
		require.InDelta(t, 0.5, reached, 1e-3)
	}
	for _, bad := range []int{-1, 0, 4} {
		_, err := first.SuggestReach(ctx, bad)
		require.ErrorContains(t, err, "cannot be reached")
	}
	r := first.Recipe()
	r.Machine.OpticalPowerW = 0.5
	_, err := table(t, r).SuggestReach(ctx, 3)
	require.ErrorContains(t, err, "full power lays layer 3 bare on 0 %")
}
