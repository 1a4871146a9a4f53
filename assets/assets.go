package assets

import (
	"embed"
	_ "embed" // for the single files below
	"slices"
)

//go:embed stacks machines panels
var files embed.FS

// The entries in the order in which they are offered, the demo's first: what is
// used where nothing is named.
var (
	stackNames = []string{
		"graphite-teal-sunflower",
		"slate-cream",
		"night-white-navy",
		"sunset-four",
		"chalk-moss-pine",
		"black-on-tile",
	}
	machineNames = []string{
		"diode-10w",
		"diode-5w5",
		"diode-1w6",
	}
	panelNames = []string{
		"board-300x400",
		"canvas-8x10in",
		"canvas-9x12in",
		"canvas-11x14in",
		"canvas-12x12in",
		"canvas-12x16in",
		"canvas-16x20in",
		"canvas-24x36in",
		"board-a4",
		"board-a3",
		"board-300x300",
		"tile-6in",
		"tile-8in",
		"tile-12in",
	}
)

// StackNames lists the starter stacks, the demo's first. The slice is the caller's.
func StackNames() []string { return slices.Clone(stackNames) }

// MachineNames lists the starter machines, the demo's first. The slice is the caller's.
func MachineNames() []string { return slices.Clone(machineNames) }

// PanelNames lists the starter panels, the demo's first. The slice is the caller's.
func PanelNames() []string { return slices.Clone(panelNames) }

// Stack is the JSON of a starter stack, as coat.ReadStack reads it; false if
// there is none of that name.
func Stack(name string) ([]byte, bool) { return entry("stacks", stackNames, name) }

// Machine is the JSON of a starter machine, as burn.ReadMachine reads it; false
// if there is none of that name.
func Machine(name string) ([]byte, bool) { return entry("machines", machineNames, name) }

// Panel is the JSON of a starter panel: an object with kind "undercoat-panel",
// version 1, a name, and the panel as layout.Panel reads it; false if there is
// none of that name.
func Panel(name string) ([]byte, bool) { return entry("panels", panelNames, name) }

func entry(folder string, names []string, name string) ([]byte, bool) {
	if !slices.Contains(names, name) {
		return nil, false
	}
	data, err := files.ReadFile(folder + "/" + name + ".json")
	return data, err == nil
}

//go:embed icon.png
var icon []byte

// Icon is the program's icon, a PNG of 512 x 512 pixels.
func Icon() []byte { return slices.Clone(icon) }

//go:embed LICENCES.md
var licences string

// Licences names what in this folder was not made for this project, and the
// terms it comes under, as Markdown.
func Licences() string { return licences }
