package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/stretchr/testify/require"
)

// commandLines are the lines of a text that call the program, without its name;
// a backslash carries a line on, and double quotes hold words together.
func commandLines(text string) [][]string {
	var out [][]string
	for line := range strings.Lines(strings.ReplaceAll(text, "\\\n", " ")) {
		quoted := false
		fields := strings.FieldsFunc(strings.TrimSpace(line), func(r rune) bool {
			if r == '"' {
				quoted = !quoted
			}
			return r == '"' || unicode.IsSpace(r) && !quoted
		})
		if len(fields) > 1 && fields[0] == "undercoat-cli" {
			out = append(out, fields[1:])
		}
	}
	return out
}

// does runs a command line that must succeed and gives its standard output.
func does(t *testing.T, args ...string) string {
	t.Helper()
	var out, errs bytes.Buffer
	require.Equal(t, exitDone, run(t.Context(), args, &out, &errs), "undercoat-cli %s\n%s", strings.Join(args, " "), errs.String())
	return out.String()
}

// workshop is a new working folder with a picture in it, bright enough for a good
// part of it to burn. It is a PNG: the name of a picture's file does not count.
func workshop(t *testing.T) {
	t.Helper()
	photo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "goldens", "rose.png"))
	require.NoError(t, err)
	t.Chdir(t.TempDir())
	t.Setenv("XDG_CONFIG_HOME", filepath.Join(t.TempDir(), "config"))
	require.NoError(t, os.WriteFile("boat.jpg", photo, 0o600))
	require.NoError(t, os.WriteFile("orders.csv", []byte("order,picture,panel,pitch,copies\nharbour,boat.jpg,60x80mm,0.2mm,2\npier,boat.jpg,40x40mm,0.2mm,\n"), 0o600))
}

func TestEveryExampleOfTheReadmeRuns(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	lines := commandLines(string(text))
	require.GreaterOrEqual(t, len(lines), 5)
	workshop(t)
	for _, args := range lines {
		for _, name := range args[1:] {
			bring(t, name, "")
		}
		does(t, args...)
	}
	for _, name := range []string{"demo/raster.png", "demo/lighthouse.undercoat", "boat.undercoat", "boat/raster.png", "boat/proof.png", "boat/placement.txt", "boat/placement.json"} {
		require.FileExists(t, name)
	}
}

// TestEveryExampleOfTheHelpRuns runs what --help shows for each verb, on a small
// job called boat that is made and prepared already.
func TestEveryExampleOfTheHelpRuns(t *testing.T) {
	for _, cmd := range newRoot().Commands() {
		if cmd.Name() == "help" {
			continue
		}
		t.Run(cmd.Name(), func(t *testing.T) {
			help := does(t, cmd.Name(), "--help")
			require.NotContains(t, help, "[command]")
			_, examples, _ := strings.Cut(help, "\nExamples:\n")
			examples, _, _ = strings.Cut(examples, "\nFlags:\n")
			lines := commandLines(examples)
			require.NotEmpty(t, lines, "%s --help shows an example", cmd.Name())
			workshop(t)
			if all := fmt.Sprint(lines); cmd.Name() != "new" && strings.Contains(all, "boat.undercoat") || strings.Contains(all, "boat/") {
				does(t, "new", "-o", "boat.undercoat", "--picture", "boat.jpg", "--panel", "60x80mm", "--border", "3mm",
					"--pitch", "0.1mm", "--speed", "3000mm/min", "--power", "60")
				if strings.Contains(all, "boat/") {
					does(t, "prepare", "boat.undercoat", "-o", "boat", "--only", "raster")
				}
			}
			if cmd.Name() == "read" || cmd.Name() == "fit" {
				does(t, "chart", "--stack", "graphite-teal-sunflower", "--powers", "4:100:4", "--scrap", "120x90mm", "-o", "chart")
			}
			if cmd.Name() == "fit" {
				bring(t, "chart.jpg", "")
				does(t, "read", "chart.jpg", "--chart", "chart/chart.json", "-o", "readings.json")
			}
			if cmd.Name() == "compare" {
				does(t, "trial", "boat.undercoat", "-o", "trial", "--size", "30x25mm")
			}
			for _, args := range lines {
				require.Equal(t, cmd.Name(), args[0])
				for _, name := range args[1:] {
					bring(t, name, "")
				}
				does(t, args...)
			}
		})
	}
}

// The verbs of the library show examples of their own.
func TestEveryExampleOfTheLibrarysHelpRuns(t *testing.T) {
	before := map[string][][]string{
		"import": {{"library", "export", "slate-cream", "-o", "slate.json"}},
		"remove": {{"library", "export", "slate-cream", "-o", "slate.json"}, {"library", "import", "slate.json", "--name", "slate-on-birch"}},
	}
	for _, cmd := range newLibrary().Commands() {
		t.Run(cmd.Name(), func(t *testing.T) {
			workshop(t)
			for _, args := range before[cmd.Name()] {
				does(t, args...)
			}
			lines := commandLines(cmd.Example)
			require.NotEmpty(t, lines)
			for _, args := range lines {
				require.Equal(t, []string{"library", cmd.Name()}, args[:2])
				does(t, args...)
			}
		})
	}
}

// The README's table of verbs and the program's own list hold the same.
func TestTheReadmeKnowsEveryVerb(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	require.NoError(t, err)
	var told, has []string
	for line := range strings.Lines(string(text)) {
		if verb, found := strings.CutPrefix(line, "| `"); found {
			name, _, _ := strings.Cut(verb, "`")
			told = append(told, name)
		}
	}
	for _, cmd := range newRoot().Commands() {
		if cmd.Name() != "help" {
			has = append(has, cmd.Name())
		}
	}
	slices.Sort(told)
	slices.Sort(has)
	require.Equal(t, has, told)
}
