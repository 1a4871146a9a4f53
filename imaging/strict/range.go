package strict

import "fmt"

// Range is a value of a file, by its name there, and the closed range it must lie in.
type Range struct {
	Name             string
	Value, Low, High float64
	Unit             string
}

// In is a Range.
func In(name string, value, low, high float64, unit string) Range {
	return Range{name, value, low, high, unit}
}

// Within is the error of the first value out of its range; NaN is out of every range.
func Within(ranges ...Range) error {
	for _, r := range ranges {
		if !(r.Value >= r.Low && r.Value <= r.High) {
			return fmt.Errorf("%s %g is out of range: give %g to %g %s", r.Name, r.Value, r.Low, r.High, r.Unit)
		}
	}
	return nil
}
