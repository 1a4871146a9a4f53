package match

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
)

// solid is the tint of a fully burned field.
const solid = math.MaxUint16

// powerLevels is how many powers are told apart, none and full among them.
// Neighbouring ones look alike on any stack.
const powerLevels = 64

// PowerLooks is the look of an even field at each of a row of powers, from none
// to the recipe's own, evenly apart.
func PowerLooks(ctx context.Context, t *proof.TintTable) ([]colour.Linear, error) {
	full := t.Recipe()
	looks := make([]colour.Linear, powerLevels)
	looks[0] = t.Look(0)
	for i := 1; i < powerLevels; i++ {
		at, err := t.With(ctx, withLight(full, float64(i)/(powerLevels-1)))
		if err != nil {
			return nil, err
		}
		looks[i] = at.Look(solid)
	}
	return looks, nil
}

// withLight is the recipe with a share of its light.
func withLight(r proof.Recipe, share float64) proof.Recipe {
	r.Machine.OpticalPowerW *= share
	return r
}

// Powers is the share of the recipe's power, 0..65535, that each dot of a choice
// among PowerLooks gets.
func Powers(c *Choice) *plane.Grey16 {
	out := plane.NewGrey16(c.W, c.H)
	for i, v := range c.Pix {
		out.Pix[i] = uint16(math.Round(float64(v) / (powerLevels - 1) * math.MaxUint16))
	}
	return out
}

// Step is one raster of a burn in steps, with the power it is burned at.
type Step struct {
	Layer        int // that it uncovers: 1 is the coat below the top one
	PowerPercent float64
	DoseJCM2     float64 // of this step alone, on an even, fully burned field
}

// StepLooks finds, for every layer below the top coat, the power at which most
// of it shows, and gives the looks to choose from: the untouched top coat, then
// one a step. A layer that never shows on a third of the area is left out. When nested,
// a dot is burned in every step down to its own, and each step adds only what the
// ones before it lack.
func StepLooks(ctx context.Context, t *proof.TintTable, nested bool) ([]colour.Linear, []Step, error) {
	r := t.Recipe()
	looks := []colour.Linear{t.Look(0)}
	var steps []Step
	total := 0.0 // dose of the steps so far
	for layer := 1; layer <= len(r.Stack.Coats); layer++ {
		power, shown, look, err := mostOf(ctx, t, layer)
		if err != nil {
			return nil, nil, err
		}
		if shown < 1.0/3 {
			continue
		}
		s := Step{Layer: layer, PowerPercent: power, DoseJCM2: doseAt(r, power)}
		if nested {
			s.DoseJCM2 -= total
			if s.DoseJCM2 <= 0 {
				continue
			}
			total += s.DoseJCM2
			s.PowerPercent = powerFor(r, s.DoseJCM2)
		}
		looks, steps = append(looks, look), append(steps, s)
	}
	if len(steps) == 0 {
		return nil, nil, fmt.Errorf("no coat below the top one can be laid bare at this speed and pitch: burn slower or at a finer pitch")
	}
	return looks, steps, nil
}

// nearlyAll is the share of the most of a layer that is enough of it: the last
// hundredths would take much more light, and bring the ground nearer to scorching.
const nearlyAll = 0.98

// mostOf finds the least power at which nearly as much as ever of a layer shows on an
// even field.
func mostOf(ctx context.Context, t *proof.TintTable, layer int) (power, shown float64, look colour.Linear, err error) {
	const tries = 200
	r := t.Recipe()
	from := r.Machine.PowerOffsetPercent
	var powers, shares [tries]float64
	var looks [tries]colour.Linear
	most := 0.0
	for i := range tries {
		r.Setting.PowerPercent = from + (100-from)*float64(i+1)/tries
		at, err := t.With(ctx, r)
		if err != nil {
			return 0, 0, look, err
		}
		powers[i], shares[i], looks[i] = r.Setting.PowerPercent, at.Coverage(solid)[layer], at.Look(solid)
		most = max(most, shares[i])
	}
	for i, share := range shares {
		if share >= nearlyAll*most {
			return powers[i], share, looks[i], nil
		}
	}
	return 0, 0, look, nil
}

func doseAt(r proof.Recipe, powerPercent float64) float64 {
	s := r.Setting
	s.PowerPercent = powerPercent
	return burn.Dose(r.Machine, s, r.Stack.Curve.Passes())
}

// powerFor is the power that gives a dose: doses rise in proportion above the
// power scale's offset.
func powerFor(r proof.Recipe, doseJCM2 float64) float64 {
	offset := r.Machine.PowerOffsetPercent
	return offset + (100-offset)*doseJCM2/doseAt(r, 100)
}

// Steps is a raster for each of n steps. The looks are numbered from the
// untouched top coat, 0. A dot is burned in its own step alone or, when nested,
// in every step down to its own.
func Steps(c *Choice, n int, nested bool) []*plane.Bits {
	out := make([]*plane.Bits, n)
	for s := range out {
		out[s] = plane.NewBits(c.W, c.H)
		for y := range c.H {
			for x, v := range c.Row(y) {
				if int(v) == s+1 || nested && int(v) > s+1 {
					out[s].Set(x, y)
				}
			}
		}
	}
	return out
}
