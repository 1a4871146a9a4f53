package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
)

// wrapped breaks a text between words into lines at most width wide. A word that
// is wider keeps a line to itself. A width of 0, before there is one, breaks nothing.
func wrapped(text string, size float32, style fyne.TextStyle, width float32) []string {
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	if width <= 0 {
		return []string{strings.Join(words, " ")}
	}
	lines := words[:1:1]
	for _, word := range words[1:] {
		last := &lines[len(lines)-1]
		if longer := *last + " " + word; measure(longer, size, style).Width <= width {
			*last = longer
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}
