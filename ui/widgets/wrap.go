package widgets

import (
	"strings"
	"unicode/utf8"

	"fyne.io/fyne/v2"
)

// wrapped breaks a text between words into lines at most width wide. A word that
// is wider, such as a path, is broken where the line ends. A width of 0, before
// there is one, breaks nothing.
func wrapped(text string, size float32, style fyne.TextStyle, width float32) []string {
	words := strings.Fields(text)
	if len(words) == 0 {
		return nil
	}
	if width <= 0 {
		return []string{strings.Join(words, " ")}
	}
	fits := func(s string) bool { return measure(s, size, style).Width <= width }
	lines := []string{""}
	for i, word := range words {
		if i+1 < len(words) && words[i+1] == "%" {
			words[i+1] = word + " %" // a number and its sign stay together
			continue
		}
		last := &lines[len(lines)-1]
		if longer := strings.TrimPrefix(*last+" "+word, " "); fits(longer) {
			*last = longer
			continue
		}
		pieces := broken(word, fits)
		if *last == "" {
			*last, pieces = pieces[0], pieces[1:]
		}
		lines = append(lines, pieces...)
	}
	return lines
}

// broken cuts a word into pieces that fit, each of a letter at the least.
func broken(word string, fits func(string) bool) []string {
	var pieces []string
	for !fits(word) {
		cut := len(word)
		for cut > 0 && !fits(word[:cut]) {
			_, letter := utf8.DecodeLastRuneInString(word[:cut])
			cut -= letter
		}
		if cut == 0 {
			_, cut = utf8.DecodeRuneInString(word)
		}
		if cut == len(word) {
			break
		}
		pieces, word = append(pieces, word[:cut]), word[cut:]
	}
	return append(pieces, word)
}
