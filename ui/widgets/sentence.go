package widgets

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence gives what an error or a caution of this program says a capital letter
// and a full stop. A name of a file or of a field at its beginning stays as it is.
func Sentence(text string) string {
	if text == "" {
		return ""
	}
	word, _, _ := strings.Cut(text, " ")
	if !strings.ContainsAny(strings.TrimRight(word, ".:,;"), "./\\_") {
		first, size := utf8.DecodeRuneInString(text)
		text = string(unicode.ToUpper(first)) + text[size:]
	}
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}
