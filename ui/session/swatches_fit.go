package session

import (
	"context"
	"slices"
	"strings"
	"time"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/swatch"
	"undercoat/imaging/swatch/fit"
)

// FittedCurve is what charts have told of a stack.
type FittedCurve struct {
	fit.Result
	Before  coat.Stack // as it was
	Machine string     // that burned the charts; empty where they do not say

	charts []swatch.Readings // that it was found from
}

// FitCurve finds the curve of the job's stack from charts that were burned into it. It
// takes its time: call it beside the window.
func (s *Session) FitCurve(ctx context.Context, charts []ChartReading, progress func(float64)) (*FittedCurve, error) {
	if len(charts) == 0 {
		return nil, errNoReadings
	}
	d := s.Document()
	readings := readingsOf(charts)
	r, err := fit.Fit(ctx, readings, d.Stack, fit.Options{Machine: &d.Machine, Progress: progress})
	if err != nil {
		return nil, err
	}
	f := &FittedCurve{Result: r, Before: d.Stack, charts: readings}
	origin := f.Stack.Curve.Origin
	origin.Date = time.Now().Format(dateLayout)
	if origin.Machine == "" {
		origin.Machine = d.Machine.Name
	}
	f.Machine = origin.Machine
	f.Stack.Name = calibratedName(d.Stack.Name, origin.Date)
	return f, nil
}

// calibratedName is what a stack is called once it is calibrated. What its name says of
// an earlier curve no longer holds.
func calibratedName(name, date string) string {
	for _, was := range []string{" (starter values)", " (calibrated "} {
		if at := strings.Index(name, was); at > 0 {
			name = name[:at]
		}
	}
	return name + " (calibrated " + date + ")"
}

// Suits tells whether a document still has the stack that was fitted, with the old
// curve or with the new one.
func (f *FittedCurve) Suits(d job.Document) bool {
	return d.Stack.Equal(f.Before) || f.InUse(d)
}

// InUse tells whether a document has the new curve.
func (f *FittedCurve) InUse(d job.Document) bool {
	return d.Stack.Equal(f.Stack) && (!f.PowerOffsetFitted || d.Machine.PowerOffsetPercent == f.PowerOffsetPercent)
}

// UseCurve puts a fitted curve into the job as one step: the stack, and the power
// offset of the machine where the doses hold with it alone.
func (s *Session) UseCurve(step string, f *FittedCurve) error {
	return s.Edit(step, "", func(d *job.Document) error {
		d.Stack = f.Stack.Clone()
		if f.PowerOffsetFitted {
			d.Machine.PowerOffsetPercent = f.PowerOffsetPercent
		}
		return nil
	})
}

// KeepCurve keeps the calibrated stack in a library with the readings that it was found
// from. A job that has the curve takes over where they are kept, as one step.
func (s *Session) KeepCurve(step string, f *FittedCurve, l library.Library, name string, replace bool) error {
	kept, err := l.SaveCalibrated(name, f.Stack, f.charts, replace)
	if err != nil {
		return err
	}
	used := f.InUse(s.Document())
	f.Stack = kept
	if !used {
		return nil
	}
	return s.Edit(step, "", func(d *job.Document) error {
		d.Stack = kept.Clone()
		return nil
	})
}

// KeptReadings are the readings that a library keeps beside the job's stack. What is
// kept no more is an error, beside those that are.
func (s *Session) KeptReadings(l library.Library) ([]ChartReading, error) {
	names, charts, err := l.ReadingsOf(s.Document().Stack)
	out := make([]ChartReading, len(charts))
	for i, r := range charts {
		out[i] = ChartReading{Name: names[i], Readings: r, measured: slices.Clone(r.Swatches)}
	}
	return out, err
}

// HasKeptReadings tells whether the job's stack names readings in a library.
func HasKeptReadings(d job.Document) bool {
	o := d.Stack.Curve.Origin
	return o != nil && len(o.Readings) > 0
}
