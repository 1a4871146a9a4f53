package translations

import (
	"bytes"
	"encoding/json"
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// blank is where something is filled into a text.
var blank = regexp.MustCompile(`\{\{[^}]*\}\}`)

var update = flag.Bool("update", false, "write text/en.json from the code")

// asked is every key that the window's code asks for, with its English.
func asked(t *testing.T) map[string]string {
	t.Helper()
	out := map[string]string{}
	files := token.NewFileSet()
	err := filepath.WalkDir("..", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		file, err := parser.ParseFile(files, path, nil, 0)
		if err != nil {
			return err
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			fun, ok := call.Fun.(*ast.SelectorExpr)
			if !ok {
				return true
			}
			if x, ok := fun.X.(*ast.Ident); !ok || x.Name != "lang" || fun.Sel.Name == "AddTranslationsFS" {
				return true
			}
			at := files.Position(call.Pos())
			require.Equal(t, "X", fun.Sel.Name, "%s: ask by key", at)
			key, english := text(t, call.Args[0]), text(t, call.Args[1])
			if before, ok := out[key]; ok {
				require.Equal(t, before, english, "%s: key %q has two texts", at, key)
			}
			out[key] = english
			return true
		})
		return nil
	})
	require.NoError(t, err)
	return out
}

func text(t *testing.T, e ast.Expr) string {
	t.Helper()
	lit, ok := e.(*ast.BasicLit)
	require.True(t, ok, "keys and texts stand in the call itself")
	s, err := strconv.Unquote(lit.Value)
	require.NoError(t, err)
	return s
}

func TestEveryTextHasItsKeyInEveryLanguage(t *testing.T) {
	want := asked(t)
	require.NotEmpty(t, want)
	if *update {
		var out bytes.Buffer
		e := json.NewEncoder(&out)
		e.SetEscapeHTML(false)
		e.SetIndent("", "  ")
		require.NoError(t, e.Encode(want))
		require.NoError(t, os.WriteFile("text/en.json", out.Bytes(), 0o644))
	}
	names, err := filepath.Glob("text/*.json")
	require.NoError(t, err)
	require.Contains(t, names, "text/en.json")
	for _, name := range names {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		var got map[string]string
		require.NoError(t, json.Unmarshal(data, &got), name)
		if name == "text/en.json" {
			require.Equal(t, want, got, "run go test ./ui/translations -update")
			continue
		}
		for key := range want {
			require.NotEmpty(t, got[key], "%s lacks %q", name, key)
			require.ElementsMatch(t, blank.FindAllString(want[key], -1), blank.FindAllString(got[key], -1), "%s: what is filled into %q", name, key)
		}
		for key := range got {
			require.Contains(t, want, key, "%s has a key nobody asks for", name)
		}
	}
}

func TestLoad(t *testing.T) { require.NoError(t, Load()) }
