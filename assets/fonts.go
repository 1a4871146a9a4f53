package assets

import (
	"embed"
	"slices"
)

//go:embed fonts
var fontFiles embed.FS

// fonts are the built-in fonts in the order in which they are offered. They go by
// what they look like; whose work each is stands in its licence.
var fonts = []struct{ name, file, licence string }{
	{"serif", "Caladea-Regular.ttf", "Caladea-LICENCE.txt"},
	{"serif-bold", "Caladea-Bold.ttf", "Caladea-LICENCE.txt"},
	{"sans", "Tuffy-Regular.ttf", "Tuffy-LICENCE.txt"},
	{"sans-bold", "Tuffy-Bold.ttf", "Tuffy-LICENCE.txt"},
	{"round", "Quicksand-Bold.ttf", "Quicksand-LICENCE.txt"},
	{"narrow", "YanoneKaffeesatz-Bold.otf", "YanoneKaffeesatz-LICENCE.txt"},
	{"slab", "RobotoSlab-Regular.otf", "RobotoSlab-LICENCE.txt"},
	{"slab-bold", "RobotoSlab-Bold.otf", "RobotoSlab-LICENCE.txt"},
	{"script", "DancingScript-Bold.otf", "DancingScript-LICENCE.txt"},
	{"brush", "KaushanScript-Regular.otf", "KaushanScript-LICENCE.txt"},
}

// DefaultFont is the one to begin with: it holds at small sizes and has Latin,
// Greek and Cyrillic letters.
const DefaultFont = "sans-bold"

// FontNames lists the built-in fonts. The slice is the caller's.
func FontNames() []string {
	names := make([]string, len(fonts))
	for i, f := range fonts {
		names[i] = f.name
	}
	return names
}

// Font is the TTF or OTF file of a built-in font, unchanged from its makers;
// false if there is none of that name. The slice is the caller's.
func Font(name string) ([]byte, bool) {
	for _, f := range fonts {
		if f.name == name {
			data, err := fontFiles.ReadFile("fonts/" + f.file)
			return slices.Clone(data), err == nil
		}
	}
	return nil, false
}

// FontLicence is the licence of a built-in font with its makers' names; false if
// there is none of that name.
func FontLicence(name string) (string, bool) {
	for _, f := range fonts {
		if f.name == name {
			text, err := fontFiles.ReadFile("fonts/" + f.licence)
			return string(text), err == nil
		}
	}
	return "", false
}
