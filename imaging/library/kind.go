package library

import (
	"encoding/json"
	"fmt"
	"strings"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/strict"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// Kind is a kind of entry.
type Kind string

// The kinds of entries, in the order in which they are listed.
const (
	Stack    Kind = "stack"
	Machine  Kind = "machine"
	Panel    Kind = "panel"
	Rates    Kind = "rates"
	Readings Kind = "readings" // of burned charts
)

// Kinds lists every kind.
func Kinds() []Kind { return []Kind{Stack, Machine, Panel, Rates, Readings} }

// ParseKind reads the name of a kind.
func ParseKind(text string) (Kind, error) {
	var names []string
	for _, k := range Kinds() {
		if string(k) == text {
			return k, nil
		}
		names = append(names, string(k))
	}
	return "", fmt.Errorf("%q is no kind of entry: choose %s", text, strings.Join(names, ", "))
}

// shape is what is particular to a kind.
type shape struct {
	marked  string // the kind that its files name
	folder  string
	title   func(data []byte) (string, error) // reads the whole entry
	names   func() []string                   // of the starters
	starter func(name string) ([]byte, bool)
}

var shapes = map[Kind]shape{
	Stack: {coat.Kind, "stacks", func(data []byte) (string, error) {
		s, err := coat.ReadStack(data)
		return s.Name, err
	}, assets.StackNames, assets.Stack},
	Machine: {burn.MachineKind, "machines", func(data []byte) (string, error) {
		m, err := burn.ReadMachine(data)
		return m.Name, err
	}, assets.MachineNames, assets.Machine},
	Panel: {PanelKind, "panels", func(data []byte) (string, error) {
		p, err := ReadPanel(data)
		return p.Name, err
	}, assets.PanelNames, assets.Panel},
	Rates: {export.RatesKind, "rates", func(data []byte) (string, error) {
		r, err := export.ReadRates(data)
		return "in " + r.Currency, err
	}, noNames, noStarter},
	Readings: {swatch.ReadingsKind, "readings", func(data []byte) (string, error) {
		r, err := swatch.ReadReadings(data)
		return fmt.Sprintf("of %d swatches", len(r.Swatches)), err
	}, noNames, noStarter},
}

func noNames() []string               { return nil }
func noStarter(string) ([]byte, bool) { return nil, false }

// kindOf tells the kind of an entry from its file.
func kindOf(data []byte) (Kind, error) {
	var head struct {
		Kind string `json:"kind"`
	}
	// Whatever else is wrong with the file, its own reader says it better.
	_ = json.Unmarshal(data, &head)
	var known []string
	for _, k := range Kinds() {
		if shapes[k].marked == head.Kind {
			return k, nil
		}
		known = append(known, shapes[k].marked)
	}
	return "", fmt.Errorf("kind is %q: choose a file whose kind is one of %s", head.Kind, strings.Join(known, ", "))
}

// The kind and version of panel files.
const (
	PanelKind    = "undercoat-panel"
	PanelVersion = 1
)

// PanelEntry is a panel with a name.
type PanelEntry struct {
	Kind    string       `json:"kind"`
	Version int          `json:"version"`
	Name    string       `json:"name"`
	Panel   layout.Panel `json:"panel"`
}

// ReadPanel reads a panel file strictly.
func ReadPanel(data []byte) (PanelEntry, error) {
	var p PanelEntry
	if err := strict.Decode(data, &p); err != nil {
		return PanelEntry{}, fmt.Errorf("panel file: %w", err)
	}
	if p.Kind != PanelKind || p.Version != PanelVersion {
		return PanelEntry{}, fmt.Errorf("panel file: kind is %q and version %d: write %q and %d", p.Kind, p.Version, PanelKind, PanelVersion)
	}
	return p, p.Panel.Validate()
}

// JSON is the panel as a file. Equal panels give equal bytes.
func (p PanelEntry) JSON() ([]byte, error) {
	if err := p.Panel.Validate(); err != nil {
		return nil, err
	}
	p.Kind, p.Version = PanelKind, PanelVersion
	data, err := json.MarshalIndent(p, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("panel %q: %w", p.Name, err)
	}
	return append(data, '\n'), nil
}
