package coat

import (
	"bytes"
	"encoding/json"
	"fmt"

	"undercoat/imaging/strict"
)

// ReadStack reads a stack file. A field that it does not know, a missing one
// that no default could stand in for, and a value out of its range are refused
// by their path in the file, e.g. coats[1].thickness_um.
func ReadStack(data []byte) (Stack, error) {
	var s Stack
	if err := strict.Decode(data, &s); err != nil {
		return Stack{}, fmt.Errorf("stack file: %w", err)
	}
	if s.Kind != Kind {
		return Stack{}, fmt.Errorf("stack file: kind is %q: choose a file whose kind is %q", s.Kind, Kind)
	}
	if s.Version != Version {
		return Stack{}, fmt.Errorf("stack file: version is %d: this program reads version %d, a newer one may read the file", s.Version, Version)
	}
	if err := missing(data); err != nil {
		return Stack{}, fmt.Errorf("stack file: %w", err)
	}
	if err := s.Validate(); err != nil {
		return Stack{}, fmt.Errorf("stack file: %w", err)
	}
	return s, nil
}

// missing reports the first field that was left out although its zero is a
// value in its own right: black, or depth 0. All other gaps are out of range.
func missing(data []byte) error {
	type coloured struct {
		Colour *json.RawMessage `json:"colour"`
	}
	var has struct {
		Coats  []coloured `json:"coats"`
		Ground coloured   `json:"ground"`
		Curve  struct {
			Points []struct {
				DepthUM *json.RawMessage `json:"depth_um"`
			} `json:"points"`
		} `json:"curve"`
	}
	if err := json.Unmarshal(data, &has); err != nil {
		return err
	}
	for i, c := range has.Coats {
		if c.Colour == nil {
			return fmt.Errorf("coats[%d].colour is missing: write, for instance, \"#2b2d30\"", i)
		}
	}
	if has.Ground.Colour == nil {
		return fmt.Errorf("ground.colour is missing: write, for instance, \"#f2efe6\"")
	}
	for i, p := range has.Curve.Points {
		if p.DepthUM == nil {
			return fmt.Errorf("curve.points[%d].depth_um is missing: write how deep that dose burns", i)
		}
	}
	return nil
}

// JSON is the stack as a file: indented, with a fixed order of fields, ending
// in a newline. The same stack always gives the same bytes.
func (s Stack) JSON() ([]byte, error) {
	if err := s.Validate(); err != nil {
		return nil, err
	}
	s.Kind, s.Version = Kind, Version
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(s); err != nil {
		return nil, fmt.Errorf("stack %q: %w", s.Name, err)
	}
	return b.Bytes(), nil
}
