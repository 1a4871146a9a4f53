package session

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/beam"
	"undercoat/layout"
)

// FittedBeam is how wide the beam is by what it burned, as a machine's file holds it.
type FittedBeam struct {
	Along, Across layout.MM // Along is 0 where only the width across the lines is known
	SD            float64   // standard error, as a share of either
}

// HasTints tells whether swatches of a tint row have been read on a chart.
func (c *ChartReading) HasTints() bool {
	return slices.ContainsFunc(c.Readings.Swatches, func(s swatch.Reading) bool { return s.Tint > 0 && s.LinearRGB != nil })
}

// FitBeam finds the beam from a tint row that was read, by the curve of the job's stack.
// It takes its time: call it beside the window.
func (s *Session) FitBeam(ctx context.Context, c ChartReading) (FittedBeam, error) {
	d := s.Document()
	if !d.Stack.Curve.Calibrated {
		return FittedBeam{}, errors.New("the job's stack has no fitted curve, and tints tell of the beam only by it: find and use the curve first")
	}
	model, err := d.Stack.Compile(coat.Options{})
	if err != nil {
		return FittedBeam{}, err
	}
	r := readingsOf([]ChartReading{c})[0]
	f, err := beam.FromReadings(ctx, r, d.Machine, model, job.ChartScreen)
	if err != nil {
		return FittedBeam{}, err
	}
	return FittedBeam{f.Along, f.Across, f.WidthSD}, nil
}

// FitBeamLines finds the beam across the lines from the widths of a line chart's lines,
// one for each in rising order of power; 0 is a line that does not show.
func FitBeamLines(chart swatch.Chart, widths []layout.MM) (FittedBeam, error) {
	lines := slices.Clone(chart.Swatches)
	slices.SortStableFunc(lines, func(a, b swatch.Swatch) int { return cmp.Compare(a.Setting.PowerPercent, b.Setting.PowerPercent) })
	if len(widths) != len(lines) {
		return FittedBeam{}, fmt.Errorf("%d widths are given and the chart has %d lines: give one for each in rising order of power, 0 for one that does not show", len(widths), len(lines))
	}
	offset := 0.0
	if chart.Machine != nil {
		offset = chart.Machine.PowerOffsetPercent
	}
	var seen []beam.Line
	for i, l := range lines {
		if widths[i] > 0 {
			seen = append(seen, beam.Line{Level: l.Setting.PowerPercent - offset, Width: widths[i]})
		}
	}
	f, err := beam.FromLines(seen)
	if err != nil {
		return FittedBeam{}, err
	}
	return FittedBeam{Across: f.Width, SD: float64(f.WidthSD / f.Width)}, nil
}

// beamStep is how finely a fitted beam is written into the machine.
const beamStep = 0.001 // mm

// UseBeam puts a fitted beam into the job's machine as one step.
func (s *Session) UseBeam(step string, f FittedBeam) error {
	rounded := func(l layout.MM) layout.MM { return layout.MM(math.Round(float64(l)/beamStep) * beamStep) }
	return s.Edit(step, "", func(d *job.Document) error {
		if f.Along > 0 {
			d.Machine.BeamAlong = rounded(f.Along)
		}
		d.Machine.BeamAcross = rounded(f.Across)
		return nil
	})
}
