package house

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var (
	// requirement is a line of go.mod that asks for a module.
	requirement = regexp.MustCompile(`(?m)^(?:require)?\s+(\S+\.\S+/\S+) (v\S+)`)
	// dependencyRow begins a row of the table for developers.
	dependencyRow = regexp.MustCompile("(?m)^\\| `([^`]+)` \\| (v\\S+) \\|")
)

// versions reads pairs of module and version.
func versions(rule *regexp.Regexp, text string) map[string]string {
	found := map[string]string{}
	for _, m := range rule.FindAllStringSubmatch(text, -1) {
		found[m[1]] = m[2]
	}
	return found
}

// dependencyFaults compares what is imported and what go.mod asks for with what
// developers are told.
func dependencyFaults(imported []string, goMod, table map[string]string) []string {
	var faults []string
	used := map[string]bool{}
	for _, path := range imported {
		for module := range goMod {
			if path == module || strings.HasPrefix(path, module+"/") {
				used[module] = true
			}
		}
	}
	for module := range used {
		if table[module] != goMod[module] {
			faults = append(faults, fmt.Sprintf("%s is used at %s, the table says %q", module, goMod[module], table[module]))
		}
	}
	for module, version := range table {
		if goMod[module] != version {
			faults = append(faults, fmt.Sprintf("%s stands in the table at %s, go.mod says %q", module, version, goMod[module]))
		}
	}
	slices.Sort(faults)
	return slices.Compact(faults)
}

func TestDependencyTableIsTrue(t *testing.T) {
	texts, err := textFiles()
	require.NoError(t, err)
	var imported []string
	for _, f := range goFiles(t) {
		for _, spec := range f.syntax.Imports {
			path, err := strconv.Unquote(spec.Path.Value)
			require.NoError(t, err)
			imported = append(imported, path)
		}
	}
	goMod, table := versions(requirement, texts["go.mod"]), versions(dependencyRow, texts["DEVELOPERS.md"])
	require.NotEmpty(t, goMod)
	require.NotEmpty(t, table)
	requireNone(t, dependencyFaults(imported, goMod, table))
}

func TestDependencyRuleSeesOffenders(t *testing.T) {
	goMod := versions(requirement, "module x\n\nrequire (\n\texample.org/a/v2 v2.1.0\n\texample.org/b v0.1.0 // indirect\n)\nrequire example.org/c v1.0.0\n")
	require.Equal(t, map[string]string{"example.org/a/v2": "v2.1.0", "example.org/b": "v0.1.0", "example.org/c": "v1.0.0"}, goMod)
	table := versions(dependencyRow, "| package | version |\n| --- | --- |\n| `example.org/a/v2` | v2.1.0 | MIT |\n| `example.org/c` | v0.9.0 | MIT |\n")

	require.Empty(t, dependencyFaults([]string{"fmt", "example.org/a/v2/part"}, goMod, map[string]string{"example.org/a/v2": "v2.1.0"}))
	require.Len(t, dependencyFaults([]string{"example.org/b"}, goMod, map[string]string{}), 1, "used and not listed")
	require.Len(t, dependencyFaults(nil, goMod, table), 1, "listed at another version")
}
