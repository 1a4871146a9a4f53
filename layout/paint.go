package layout

import (
	"fmt"
	"math"
)

// Can is how far a can of paint goes. The zero value takes the usual can.
type Can struct {
	// CoversM2 is the area of one coat with nothing lost; 0 is UsualCanM2. The can's
	// own words come first.
	CoversM2 float64
	// AtUM is the dry thickness that holds for, in um. With 0 a coat counts as one
	// coat however thick it shall be.
	AtUM float64
	// Lost is the share of the paint that goes past the panel, 0..0.9; 0 is UsualLoss.
	// Say a very small number for none.
	Lost float64
}

// The usual can and loss.
const (
	// UsualCanM2 is what a spray can of 12 oz covers with one coat: 10 to 15 square
	// feet by what sellers say, of which this is the middle.
	UsualCanM2 = 12.5 * squareFootM2
	// UsualLoss is what goes past the panel. A data sheet for brushed and sprayed
	// enamel takes off 15 %; a can over a small panel loses more, porous faces 20 to
	// 50 % by what sellers say.
	UsualLoss = 0.3

	squareFootM2 = 0.3048 * 0.3048
)

// CoverageM2PerLitre is how far a litre of paint goes at a dry thickness, with
// nothing lost: 10 V/t, for V percent of solids by volume, 0..100, and t um.
// Derived: the solids of a litre spread that thin.
func CoverageM2PerLitre(solidsPercent, dryUM float64) (float64, error) {
	if !(solidsPercent > 0 && solidsPercent <= 100) {
		return 0, fmt.Errorf("solids of %g %% are not possible: choose a share above 0 and up to 100 %% by volume", solidsPercent)
	}
	if !(dryUM > 0 && dryUM <= maxDryUM) {
		return 0, fmt.Errorf("dry thickness %g um is not possible: choose one above 0 and up to %d um", dryUM, maxDryUM)
	}
	return 10 * solidsPercent / dryUM, nil
}

// maxDryUM is more than any coat of paint has.
const maxDryUM = 2000

func (c Can) validate() error {
	for _, v := range []struct {
		name        string
		value, most float64
		example     string
	}{
		{"can covers", c.CoversM2, 1000, "1000 m2"},
		{"can's thickness", c.AtUM, maxDryUM, "2000 um"},
		{"loss", c.Lost, 0.9, "0.9"},
	} {
		if !(v.value >= 0 && v.value <= v.most) {
			return fmt.Errorf("%s %g is not possible: choose a value from 0 to %s, 0 for the usual", v.name, v.value, v.example)
		}
	}
	return nil
}

func (c Can) orUsual() Can {
	if c.CoversM2 == 0 {
		c.CoversM2 = UsualCanM2
	}
	if c.Lost == 0 {
		c.Lost = UsualLoss
	}
	return c
}

// Painted is the area that is painted on a panel.
type Painted struct{ FaceM2, EdgeM2 float64 }

// Painted is the face and the four edges round it. The turned corners of a
// canvas and what wraps to the back are not counted.
func (p Panel) Painted() Painted {
	w, h, d := float64(p.Size.W), float64(p.Size.H), float64(p.EdgeDepth)
	return Painted{FaceM2: w * h / 1e6, EdgeM2: 2 * (w + h) * d / 1e6}
}

// TotalM2 is face and edges.
func (p Painted) TotalM2() float64 { return p.FaceM2 + p.EdgeM2 }

// CoatWork is one coat to be sprayed.
type CoatWork struct {
	Name        string
	ThicknessUM float64 // dry, 0 if unknown
	Can         Can
}

// Need is what a coat takes.
type Need struct {
	Coat   string
	AreaM2 float64
	Cans   float64 // with what is lost
	ToBuy  int     // whole cans, one at least
}

// Needs are the cans for each coat, in the order given. Coats of one name share
// their cans: the whole ones to buy stand with the first of them and the others
// have 0.
func (p Panel) Needs(coats []CoatWork) ([]Need, error) {
	if err := p.Validate(); err != nil {
		return nil, err
	}
	area := p.Painted().TotalM2()
	needs := make([]Need, len(coats))
	ofName := map[string]float64{}
	for i, c := range coats {
		if err := c.validate(i); err != nil {
			return nil, err
		}
		can := c.Can.orUsual()
		cans := area / (can.CoversM2 * (1 - can.Lost))
		if c.ThicknessUM > 0 && can.AtUM > 0 {
			cans *= c.ThicknessUM / can.AtUM
		}
		needs[i] = Need{Coat: c.Name, AreaM2: area, Cans: cans}
		ofName[c.Name] += cans
	}
	for i, need := range needs {
		if total, open := ofName[need.Coat]; open {
			needs[i].ToBuy = max(1, int(math.Ceil(total-1e-9)))
			delete(ofName, need.Coat)
		}
	}
	return needs, nil
}

func (c CoatWork) validate(i int) error {
	if !(c.ThicknessUM >= 0 && c.ThicknessUM <= maxDryUM) {
		return fmt.Errorf("coat %d (%s) thickness %g um is not possible: choose one from 0 to %d um, 0 if unknown",
			i+1, shortened(c.Name), c.ThicknessUM, maxDryUM)
	}
	if err := c.Can.validate(); err != nil {
		return fmt.Errorf("coat %d (%s): %w", i+1, shortened(c.Name), err)
	}
	return nil
}
