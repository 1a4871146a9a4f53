package library

import (
	"errors"
	"fmt"

	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/swatch"
)

// SaveCalibrated keeps a calibrated stack under a name, and the readings of the charts
// that it was fitted from beside it, so that they can be changed and fitted again. It
// gives the stack as it is kept: its origin names the readings. Without force nothing
// is replaced and, where something would have to be, nothing is kept.
func (l Library) SaveCalibrated(name string, stack coat.Stack, charts []swatch.Readings, force bool) (coat.Stack, error) {
	if l.dir == "" {
		return coat.Stack{}, errStarters
	}
	if stack.Curve.Origin == nil {
		return coat.Stack{}, fmt.Errorf("stack %q has no fitted curve: find the curve first", stack.Name)
	}
	stack = stack.Clone()
	stack.Curve.Origin.Readings = nil
	files := make([][]byte, len(charts))
	for i, r := range charts {
		data, err := r.JSON()
		if err != nil {
			return coat.Stack{}, err
		}
		files[i] = data
		stack.Curve.Origin.Readings = append(stack.Curve.Origin.Readings, fmt.Sprintf("%s-chart-%d", name, i+1))
	}
	data, err := stack.JSON()
	if err != nil {
		return coat.Stack{}, err
	}
	if err := l.checkFree(name, stack.Curve.Origin.Readings, force); err != nil {
		return coat.Stack{}, err
	}
	// The stack comes last: what it names is there by then.
	for i, called := range stack.Curve.Origin.Readings {
		if _, err := l.Save(called, files[i], force); err != nil {
			return coat.Stack{}, err
		}
	}
	_, err = l.Save(name, data, force)
	return stack, err
}

// checkFree tells whether a stack and readings can be kept under their names.
func (l Library) checkFree(stack string, readings []string, force bool) error {
	paths := []string{l.path(Stack, stack)}
	names := append([]string{stack}, readings...)
	for _, r := range readings {
		paths = append(paths, l.path(Readings, r))
	}
	for i, path := range paths {
		if err := CheckName(names[i]); err != nil {
			return err
		}
		if err := export.CheckFree(path, force); err != nil {
			return err
		}
	}
	return nil
}

// ReadingsOf are the kept readings that a calibrated stack was fitted from, by the names
// that its origin gives. A stack without any has none; one whose readings are not in
// this library is a [*NoEntryError].
func (l Library) ReadingsOf(stack coat.Stack) (names []string, charts []swatch.Readings, err error) {
	if stack.Curve.Origin == nil {
		return nil, nil, nil
	}
	var errs []error
	for _, name := range stack.Curve.Origin.Readings {
		r, err := read(l, Readings, name, swatch.ReadReadings)
		if err != nil {
			errs = append(errs, err)
			continue
		}
		names, charts = append(names, name), append(charts, r)
	}
	return names, charts, errors.Join(errs...)
}
