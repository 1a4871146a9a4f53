package proof

import (
	"fmt"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/screen"
)

// MaxGrid is the finest grid of samples, in each direction, over one dot.
const MaxGrid = burn.MaxGrid

// Recipe is all that a proof depends on besides the picture.
type Recipe struct {
	Stack   coat.Stack
	Options coat.Options
	Machine burn.Machine
	Setting burn.Setting
	Screen  screen.Options
	// Grid is the number of samples across a dot in each direction, 1 to
	// MaxGrid. 0 takes it from the beam: a sample is then at most a quarter of
	// the beam's 1/e2 radius, as far as MaxGrid reaches.
	Grid int
	// Turned is whether the panel lies a quarter turned on the bed: the machine's lines
	// then run along its height.
	Turned bool
}

// Validate reports the first part of the recipe that is out of its range.
func (r Recipe) Validate() error {
	if err := r.Stack.Validate(); err != nil {
		return err
	}
	if err := r.Machine.Validate(); err != nil {
		return err
	}
	if err := r.Setting.Validate(r.Machine); err != nil {
		return err
	}
	if r.Grid < 0 || r.Grid > MaxGrid {
		return fmt.Errorf("grid %d is out of range: give 1 to %d samples a dot, or 0 to take it from the beam", r.Grid, MaxGrid)
	}
	return nil
}

// FullDose is the mean dose of a fully burned area, in J/cm2.
func (r Recipe) FullDose() float64 {
	return burn.Dose(r.Machine, r.Setting, r.Stack.Curve.Passes())
}

// grid is the number of samples across a dot.
func (r Recipe) grid() int {
	if r.Grid > 0 {
		return r.Grid
	}
	return burn.ChooseGrid(r.Machine, r.Setting.Pitch)
}

// exposer is what lights the recipe's dots, at k x k samples each.
func (r Recipe) exposer(k int) (*burn.Exposer, error) {
	if r.Turned {
		return burn.NewTurnedExposer(r.Machine, r.Setting.Pitch, k)
	}
	return burn.NewExposer(r.Machine, r.Setting.Pitch, k)
}

// withPower is the recipe at another power.
func (r Recipe) withPower(percent float64) Recipe {
	r.Setting.PowerPercent = percent
	return r
}
