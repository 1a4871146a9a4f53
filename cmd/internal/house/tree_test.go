package house

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

// sourceFile is one parsed Go file. All files are read, whatever system or
// build tag they are for.
type sourceFile struct {
	name   string // from the top of the tree, with forward slashes
	syntax *ast.File
	fset   *token.FileSet
}

// folder is the package's folder from the top of the tree.
func (f sourceFile) folder() string { return path.Dir(f.name) }

func (f sourceFile) isTest() bool { return strings.HasSuffix(f.name, "_test.go") }

// at is a position as an editor opens it.
func (f sourceFile) at(node ast.Node) string {
	p := f.fset.Position(node.Pos())
	return p.String()
}

// parse reads one file from its text.
func parse(name, text string) (sourceFile, error) {
	fset := token.NewFileSet()
	syntax, err := parser.ParseFile(fset, name, text, parser.ParseComments|parser.SkipObjectResolution)
	return sourceFile{name: name, syntax: syntax, fset: fset}, err
}

// top is the folder that holds go.mod, seen from this one.
var top = filepath.Join("..", "..", "..")

// textFiles gives every file of the tree that people read or edit, by its name
// from the top. Pictures, fonts and what builds and failed tests
// leave behind are not among them.
var textFiles = sync.OnceValues(func() (map[string]string, error) {
	root := os.DirFS(top)
	files := map[string]string{}
	err := fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && (name == ".git" || name == "build" || strings.HasSuffix(name, "testdata/rapid") || strings.HasSuffix(name, "testdata/failed")):
			return fs.SkipDir
		case !d.Type().IsRegular():
			return nil
		}
		text, err := fs.ReadFile(root, name)
		if err != nil {
			return err
		}
		if isText(text) {
			files[name] = string(text)
		}
		return nil
	})
	return files, err
})

// isText tells by the first bytes, as version control does: a zero byte among
// them is no text.
func isText(data []byte) bool {
	return !strings.ContainsRune(string(data[:min(len(data), 8000)]), 0)
}

// goFiles parses every Go file of the tree.
func goFiles(t *testing.T) []sourceFile {
	t.Helper()
	texts, err := textFiles()
	require.NoError(t, err)
	var files []sourceFile
	for name, text := range texts {
		if !strings.HasSuffix(name, ".go") {
			continue
		}
		f, err := parse(name, text)
		require.NoError(t, err)
		files = append(files, f)
	}
	require.NotEmpty(t, files)
	return files
}

// requireNone fails with one fault a line.
func requireNone(t *testing.T, faults []string) {
	t.Helper()
	if len(faults) > 0 {
		t.Errorf("%d faults:\n%s", len(faults), strings.Join(faults, "\n"))
	}
}
