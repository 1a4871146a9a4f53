package coat

import (
	"fmt"
	"math"
)

// What a stack may hold. The bounds are wide of anything that is painted or
// burned; they are there to catch a slipped decimal point or a wrong unit.
const (
	MaxCoats        = 16
	MaxThicknessUM  = 5000.0
	MaxDepthUM      = MaxCoats * MaxThicknessUM
	MaxDoseJCM2     = 1e6
	MaxPoints       = 1000
	MaxSpread       = 3.0
	MaxPassExponent = 3.0
	maxNameLength   = 200
)

// Validate reports the first value that is out of its range, by its path in
// the stack file.
func (s Stack) Validate() error {
	if n := len(s.Coats); n < 1 || n > MaxCoats {
		return fmt.Errorf("coats holds %d coats: list 1 to %d, from the top down", n, MaxCoats)
	}
	if err := validateName("name", s.Name); err != nil {
		return err
	}
	for i, c := range s.Coats {
		path := fmt.Sprintf("coats[%d]", i)
		if err := validateName(path+".name", c.Name); err != nil {
			return err
		}
		if !(c.ThicknessUM > 0 && c.ThicknessUM <= MaxThicknessUM) {
			return outside(path+".thickness_um", c.ThicknessUM, "above 0 and at most 5000 um")
		}
	}
	if err := validateName("ground.name", s.Ground.Name); err != nil {
		return err
	}
	return s.Curve.validate(len(s.Coats))
}

func (c Curve) validate(coats int) error {
	if err := c.validatePoints(); err != nil {
		return err
	}
	if len(c.Spread) != coats {
		return fmt.Errorf("curve.spread holds %d values for %d coats: give one a coat", len(c.Spread), coats)
	}
	for i, s := range c.Spread {
		if !(s >= 0 && s <= MaxSpread) {
			return outside(fmt.Sprintf("curve.spread[%d]", i), s, "between 0 and 3")
		}
	}
	if !(c.ScorchDoseJCM2 >= 0 && c.ScorchDoseJCM2 <= MaxDoseJCM2) {
		return outside("curve.scorch_dose_j_per_cm2", c.ScorchDoseJCM2, "between 0, for never, and 1e+06 J/cm2")
	}
	if !(c.PassExponent >= 0 && c.PassExponent <= MaxPassExponent) {
		return outside("curve.pass_exponent", c.PassExponent, "above 0 and at most 3, or leave it out for 1")
	}
	if n := len(c.BreakThroughSD); n != 0 && n != coats {
		return fmt.Errorf("curve.break_through_ln_sd holds %d values for %d coats: give one a coat or leave it out", n, coats)
	}
	for i, sd := range c.BreakThroughSD {
		if !(sd >= 0 && sd <= MaxSpread) {
			return outside(fmt.Sprintf("curve.break_through_ln_sd[%d]", i), sd, "between 0 and 3")
		}
	}
	return nil
}

func (c Curve) validatePoints() error {
	if n := len(c.Points); n < 2 || n > MaxPoints {
		return fmt.Errorf("curve.points holds %d points: give 2 to %d, the first at depth 0", n, MaxPoints)
	}
	for i, p := range c.Points {
		path := fmt.Sprintf("curve.points[%d]", i)
		if !(p.DoseJCM2 > 0 && p.DoseJCM2 <= MaxDoseJCM2) {
			return outside(path+".dose_j_per_cm2", p.DoseJCM2, "above 0 and at most 1e+06 J/cm2")
		}
		if !(p.DepthUM >= 0 && p.DepthUM <= MaxDepthUM) {
			return outside(path+".depth_um", p.DepthUM, "between 0 and 80000 um")
		}
		if i == 0 {
			if p.DepthUM != 0 {
				return outside(path+".depth_um", p.DepthUM, "0: the first point is the dose at which the burn sets in")
			}
			continue
		}
		// Doses that differ by a rounding error would make a cliff of the curve.
		if before := c.Points[i-1].DoseJCM2; !(p.DoseJCM2 > before*(1+1e-9)) {
			return outside(path+".dose_j_per_cm2", p.DoseJCM2, fmt.Sprintf("above the %g of the point before: sort the points by dose", before))
		}
		if before := c.Points[i-1].DepthUM; p.DepthUM < before {
			return outside(path+".depth_um", p.DepthUM, fmt.Sprintf("at least the %g of the point before: more light never burns less deep", before))
		}
	}
	if c.Points[len(c.Points)-1].DepthUM == 0 {
		return fmt.Errorf("curve.points never leaves depth 0: add the dose at which the first coat gives way")
	}
	return nil
}

func validateName(path, name string) error {
	if len(name) > maxNameLength {
		return fmt.Errorf("%s is %d bytes long: keep it to %d", path, len(name), maxNameLength)
	}
	return nil
}

func outside(path string, value float64, want string) error {
	if math.IsNaN(value) || math.IsInf(value, 0) {
		return fmt.Errorf("%s is not a finite number: it must be %s", path, want)
	}
	return fmt.Errorf("%s is %g: it must be %s", path, value, want)
}
