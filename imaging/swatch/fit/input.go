package fit

import (
	"context"
	"fmt"
	"math"
	"sort"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
)

// leastSwatches is what the fewest unknowns ask for: one coat's break-through,
// its spread and a swatch to tell whether they fit.
const leastSwatches = 3

// input is what was read, in rising order of dose.
type input struct {
	stack   coat.Stack
	samples []sample
	leftOut int // swatches that could not be read
	tints   int // swatches of tint rows, which say nothing of the curve
	lines   int // lines of line charts, which say as little
	offset  float64
}

// gather checks the readings and makes them ready.
func gather(ctx context.Context, readings []swatch.Readings, stack coat.Stack, o Options) (*input, error) {
	if err := stack.Validate(); err != nil {
		return nil, fmt.Errorf("stack %q: %w", stack.Name, err)
	}
	if len(readings) == 0 {
		return nil, fmt.Errorf("no readings are given: read a photograph of the burned chart first")
	}
	machines, err := machinesOf(readings, o.Machine)
	if err != nil {
		return nil, err
	}
	in := &input{stack: stack.Clone()}
	known := fields{}
	for i, r := range readings {
		for _, s := range r.Swatches {
			id := s.ID
			if len(readings) > 1 {
				id = fmt.Sprintf("%d/%s", i+1, s.ID)
			}
			if err := in.take(ctx, id, s, machines[i], known); err != nil {
				return nil, err
			}
		}
	}
	if err := in.enough(); err != nil {
		return nil, err
	}
	if machines[0] != nil {
		in.offset = machines[0].PowerOffsetPercent
	}
	exponent := stack.Curve.Passes()
	sort.SliceStable(in.samples, func(i, j int) bool {
		a, _, _ := in.samples[i].lnDose(in.samples[i].offset, exponent)
		b, _, _ := in.samples[j].lnDose(in.samples[j].offset, exponent)
		return a < b
	})
	return in, in.telling()
}

// machinesOf names the machine of each chart. Charts of unlike light can only be
// put together where each says which machine burned it.
func machinesOf(readings []swatch.Readings, given *burn.Machine) ([]*burn.Machine, error) {
	machines := make([]*burn.Machine, len(readings))
	firstW := 0.0
	unnamed := false
	for i, r := range readings {
		if err := r.Validate(); err != nil {
			return nil, fmt.Errorf("readings %d: %w", i+1, err)
		}
		machines[i] = r.Machine
		if machines[i] == nil {
			machines[i] = given
		}
		unnamed = unnamed || machines[i] == nil
		for _, s := range r.Swatches {
			if s.LeftOut != "" {
				continue
			}
			if m := machines[i]; m != nil && math.Abs(s.OpticalPowerW/m.OpticalPowerW-1) > 1e-6 {
				return nil, fmt.Errorf("swatch %s was burned with %g W of light and its machine %q has %g W: give the machine that burned the chart",
					s.ID, s.OpticalPowerW, m.Name, m.OpticalPowerW)
			}
			if firstW == 0 {
				firstW = s.OpticalPowerW
			}
			if unnamed && math.Abs(s.OpticalPowerW/firstW-1) > 1e-6 {
				return nil, fmt.Errorf("the readings mix machines of %g W and %g W of light: fit the charts of one machine, or name each chart's machine",
					firstW, s.OpticalPowerW)
			}
		}
	}
	return machines, nil
}

// take adds one reading.
func (in *input) take(ctx context.Context, id string, r swatch.Reading, m *burn.Machine, known fields) error {
	switch {
	case r.LeftOut != "":
		in.leftOut++
		return nil
	case r.Tint != 0:
		in.tints++
		return nil
	case r.IsLine():
		in.lines++
		return nil
	}
	bands, err := known.of(ctx, m, r.Setting.Pitch)
	if err != nil {
		return fmt.Errorf("swatch %s: %w", id, err)
	}
	s := sample{id: id, setting: r.Setting, machine: m, fullW: r.OpticalPowerW, bands: bands}
	if m != nil {
		s.offset = m.PowerOffsetPercent
	}
	if r.Seen != "" {
		seen, err := swatch.ParseSeen(r.Seen, in.stack)
		if err != nil {
			return fmt.Errorf("swatch %s: %w", id, err)
		}
		s.eye, s.word = true, depthSeen(seen)
	} else {
		s.look = r.LinearRGB.Lab()
		s.steps = evenSteps(s.look)
	}
	in.samples = append(in.samples, s)
	return nil
}

func (in *input) enough() error {
	if n := len(in.samples); n < leastSwatches {
		also := ""
		if in.leftOut > 0 {
			also = fmt.Sprintf(" (%d could not be read)", in.leftOut)
		}
		return fmt.Errorf("%d swatches can be used%s and a fit needs at least %d: burn or read more", n, also, leastSwatches)
	}
	return nil
}

// telling refuses readings in which nothing changes with the dose.
func (in *input) telling() error {
	const alike = 2.0 // CIEDE2000: no more than two readings of one paint differ by
	first, last := &in.samples[0], &in.samples[len(in.samples)-1]
	if a, b := doseOf(first), doseOf(last); !(b > a*1.02) {
		return fmt.Errorf("all swatches were burned with the same dose, %.3g J/cm2: burn a chart over a range of powers", b)
	}
	widest, top := 0.0, 0.0
	var photo []*sample
	for i := range in.samples {
		s := &in.samples[i]
		if s.eye {
			if s.word.low > 0 || i > 0 && in.samples[i-1].eye && s.word != in.samples[i-1].word {
				return nil
			}
			continue
		}
		photo = append(photo, s)
		top = math.Max(top, colour.DE2000(s.look, in.stack.Coats[0].Colour.Linear().Lab()))
		widest = math.Max(widest, colour.DE2000(s.look, photo[0].look))
	}
	switch {
	case widest > alike:
		return nil
	case top < 12 || len(photo) == 0:
		return fmt.Errorf("nothing burned: all %d swatches up to %.3g J/cm2 look like the top coat, so burn a chart at higher powers or lower speeds",
			len(in.samples), doseOf(last))
	}
	return fmt.Errorf("all %d swatches look the same, from %.3g to %.3g J/cm2: burn a chart over a wider range of powers, and check that the photograph shows the chart",
		len(in.samples), doseOf(first), doseOf(last))
}

// doseOf is the mean dose at the machine's own power offset, of as many single
// passes.
func doseOf(s *sample) float64 {
	ln, _, _ := s.lnDose(s.offset, 1)
	return math.Exp(ln)
}

// varies tells whether the swatches differ in a part of their setting.
func (in *input) varies(of func(burn.Setting) float64, factor float64) bool {
	low, high := math.Inf(1), 0.0
	for _, s := range in.samples {
		v := of(s.setting)
		low, high = math.Min(low, v), math.Max(high, v)
	}
	return high > factor*low
}
