package house

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// module is how the project's own packages begin.
const module = "undercoat/"

// imagingOrder lists the rooms of imaging from the bottom up: each may import
// those before it.
var imagingOrder = []string{
	"colour", "strict", "process", "folders", "plane", "picture/lettering", "picture", "resample", "picture/suggest", "coat",
	"burn", "swatch", "swatch/simulate", "swatch/beam", "swatch/photo", "swatch/fit",
	"screen", "proof", "match", "scene", "export", "sheet", "library", "job", "compare", "batch",
}

// owners names for each third-party package the one place of the program that may
// name it, so that replacing a library touches one place. Letters are outlined in
// more than one. A place that ends in a slash holds its sub-folders too.
var owners = map[string][]string{
	"codeberg.org/go-pdf/fpdf":       {"imaging/sheet"},
	"fyne.io/fyne/v2":                {"ui/", "cmd/undercoat"},
	"github.com/adrg/xdg":            {"imaging/folders"},
	"github.com/disintegration/gift": {"imaging/picture"},
	"github.com/google/renameio/v2":  {"imaging/export"},
	"github.com/nfnt/resize":         {"imaging/resample"},
	"github.com/spf13/cobra":         {"cmd/undercoat-cli"},
	"github.com/spf13/pflag":         {"cmd/undercoat-cli"},
	"github.com/kovidgoyal/imaging":  {"imaging/picture"},
	"golang.org/x/image/bmp":         {"imaging/picture"},
	"golang.org/x/image/font":        {"imaging/picture/lettering", "imaging/proof", "assets/make"},
	"golang.org/x/image/math/fixed":  {"imaging/picture/lettering", "imaging/proof", "assets/make"},
	"golang.org/x/image/tiff":        {"imaging/picture"},
	"golang.org/x/image/vector":      {"assets/make"},
	"golang.org/x/image/webp":        {"imaging/picture"},
	"golang.org/x/text":              {"imaging/picture/lettering"},
	"gonum.org/v1/gonum/interp":      {"imaging/coat"},
	"gonum.org/v1/gonum/mat":         {"imaging/swatch/fit", "imaging/compare"},
	"gonum.org/v1/gonum/optimize":    {"imaging/swatch/fit"},
	"gonum.org/v1/gonum/stat":        {"imaging/swatch/fit"},
}

// testTools may be named in any test, and in nothing but tests.
var testTools = []string{
	"github.com/arran4/golang-ical",
	"github.com/rogpeppe/go-internal",
	"github.com/santhosh-tekuri/jsonschema/v6",
	"github.com/stretchr/testify",
	"go.uber.org/goleak",
	"pgregory.net/rapid",
}

// importFault says what is wrong with a file of a folder importing a package;
// nothing when all is well.
func importFault(folder string, isTest bool, imported string) string {
	switch {
	case strings.HasPrefix(imported, module):
		return directionFault(folder, isTest, strings.TrimPrefix(imported, module))
	case isStandard(imported):
		return ""
	default:
		return ownerFault(folder, isTest, imported)
	}
}

// isStandard tells the standard library: only others begin with a host's name.
func isStandard(imported string) bool {
	first, _, _ := strings.Cut(imported, "/")
	return !strings.Contains(first, ".")
}

// directionFault holds imports within the project to one direction: layout and
// assets at the bottom, imaging on them, ui on both, and the commands on top.
// The tests of assets may read the starter entries as imaging does.
func directionFault(folder string, isTest bool, imported string) string {
	from, to := room(folder), room(imported)
	floor := map[string]int{"layout": 0, "assets": 0, "imaging": 1, "ui": 2, "cmd": 3}
	for _, r := range []string{from, to} {
		if _, known := floor[r]; !known {
			return fmt.Sprintf("%s is no folder of this project", r)
		}
	}
	switch {
	case folder == imported:
		return "" // a test outside the package it tests
	case from == "assets" && isTest && floor[to] <= floor["imaging"]:
		return ""
	case from == "layout" || from == "assets":
		return from + " imports the standard library and nothing else"
	case from == "imaging" && to == "imaging":
		return orderFault(folder, imported)
	case floor[to] > floor[from]:
		return fmt.Sprintf("%s may not import %s, which stands on it", from, to)
	case folder == "ui/session" && to == "ui":
		return "the session knows no widget"
	}
	return ""
}

// room is the first folder of a path. The program that draws the starter
// pictures lives beside them and counts as a command.
func room(folder string) string {
	if folder == "assets/make" {
		return "cmd"
	}
	first, _, _ := strings.Cut(folder, "/")
	return first
}

