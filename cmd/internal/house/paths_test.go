package house

import (
	"fmt"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

var (
	// machinePath is a folder where people or build machines keep their files,
	// named from the root: true on one computer only.
	machinePath = regexp.MustCompile(`(?:^|[\s"'` + "`" + `=(\[:,])(/(?:home|Users|root|tmp|work|workspace|builds|mnt|srv)/[\w.-]+|[A-Z]:\\\w+)`)

	// upwardPath climbs out of a folder: it may not climb out of the project.
	upwardPath = regexp.MustCompile(`(?:\.\./)+[\w.-]*`)
)

// pathFaults finds what points out of the project in one text file.
func pathFaults(name, text string) []string {
	var faults []string
	for i, line := range strings.Split(text, "\n") {
		at := fmt.Sprintf("%s:%d", name, i+1)
		if m := machinePath.FindStringSubmatch(line); m != nil {
			faults = append(faults, fmt.Sprintf("%s: %s is a folder of one computer", at, m[1]))
		}
		for _, up := range upwardPath.FindAllString(line, -1) {
			if strings.HasPrefix(path.Join(path.Dir(name), up), "..") {
				faults = append(faults, fmt.Sprintf("%s: %s lies outside the project", at, up))
			}
		}
	}
	return faults
}

// exempt files name such paths on purpose: this one, to see that they are found.
var exempt = []string{"cmd/internal/house/paths_test.go"}

func TestNothingPointsOutOfTheProject(t *testing.T) {
	files, err := textFiles()
	require.NoError(t, err)
	var faults []string
	for name, text := range files {
		if !slices.Contains(exempt, name) {
			faults = append(faults, pathFaults(name, text)...)
		}
	}
	slices.Sort(faults)
	requireNone(t, faults)
}

func TestPathRuleSeesOffenders(t *testing.T) {
	cases := []struct {
		name, file, line string
		want             string
	}{
		{"data beside the code", "imaging/burn/a_test.go", `os.ReadFile("../../testdata/exif.csv")`, ""},
		{"the top itself", ".ci/run", `cd "$(dirname "$0")/.."`, ""},
		{"an address", "README.md", "see https://example.org/home/page", ""},
		{"a device", "cmd/a_test.go", `"/dev/full"`, ""},
		{"a person's folder", "cmd/a.go", `open("/home/someone/x.png")`, "folder of one computer"},
		{"a scratch folder", "Makefile", "OUT = /tmp/out", "folder of one computer"},
		{"a build folder", "go.mod", "replace x => /srv/x", "folder of one computer"},
		{"a drive", "cmd/a.go", `"C:\Users"`, "folder of one computer"},
		{"a neighbour of the project", "imaging/burn/a_test.go", `"../../../elsewhere/data.csv"`, "outside the project"},
		{"a neighbour of the top", "Makefile", "DATA = ../elsewhere", "outside the project"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			got := strings.Join(pathFaults(c.file, c.line), "\n")
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
		})
	}
}
