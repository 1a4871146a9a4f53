package job

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/export"
	"undercoat/imaging/library"
	"undercoat/layout"
)

// FindStack is the stack that a person named: an entry of the user's library, a
// starter entry, or a JSON file by its path. An empty name is that of the user's
// defaults, or else the first starter entry.
func FindStack(name string) (coat.Stack, error) {
	return find(name, library.Library.Stack, coat.ReadStack)
}

// FindMachine is the machine that a person named, in the same way.
func FindMachine(name string) (burn.Machine, error) {
	return find(name, library.Library.Machine, burn.ReadMachine)
}

// FindPanel is the panel that a person named, in the same way, and what it is called.
func FindPanel(name string) (layout.Panel, string, error) {
	p, err := find(name, library.Library.Panel, library.ReadPanel)
	return p.Panel, p.Name, err
}

// FindRates are the price rates that a person named, in the same way; none come
// with the program.
func FindRates(name string) (export.Rates, error) {
	return find(name, library.Library.Rates, export.ReadRates)
}

func find[T any](name string, entry func(library.Library, string) (T, error), parse func([]byte) (T, error)) (T, error) {
	v, err := entry(library.Open(), name)
	var none *library.NoEntryError
	if !errors.As(err, &none) || !isPath(name) {
		return v, err
	}
	data, err := ReadBytes(name)
	if err != nil {
		return v, err
	}
	if v, err = parse(data); err != nil {
		return v, fmt.Errorf("%s: %w", name, err)
	}
	return v, nil
}

// isPath tells a file from a mistyped name.
func isPath(name string) bool {
	if strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".json") {
		return true
	}
	_, err := os.Stat(name)
	return err == nil
}
