package assets_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/export"
)

var (
	guidePictureLink = regexp.MustCompile(`!\[([^\]]*)\]\(([^)]+)\)`)
	guideChapterLink = regexp.MustCompile(`[^!]\[[^\]]*\]\(([^)]+)\)|^\[[^\]]*\]\(([^)]+)\)`)
	guideBold        = regexp.MustCompile(`\*\*([^*]+)\*\*`)
)

func guideContents(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile("guide/README.md")
	require.NoError(t, err)
	return string(text)
}

// chapterLinks are the files of chapters that a text links to.
func chapterLinks(text string) []string {
	var files []string
	for _, m := range guideChapterLink.FindAllStringSubmatch(text, -1) {
		files = append(files, m[1]+m[2])
	}
	return files
}

func TestGuideContentsListEveryChapterInOrder(t *testing.T) {
	var files []string
	for _, c := range assets.GuideChapters() {
		files = append(files, c.File)
		require.NotEmpty(t, c.Title, c.File)
		require.Contains(t, guideContents(t), "["+c.Title+"]("+c.File+")")
	}
	require.GreaterOrEqual(t, len(files), 15)
	require.Equal(t, files, chapterLinks(guideContents(t)))
}

func TestGuideLinksLeadToChapters(t *testing.T) {
	known := map[string]bool{}
	for _, c := range assets.GuideChapters() {
		known[c.File] = true
	}
	links := 0
	for _, c := range assets.GuideChapters() {
		for _, file := range chapterLinks(c.Markdown) {
			require.True(t, known[file], "%s links to %s", c.File, file)
			links++
		}
	}
	require.NotZero(t, links)
}

// What shows Markdown in the window knows neither tables nor HTML.
func TestGuideKeepsToPlainMarkdown(t *testing.T) {
	html := regexp.MustCompile(`<[a-z/!]`)
	for _, c := range assets.GuideChapters() {
		require.NotContains(t, c.Markdown, "\n|", c.File)
		require.False(t, html.MatchString(c.Markdown), c.File)
		require.NotContains(t, c.Markdown, "```", c.File)
		require.False(t, strings.HasPrefix(c.Markdown, "# ") || strings.Contains(c.Markdown, "\n# "), "%s has one title", c.File)
	}
}

func TestGuideHoldsEveryCaution(t *testing.T) {
	text := " " + strings.Join(strings.Fields(assets.GuideChapters()[0].Markdown), " ") + " "
	for _, c := range export.Cautions() {
		require.Contains(t, text, " - "+c+" ")
	}
}

// screenshots are the names of the screens that are photographed: the first word of
// each scene in the tests of the window.
func screenshots(t *testing.T) map[string]bool {
	t.Helper()
	files, err := filepath.Glob("../cmd/undercoat/*_test.go")
	require.NoError(t, err)
	names := map[string]bool{}
	for _, file := range files {
		syntax, err := parser.ParseFile(token.NewFileSet(), file, nil, 0)
		require.NoError(t, err)
		ast.Inspect(syntax, func(n ast.Node) bool {
			list, ok := n.(*ast.CompositeLit)
			if !ok || !isSceneList(list) {
				return true
			}
			for _, e := range list.Elts {
				if name, ok := sceneName(e); ok {
					names[name] = true
				}
			}
			return true
		})
	}
	return names
}

func isSceneList(list *ast.CompositeLit) bool {
	array, ok := list.Type.(*ast.ArrayType)
	if !ok {
		return false
	}
	of, ok := array.Elt.(*ast.Ident)
	return ok && of.Name == "scene"
}

func sceneName(e ast.Expr) (string, bool) {
	scene, ok := e.(*ast.CompositeLit)
	if !ok || len(scene.Elts) == 0 {
		return "", false
	}
	first := scene.Elts[0]
	if named, ok := first.(*ast.KeyValueExpr); ok {
		first = named.Value
	}
	text, ok := first.(*ast.BasicLit)
	if !ok || text.Kind != token.STRING {
		return "", false
	}
	name, err := strconv.Unquote(text.Value)
	return name, err == nil
}

func TestGuideShowsScreensThatArePhotographed(t *testing.T) {
	scenes := screenshots(t)
	require.Contains(t, scenes, "panel")
	count := 0
	for _, c := range assets.GuideChapters() {
		for _, m := range guidePictureLink.FindAllStringSubmatch(c.Markdown, -1) {
			name, found := strings.CutPrefix(m[2], "pictures/")
			require.True(t, found, "%s: %s", c.File, m[2])
			name, found = strings.CutSuffix(name, "-light.png")
			require.True(t, found, "%s: %s is in the light theme", c.File, m[2])
			require.True(t, scenes[name], "%s: %s is no screen that make screenshots takes", c.File, m[2])
			require.NotEmpty(t, m[1], "%s says what %s shows", c.File, m[2])
			count++
		}
	}
	require.GreaterOrEqual(t, count, 10)
}

// Every picture in the folder is one that a chapter shows, and each can be read. A
// chapter's picture may be missing until make guide has been run.
func TestGuidePictures(t *testing.T) {
	linked := map[string]bool{}
	for _, c := range assets.GuideChapters() {
		for _, m := range guidePictureLink.FindAllStringSubmatch(c.Markdown, -1) {
			linked[m[2]] = true
		}
	}
	files, err := filepath.Glob("guide/pictures/*.png")
	require.NoError(t, err)
	for _, file := range files {
		name := "pictures/" + filepath.Base(file)
		require.True(t, linked[name], "no chapter shows %s", name)
		data, ok := assets.GuidePicture(name)
		require.True(t, ok)
		_, err := png.DecodeConfig(bytes.NewReader(data))
		require.NoError(t, err, name)
	}
	for _, name := range []string{"", "pictures/none.png", "01-before-you-start.md", "pictures/../README.md", "../assets/icon.png"} {
		_, ok := assets.GuidePicture(name)
		require.False(t, ok, name)
	}
}

// Bold words name what stands in the window, so they must stand there.
func TestGuideCallsThingsAsTheWindowDoes(t *testing.T) {
	data, err := os.ReadFile("../ui/translations/text/en.json")
	require.NoError(t, err)
	var texts map[string]string
	require.NoError(t, json.Unmarshal(data, &texts))
	shown := map[string]bool{}
	for _, text := range texts {
		shown[text] = true
	}
	count := 0
	for _, c := range assets.GuideChapters() {
		for _, m := range guideBold.FindAllStringSubmatch(c.Markdown, -1) {
			words := strings.Join(strings.Fields(m[1]), " ")
			require.True(t, shown[words], "%s: %q does not stand in the window", c.File, words)
			count++
		}
	}
	require.GreaterOrEqual(t, count, 30)
}
