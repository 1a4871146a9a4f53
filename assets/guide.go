package assets

import (
	"embed"
	"io/fs"
	"path"
	"slices"
	"strings"
)

//go:embed guide
var guide embed.FS

// guideContents is the guide's table of contents; it is not a chapter itself.
const guideContents = "README.md"

// GuideChapter is a chapter of the guide for makers.
type GuideChapter struct {
	File  string // what other chapters' links call it, as "06-framing.md"
	Title string
	// Markdown is the chapter without its title: headings, paragraphs, lists, quotes,
	// indented command lines, emphasis, links to other chapters' files and to
	// pictures/NAME.png. There are no tables and no HTML in it. Bold words are those that
	// stand in the window.
	Markdown string
}

// GuideChapters is the guide in the order in which it is read. The slice is the
// caller's.
func GuideChapters() []GuideChapter {
	files, err := fs.Glob(guide, "guide/*.md")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	slices.Sort(files)
	var chapters []GuideChapter
	for _, file := range files {
		name := path.Base(file)
		if name == guideContents {
			continue
		}
		text, err := guide.ReadFile(file)
		if err != nil {
			panic(err) // it has just been listed
		}
		title, rest, _ := strings.Cut(string(text), "\n")
		chapters = append(chapters, GuideChapter{
			File: name, Title: strings.TrimPrefix(title, "# "), Markdown: strings.TrimLeft(rest, "\n"),
		})
	}
	return chapters
}

// GuidePicture is a picture of the guide, a PNG, by the name that chapters link to, as
// "pictures/panel-light.png"; false if there is none of that name.
func GuidePicture(name string) ([]byte, bool) {
	if path.Dir(name) != "pictures" || path.Ext(name) != ".png" {
		return nil, false
	}
	data, err := guide.ReadFile("guide/" + name)
	return data, err == nil
}
