package swatch

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/layout"
)

// Request is what a chart is to be made of.
type Request struct {
	Machine burn.Machine
	Stack   *coat.Stack // helps to choose a setting that shows for the marks; may be nil
	Kind    Kind
	Scrap   layout.Size // the painted panel at hand
	Margin  layout.MM   // kept free on each of its sides
	Side    layout.MM   // of a swatch, 3..50 mm; 0: as large as fits, from 10 down to 5 mm
	Powers  []float64   // percent
	Speeds  []layout.MMPerSecond
	Pitches []layout.MM
	Passes  []int     // empty reads as 1 pass
	Tints   []float64 // of a tint row; empty reads as 0.05 to 0.95 in steps of 0.1
	OneBit  bool      // a raster for each setting even where the machine takes one of eight bits
}

// New lays a chart out: every power at every speed, pitch and number of passes.
// Neighbours are far apart in dose and in the order of burning, which is that of
// rising dose. What does not fit is refused with what would.
//
// For a machine with power per pixel, powers are moved to the nearest that eight
// bits can hold, by at most 0.2 % of full power. All swatches are then burned in one
// go, line by line, and only the gaps between them keep their heat apart.
func New(r Request) (Chart, error) {
	plan, err := r.plan()
	if err != nil {
		return Chart{}, err
	}
	grid, err := r.fit(len(plan.swatches))
	if err != nil {
		return Chart{}, err
	}
	c := Chart{Kind: r.Kind, Size: grid.chart, MarkSide: grid.mark, Machine: &r.Machine, Stack: r.Stack, Marks: grid.marks()}
	for place, rank := range spreadOut(len(plan.swatches), grid.cols) {
		s := plan.swatches[rank]
		row, col := place/grid.cols, place%grid.cols
		s.ID, s.Centre, s.Size = placeName(row, col), grid.centre(row, col), layout.Size{W: grid.side, H: grid.side}
		c.Swatches = append(c.Swatches, s)
	}
	c.References = grid.references()
	mark := markSetting(r.Machine, r.Stack, plan.settings)
	c.MarkSetting = &mark
	c.Rasters = plan.rasters()
	if err := c.Validate(); err != nil {
		return Chart{}, fmt.Errorf("chart: %w", err)
	}
	return c, nil
}

// plan is what is burned, in rising order of dose.
type plan struct {
	swatches []Swatch
	settings []burn.Setting
	eightBit bool
}

func (r Request) plan() (plan, error) {
	if err := r.validate(); err != nil {
		return plan{}, err
	}
	var p plan
	for _, passes := range r.passes() {
		for _, pitch := range r.Pitches {
			for _, speed := range r.Speeds {
				for _, power := range r.Powers {
					s := burn.Setting{PowerPercent: power, Speed: speed, Pitch: pitch, Passes: passes}
					if err := s.Validate(r.Machine); err != nil {
						return plan{}, err
					}
					p.settings = append(p.settings, s)
				}
			}
		}
	}
	p.eightBit = r.eightBit()
	if p.eightBit {
		p.settings = inEightBits(r.Machine, p.settings)
	}
	exponent := 1.0
	if r.Stack != nil {
		exponent = r.Stack.Curve.Passes()
	}
	slices.SortStableFunc(p.settings, func(a, b burn.Setting) int {
		return cmp.Compare(burn.Dose(r.Machine, a, exponent), burn.Dose(r.Machine, b, exponent))
	})
	for _, s := range p.settings {
		if r.Kind == Tints {
			for _, t := range r.tints() {
				p.swatches = append(p.swatches, Swatch{Setting: s, Tint: t})
			}
		}
		p.swatches = append(p.swatches, Swatch{Setting: s})
	}
	if n := len(p.swatches); n > MaxSwatches {
		return plan{}, fmt.Errorf("%d swatches are more than a chart's %d: give fewer powers, speeds, pitches or passes", n, MaxSwatches)
	}
	return p, nil
}

func (r Request) passes() []int {
	if len(r.Passes) == 0 {
		return []int{1}
	}
	return r.Passes
}

func (r Request) tints() []float64 {
	if len(r.Tints) > 0 {
		return r.Tints
	}
	return []float64{0.05, 0.15, 0.25, 0.35, 0.45, 0.55, 0.65, 0.75, 0.85, 0.95}
}

// eightBit tells whether one raster with a power for each dot can hold the chart.
func (r Request) eightBit() bool {
	return r.Machine.PowerPerPixel && !r.OneBit && r.Kind != Tints && len(r.Powers) > 1 &&
		len(r.Speeds) == 1 && len(r.Pitches) == 1 && len(r.passes()) == 1
}