func orderFault(folder, imported string) string {
	below := slices.Index(imagingOrder, strings.TrimPrefix(imported, "imaging/"))
	above := slices.Index(imagingOrder, strings.TrimPrefix(folder, "imaging/"))
	switch {
	case above < 0:
		return folder + " has no place in the order of imaging: give it one in imagingOrder"
	case below < 0:
		return imported + " has no place in the order of imaging: give it one in imagingOrder"
	case below >= above:
		return fmt.Sprintf("%s stands below %s and may not import it", folder, imported)
	}
	return ""
}

// ownerFault holds each third-party package to its one place.
func ownerFault(folder string, isTest bool, imported string) string {
	within := func(root string) bool {
		return imported == root || strings.HasPrefix(imported, root+"/")
	}
	if slices.ContainsFunc(testTools, within) {
		if isTest {
			return ""
		}
		return imported + " is for tests only"
	}
	for root, places := range owners {
		if !within(root) {
			continue
		}
		if folder == "ui/session" && root == "fyne.io/fyne/v2" {
			return "the session runs without the toolkit"
		}
		for _, place := range places {
			if folder == place || strings.HasSuffix(place, "/") && strings.HasPrefix(folder+"/", place) {
				return ""
			}
		}
		return fmt.Sprintf("%s is named in %s only", imported, strings.Join(places, " and "))
	}
	return imported + " is in no table: add it to owners, and to the dependency table for developers"
}

func TestImportsPointDownAndLibrariesHaveOnePlace(t *testing.T) {
	var faults []string
	for _, f := range goFiles(t) {
		for _, spec := range f.syntax.Imports {
			imported, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			if fault := importFault(f.folder(), f.isTest(), imported); fault != "" {
				faults = append(faults, fmt.Sprintf("%s: imports %s: %s", f.at(spec), imported, fault))
			}
		}
	}
	requireNone(t, faults)
}

func TestImportRuleSeesOffenders(t *testing.T) {
	const source, test = false, true
	cases := []struct {
		name     string
		folder   string
		isTest   bool
		imported string
		want     string // part of the fault; empty where there is none
	}{
		{"layout on the standard library", "layout", source, "encoding/json", ""},
		{"layout on a library", "layout", source, "gonum.org/v1/gonum/interp", "named in imaging/coat only"},
		{"layout on imaging", "layout", source, "undercoat/imaging/colour", "standard library and nothing else"},
		{"layout's own outside test", "layout", test, "undercoat/layout", ""},
		{"layout's test on a test tool", "layout", test, "github.com/stretchr/testify/require", ""},
		{"source on a test tool", "layout", source, "pgregory.net/rapid", "tests only"},
		{"assets on imaging", "assets", source, "undercoat/imaging/plane", "standard library and nothing else"},
		{"a test of assets on imaging", "assets", test, "undercoat/imaging/coat", ""},
		{"a test of assets on the window", "assets", test, "undercoat/ui/session", "standard library and nothing else"},
		{"a test of layout on imaging", "layout", test, "undercoat/imaging/coat", "standard library and nothing else"},
		{"the maker of the demo picture", "assets/make", source, "undercoat/imaging/plane", ""},
		{"imaging on layout", "imaging/burn", source, "undercoat/layout", ""},
		{"imaging downwards", "imaging/proof", source, "undercoat/imaging/coat", ""},
		{"imaging upwards", "imaging/coat", source, "undercoat/imaging/proof", "stands below"},
		{"imaging upwards in a test", "imaging/coat", test, "undercoat/imaging/burn", "stands below"},
		{"imaging on the window", "imaging/job", source, "undercoat/ui/session", "stands on it"},
		{"a room within a room", "imaging/picture", source, "undercoat/imaging/picture/lettering", ""},
		{"a room nobody placed", "imaging/extras", source, "undercoat/imaging/coat", "no place in the order"},
		{"the window on imaging", "ui/bench", source, "undercoat/imaging/job", ""},
		{"the window on a command", "ui/bench", source, "undercoat/cmd/undercoat", "stands on it"},
		{"the session on a widget", "ui/session", source, "undercoat/ui/widgets", "knows no widget"},
		{"the session on the toolkit", "ui/session", source, "fyne.io/fyne/v2", "without the toolkit"},
		{"a widget on the toolkit", "ui/widgets", source, "fyne.io/fyne/v2/canvas", ""},
		{"imaging on the toolkit", "imaging/job", source, "fyne.io/fyne/v2", "named in ui/"},
		{"the command line on the toolkit", "cmd/undercoat-cli", test, "fyne.io/fyne/v2", "named in ui/"},
		{"a library out of its place", "imaging/proof", source, "github.com/nfnt/resize", "imaging/resample only"},
		{"a library in no table", "imaging/proof", source, "example.org/new/thing", "in no table"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := importFault(c.folder, c.isTest, c.imported)
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
		})
	}
}
