package job

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/strict"
	"undercoat/layout"
)

// FindStack is the stack that a person named: a starter entry by its name, or a
// JSON file by its path. An empty name is the first starter entry.
func FindStack(name string) (coat.Stack, error) {
	data, err := find(name, "stack", assets.StackNames(), assets.Stack)
	if err != nil {
		return coat.Stack{}, err
	}
	s, err := coat.ReadStack(data)
	if err != nil {
		return coat.Stack{}, fmt.Errorf("%s: %w", name, err)
	}
	return s, nil
}

// FindMachine is the machine that a person named: a starter entry by its name,
// or a JSON file by its path. An empty name is the first starter entry.
func FindMachine(name string) (burn.Machine, error) {
	data, err := find(name, "machine", assets.MachineNames(), assets.Machine)
	if err != nil {
		return burn.Machine{}, err
	}
	m, err := burn.ReadMachine(data)
	if err != nil {
		return burn.Machine{}, fmt.Errorf("%s: %w", name, err)
	}
	return m, nil
}

// FindPanel is a starter panel and what it is called.
func FindPanel(name string) (layout.Panel, string, error) {
	data, err := find(name, "panel", assets.PanelNames(), assets.Panel)
	if err != nil {
		return layout.Panel{}, "", err
	}
	var entry struct {
		Kind    string       `json:"kind"`
		Version int          `json:"version"`
		Name    string       `json:"name"`
		Panel   layout.Panel `json:"panel"`
	}
	if err := strict.Decode(data, &entry); err != nil {
		return layout.Panel{}, "", fmt.Errorf("panel %s: %w", name, err)
	}
	return entry.Panel, entry.Name, entry.Panel.Validate()
}

func find(name, what string, names []string, starter func(string) ([]byte, bool)) ([]byte, error) {
	if name == "" {
		name = names[0]
	}
	if data, ok := starter(name); ok {
		return data, nil
	}
	if !isPath(name) {
		sorted := slices.Sorted(slices.Values(names))
		return nil, fmt.Errorf("there is no %s called %q: choose one of %s, or name a JSON file", what, name, strings.Join(sorted, ", "))
	}
	return ReadBytes(name)
}

// isPath tells a file from a mistyped name.
func isPath(name string) bool {
	if strings.ContainsAny(name, `/\`) || strings.HasSuffix(name, ".json") {
		return true
	}
	_, err := os.Stat(name)
	return err == nil
}
