package library

import (
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"undercoat/imaging/strict"
	"undercoat/layout"
)

// The kind and version of the defaults' file.
const (
	DefaultsKind    = "undercoat-defaults"
	DefaultsVersion = 1
)

// Defaults are the entries that serve where none is named, and the unit that
// lengths are read and shown in. What is empty is the program's own choice.
type Defaults struct {
	Kind    string `json:"kind"`
	Version int    `json:"version"`
	Stack   string `json:"stack,omitempty"`
	Machine string `json:"machine,omitempty"`
	Panel   string `json:"panel,omitempty"`
	Rates   string `json:"rates,omitempty"`
	Unit    string `json:"unit,omitempty"` // mm, cm or in
}

func (d Defaults) of(kind Kind) string {
	return map[Kind]string{Stack: d.Stack, Machine: d.Machine, Panel: d.Panel, Rates: d.Rates}[kind]
}

func (l Library) defaultsPath() string { return filepath.Join(l.dir, "defaults"+extension) }

// Defaults reads the defaults; none at all is no error.
func (l Library) Defaults() (Defaults, error) {
	none := Defaults{Kind: DefaultsKind, Version: DefaultsVersion}
	if l.dir == "" {
		return none, nil
	}
	data, err := readEntry(l.defaultsPath())
	if errors.Is(err, fs.ErrNotExist) {
		return none, nil
	}
	if err != nil {
		return none, err
	}
	d, err := ReadDefaults(data)
	if err != nil {
		return none, err
	}
	return d, nil
}

// ReadDefaults reads a file of defaults strictly.
func ReadDefaults(data []byte) (Defaults, error) {
	var d Defaults
	if err := strict.Decode(data, &d); err != nil {
		return Defaults{}, fmt.Errorf("defaults: %w", err)
	}
	if d.Kind != DefaultsKind || d.Version != DefaultsVersion {
		return Defaults{}, fmt.Errorf("defaults: kind is %q and version %d: write %q and %d", d.Kind, d.Version, DefaultsKind, DefaultsVersion)
	}
	if d.Unit != "" {
		if _, err := layout.ParseUnit(d.Unit); err != nil {
			return Defaults{}, fmt.Errorf("defaults: unit: %w", err)
		}
	}
	return d, nil
}

// SetDefaults keeps defaults, each of which must name an entry that can be used.
func (l Library) SetDefaults(d Defaults) error {
	if l.dir == "" {
		return errStarters
	}
	for _, kind := range Kinds() {
		name := d.of(kind)
		if name == "" {
			continue
		}
		data, err := l.Bytes(kind, name)
		if err != nil {
			return err
		}
		if _, err := shapes[kind].title(data); err != nil {
			return fmt.Errorf("%s %s: %w", kind, name, err)
		}
	}
	d.Kind, d.Version = DefaultsKind, DefaultsVersion
	data, err := json.MarshalIndent(d, "", "  ")
	if err != nil {
		return fmt.Errorf("defaults: %w", err)
	}
	if _, err := ReadDefaults(data); err != nil {
		return err
	}
	return write(l.defaultsPath(), append(data, '\n'), true)
}