func (r Request) validate() error {
	if err := r.Machine.Validate(); err != nil {
		return fmt.Errorf("machine: %w", err)
	}
	if r.Stack != nil {
		if err := r.Stack.Validate(); err != nil {
			return fmt.Errorf("stack: %w", err)
		}
	}
	if !slices.Contains(Kinds(), r.Kind) {
		return fmt.Errorf("chart of kind %q is not known: choose %q, %q, or none for solid swatches", r.Kind, Tints, Lines)
	}
	if err := r.Scrap.Validate(); err != nil {
		return fmt.Errorf("scrap: %w", err)
	}
	if !(r.Margin >= 0 && r.Margin <= layout.MaxLength) {
		return fmt.Errorf("margin %g mm is out of range: give 0 or more", float64(r.Margin))
	}
	if r.Side != 0 && !(r.Side >= minSide && r.Side <= maxSide) {
		return fmt.Errorf("swatch of %g mm is out of range: give %g to %g mm", float64(r.Side), float64(minSide), float64(maxSide))
	}
	if err := r.validateSeries(); err != nil {
		return err
	}
	return r.validateTints()
}

func (r Request) validateSeries() error {
	for _, list := range []struct {
		name string
		n    int
	}{{"power", len(r.Powers)}, {"speed", len(r.Speeds)}, {"pitch", len(r.Pitches)}} {
		if list.n == 0 {
			return fmt.Errorf("no %s is given: give at least one", list.name)
		}
	}
	if repeated(r.Powers) || repeated(r.Speeds) || repeated(r.Pitches) || repeated(r.passes()) {
		return fmt.Errorf("a power, speed, pitch or number of passes stands there twice: give each once")
	}
	if n := float64(len(r.Powers)) * float64(len(r.Speeds)) * float64(len(r.Pitches)) * float64(len(r.passes())); n > MaxSwatches {
		return fmt.Errorf("%g swatches are more than a chart's %d: give fewer powers, speeds, pitches or passes", n, MaxSwatches)
	}
	for _, p := range r.Powers {
		if p <= r.Machine.PowerOffsetPercent {
			return fmt.Errorf("power %g %% gives no light on this machine: choose more than %g %%", p, r.Machine.PowerOffsetPercent)
		}
	}
	if r.Kind == Lines && (len(r.Speeds) > 1 || len(r.Pitches) > 1 || len(r.passes()) > 1) {
		return fmt.Errorf("a line chart compares powers alone: give one speed, one pitch and one number of passes")
	}
	return nil
}

func (r Request) validateTints() error {
	if r.Kind != Tints {
		if len(r.Tints) > 0 {
			return fmt.Errorf("tints belong to a tint row: leave them out, or choose the kind %q", Tints)
		}
		return nil
	}
	if len(r.Powers) != 1 || len(r.Speeds) != 1 || len(r.Pitches) != 1 || len(r.passes()) != 1 {
		return fmt.Errorf("a tint row is burned at one setting: give one power, speed, pitch and number of passes")
	}
	for _, t := range r.Tints {
		if t == 0 {
			return fmt.Errorf("tint 0 is not burned at all: give %g to %g", MinTint, MaxTint)
		}
		if err := validateTint(t); err != nil {
			return err
		}
	}
	if repeated(r.Tints) {
		return fmt.Errorf("a tint stands there twice: give each once")
	}
	return nil
}

func repeated[T cmp.Ordered](values []T) bool {
	sorted := slices.Sorted(slices.Values(values))
	return len(slices.Compact(sorted)) < len(values)
}

// inEightBits moves powers to those that a raster of eight bits, burned at the
// highest of them, can hold. Two that fall together stay two swatches.
func inEightBits(m burn.Machine, settings []burn.Setting) []burn.Setting {
	full := highest(settings).PowerPercent
	moved := slices.Clone(settings)
	for i := range moved {
		step := max(1, math.Round(255*shareOf(m, moved[i].PowerPercent, full)))
		moved[i].PowerPercent = m.PowerOffsetPercent + step/255*(full-m.PowerOffsetPercent)
	}
	return moved
}

// shareOf is the share of the light at full that a power gives.
func shareOf(m burn.Machine, powerPercent, full float64) float64 {
	return m.OpticalW(powerPercent) / m.OpticalW(full)
}

func highest(settings []burn.Setting) burn.Setting {
	return slices.MaxFunc(settings, func(a, b burn.Setting) int { return cmp.Compare(a.PowerPercent, b.PowerPercent) })
}

// rasters lists the files in the order of burning.
func (p plan) rasters() []RasterFile {
	if p.eightBit {
		return []RasterFile{{File: "chart.png", Setting: highest(p.settings), EightBit: true}}
	}
	var all []RasterFile
	digits := max(2, len(fmt.Sprint(len(p.settings))))
	for i, s := range p.settings {
		all = append(all, RasterFile{File: fmt.Sprintf("chart-%0*d.png", digits, i+1), Setting: s})
	}
	return all
}
