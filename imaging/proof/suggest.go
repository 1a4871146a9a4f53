package proof

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
)

// SuggestTopCoat finds the lowest power, in percent, which leaves the wanted
// share, 0..1, of the top coat on a picture. tintsFor gives the picture's tints,
// 0..65535, under a table, as for [TintTable.Strip]. It is an error when no power
// takes that much away.
func (t *TintTable) SuggestTopCoat(ctx context.Context, tintsFor func(*TintTable) (*plane.Grey16, error), wanted float64) (powerPercent float64, err error) {
	if !(wanted >= 0 && wanted <= 1) {
		return 0, fmt.Errorf("share of the top coat %g is out of range: give 0 to 1", wanted)
	}
	gone := func(t *TintTable) (float64, error) {
		tints, err := tintsFor(t)
		if err != nil {
			return 0, err
		}
		return 1 - t.PictureCoverage(tints)[0], nil
	}
	power, most, err := t.lowestPower(ctx, 1-wanted, gone)
	if err == nil && most < 1-wanted {
		err = fmt.Errorf("this picture keeps at least %.0f %% of the top coat, at %.0f %% power, and %.0f %% is wanted: ask for more, or make more of the picture burn", 100*(1-most), power, 100*wanted)
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
	reachedBy := func(t *TintTable) (float64, error) {
		sum := 0.0
		for _, share := range t.shares[len(t.shares)-1][layer:] {
			sum += share
		}
		return sum, nil
	}
	power, most, err := t.lowestPower(ctx, 0.5, reachedBy)
	if err == nil && most < 0.5 {
		err = fmt.Errorf("full power lays layer %d bare on %.0f %% of a fully burned area: burn slower or at a finer pitch", layer, 100*most)
	}
	return power, err
}

// searchSteps is how many powers are looked at between none and all. Where tones
// follow the power a share need not rise with it all the way, so that the range
// cannot be halved before it is known where the share is met.
const searchSteps = 50

// lowestPower finds the lowest power at which share meets wanted, to 0.002 %, and
// the share there. Where it is never met it gives the power at which share is
// greatest, and that share.
func (t *TintTable) lowestPower(ctx context.Context, wanted float64, share func(*TintTable) (float64, error)) (power, met float64, err error) {
	from := t.recipe.Machine.PowerOffsetPercent
	low, most := from, -1.0
	for i := 1; i <= searchSteps; i++ {
		high := from + (100-from)*float64(i)/searchSteps
		at, err := t.shareAt(ctx, high, share)
		if err != nil {
			return 0, 0, err
		}
		if at > most {
			power, most = high, at
		}
		if at >= wanted {
			return t.halve(ctx, low, high, wanted, share)
		}
		low = high
	}
	return power, most, nil
}

// halve narrows a range at whose lower end share falls short of wanted and at
// whose upper end it does not.
func (t *TintTable) halve(ctx context.Context, low, high, wanted float64, share func(*TintTable) (float64, error)) (power, met float64, err error) {
	met = wanted
	for high-low > 0.002 {
		mid := (low + high) / 2
		at, err := t.shareAt(ctx, mid, share)
		if err != nil {
			return 0, 0, err
		}
		if at < wanted {
			low = mid
		} else {
			high, met = mid, at
		}
	}
	return high, met, nil
}

func (t *TintTable) shareAt(ctx context.Context, power float64, share func(*TintTable) (float64, error)) (float64, error) {
	at, err := t.With(ctx, t.recipe.withPower(power))
	if err != nil {
		return 0, err
	}
	return share(at)
}
