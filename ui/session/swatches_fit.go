package session

import (
	"context"
	"strings"
	"time"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch/fit"
)

// FittedCurve is what charts have told of a stack.
type FittedCurve struct {
	fit.Result
	Before  coat.Stack // as it was
	Machine string     // that burned the charts; empty where they do not say
}

// FitCurve finds the curve of the job's stack from charts that were burned into it. It
// takes its time: call it beside the window.
func (s *Session) FitCurve(ctx context.Context, charts []ChartReading, progress func(float64)) (*FittedCurve, error) {
	if len(charts) == 0 {
		return nil, errNoReadings
	}
	d := s.Document()
	r, err := fit.Fit(ctx, readingsOf(charts), d.Stack, fit.Options{Machine: &d.Machine, Progress: progress})
	if err != nil {
		return nil, err
	}
	f := &FittedCurve{Result: r, Before: d.Stack}
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
