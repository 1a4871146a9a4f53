package house

import (
	"fmt"
	"go/ast"
	"path"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// vagueNames say nothing of what a package is for.
var vagueNames = []string{"utils", "util", "common", "helpers", "helper", "misc", "shared"}

// packageFaults holds one folder's files, tests aside, to one package comment,
// which stands in doc.go (a command's may open main.go) and begins with the
// name, as the documentation tools expect.
func packageFaults(folder string, files []sourceFile) []string {
	var faults []string
	fault := func(format string, args ...any) {
		faults = append(faults, folder+": "+fmt.Sprintf(format, args...))
	}
	if slices.Contains(vagueNames, path.Base(folder)) {
		fault("a package is named after what it does")
	}
	documented := 0
	for _, f := range files {
		comment := packageComment(f.syntax)
		if comment == "" {
			continue
		}
		documented++
		places, begins := []string{"doc.go"}, []string{"package " + f.syntax.Name.Name + " "}
		if f.syntax.Name.Name == "main" {
			places = append(places, "main.go")
			begins = []string{"command " + path.Base(folder) + " ", path.Base(folder) + " "}
		}
		if file := path.Base(f.name); !slices.Contains(places, file) {
			fault("the package comment stands in %s, not in %s", places[0], file)
		}
		words := strings.ToLower(strings.ReplaceAll(comment, "\n", " "))
		if !slices.ContainsFunc(begins, func(b string) bool { return strings.HasPrefix(words, b) }) {
			fault("the package comment begins with %q", begins[0])
		}
	}
	if documented != 1 {
		fault("%d files hold a package comment, where one should", documented)
	}
	return faults
}

// packageComment leaves out directives, which are no words to a reader.
func packageComment(f *ast.File) string {
	if f.Doc == nil {
		return ""
	}
	return strings.TrimSpace(f.Doc.Text())
}

func TestEveryPackageIsDocumented(t *testing.T) {
	folders := map[string][]sourceFile{}
	for _, f := range goFiles(t) {
		if !f.isTest() {
			folders[f.folder()] = append(folders[f.folder()], f)
		}
	}
	var faults []string
	for folder, files := range folders {
		faults = append(faults, packageFaults(folder, files)...)
	}
	slices.Sort(faults)
	requireNone(t, faults)
}

func TestPackageRuleSeesOffenders(t *testing.T) {
	cases := []struct {
		name, file, text string
		want             string
	}{
		{"well documented", "imaging/burn/doc.go", "// Package burn tells the dose.\npackage burn", ""},
		{"a command", "cmd/undercoat/doc.go", "// Command undercoat opens the bench.\npackage main", ""},
		{"a command by its name", "cmd/undercoat/main.go", "// Undercoat opens the bench.\npackage main", ""},
		{"a command without its name", "cmd/undercoat/main.go", "// Opens the bench.\npackage main", "begins with"},
		{"no comment", "imaging/burn/doc.go", "package burn", "0 files hold"},
		{"only a directive", "imaging/burn/doc.go", "//go:debug x=1\npackage burn", "0 files hold"},
		{"comment elsewhere", "imaging/burn/dose.go", "// Package burn tells the dose.\npackage burn", "not in dose.go"},
		{"wrong beginning", "imaging/burn/doc.go", "// Tells the dose.\npackage burn", "begins with"},
		{"name says nothing", "imaging/utils/doc.go", "// Package utils does things.\npackage utils", "named after what it does"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			f, err := parse(c.file, c.text)
			require.NoError(t, err)
			got := strings.Join(packageFaults(f.folder(), []sourceFile{f}), "\n")
			if c.want == "" {
				require.Empty(t, got)
				return
			}
			require.Contains(t, got, c.want)
		})
	}
}
