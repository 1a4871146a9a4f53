package proof

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
)

// SuggestTopCoat finds the power, in percent, which leaves the wanted share,
// 0..1, of the top coat on a picture of tints. It is an error when full power
// leaves more, or when the picture burns too little for it.
func (t *TintTable) SuggestTopCoat(ctx context.Context, tints *plane.Grey16, wanted float64) (powerPercent float64, err error) {
	if !(wanted >= 0 && wanted <= 1) {
		return 0, fmt.Errorf("share of the top coat %g is out of range: give 0 to 1", wanted)
	}
	picture := tallyOf(tints)
	gone := func(t *TintTable) float64 { return 1 - t.pictureCoverage(picture)[0] }
	power, reached, err := t.lowestPower(ctx, 1-wanted, gone)
	if err == nil && reached < 1-wanted-1e-6 {
		err = fmt.Errorf("full power leaves %.0f %% of the top coat and %.0f %% is wanted: burn slower, at a finer pitch, or a darker or lighter picture", 100*(1-reached), 100*wanted)
	}
	return power, err
}

// SuggestReach finds the power, in percent, at which the deepest parts, where
// every dot burns, just reach a layer: half their area shows it or what is under
// it. Layers count from the top down, the ground last. It is an error when full
// power does not reach it.
func (t *TintTable) SuggestReach(ctx context.Context, layer int) (powerPercent float64, err error) {
	if layer < 1 || layer > t.model.Coats() {
		return 0, fmt.Errorf("layer %d cannot be reached by a burn: choose 1 to %d, the last being the ground", layer, t.model.Coats())
	}
	reachedBy := func(t *TintTable) float64 {
		sum := 0.0
		for _, share := range t.shares[len(t.shares)-1][layer:] {
			sum += share
		}
		return sum
	}
	power, reached, err := t.lowestPower(ctx, 0.5, reachedBy)
	if err == nil && reached < 0.5-1e-6 {
		err = fmt.Errorf("full power lays layer %d bare on %.0f %% of a fully burned area: burn slower or at a finer pitch", layer, 100*reached)
	}
	return power, err
}

// lowestPower halves the range of powers until share, which rises with power,
// is met. It gives full power when the share is not met there.
func (t *TintTable) lowestPower(ctx context.Context, wanted float64, share func(*TintTable) float64) (power, reached float64, err error) {
	low, high := t.recipe.Machine.PowerOffsetPercent, 100.0
	reached, err = t.shareAt(ctx, high, share)
	if err != nil || reached < wanted {
		return high, reached, err
	}
	for range 24 { // to 1e-5 %
		mid := (low + high) / 2
		at, err := t.shareAt(ctx, mid, share)
		if err != nil {
			return 0, 0, err
		}
		if at < wanted {
			low = mid
		} else {
			high, reached = mid, at
		}
	}
	return high, reached, nil
}

func (t *TintTable) shareAt(ctx context.Context, power float64, share func(*TintTable) float64) (float64, error) {
	at, err := t.With(ctx, t.recipe.withPower(power))
	if err != nil {
		return 0, err
	}
	return share(at), nil
}
