package lettering

import (
	"fmt"
	"slices"
	"strconv"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"
)

// cluster is a letter with the marks that stand on it.
type cluster struct {
	base  rune
	marks []rune
}

func (c cluster) text() string { return string(append([]rune{c.base}, c.marks...)) }

// readText takes a line apart into letters with their marks, in the composed
// form of Unicode, so that "e" and a combining acute accent are one letter if
// there is one. What no eye can see (soft hyphens, joiners, marks of direction)
// is dropped. Writing that needs more than letters side by side is refused.
func readText(text string) ([]cluster, error) {
	var clusters []cluster
	for _, r := range norm.NFC.String(text) {
		if why := unsettable(r); why != "" {
			return nil, fmt.Errorf("the text has %s", why)
		}
		switch {
		case unseen(r):
		case isMark(r) && len(clusters) > 0:
			last := &clusters[len(clusters)-1]
			last.marks = append(last.marks, r)
		default:
			clusters = append(clusters, cluster{base: r})
		}
	}
	return clusters, nil
}

// isMark tells the marks that take no room of their own.
func isMark(r rune) bool { return unicode.In(r, unicode.Mn, unicode.Me) }

// apart is the letter with its marks written apart, if it is made of several.
func (c cluster) apart() cluster {
	parts := []rune(norm.NFD.String(string(c.base)))
	return cluster{base: parts[0], marks: append(parts[1:], c.marks...)}
}

// cautions tells what comes out nearly right only.
func cautions(clusters []cluster) []string {
	var said []string
	for _, c := range clusters {
		if len(c.marks) == 0 {
			continue
		}
		caution := fmt.Sprintf("the marks on %q are placed by their shape, not by the font's rules: look at them closely", c.text())
		if unicode.In(c.base, unicode.Thai, unicode.Lao) {
			caution = "the marks on Thai and Lao letters are placed by their shape, not by the font's rules: look at them closely"
		}
		if !slices.Contains(said, caution) {
			said = append(said, caution)
		}
	}
	return said
}

// unseen tells characters that take no place on the panel.
func unseen(r rune) bool {
	return unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r) || r == '\u034f'
}

// neighbourly scripts change the order or the shape of their letters with what
// stands beside them. Source: The Unicode Standard, version 15.0, chapters 12,
// 13, 14, 16 and 17 (Brahmi-derived scripts of South and South-East Asia), from memory.
var neighbourly = []string{
	"Devanagari", "Bengali", "Gurmukhi", "Gujarati", "Oriya", "Tamil", "Telugu", "Kannada", "Malayalam",
	"Sinhala", "Tibetan", "Myanmar", "Khmer", "Balinese", "Javanese", "Sundanese", "Tai_Tham", "Cham",
	"Limbu", "Lepcha", "Meetei_Mayek", "Chakma", "Newa", "Grantha", "Tirhuta", "Kaithi", "Sharada",
	"Mongolian", "Phags_Pa", "Buginese", "Batak", "Rejang", "Syloti_Nagri", "Saurashtra", "Brahmi",
}

// unsettable says why a character cannot be set, or nothing.
func unsettable(r rune) string {
	switch {
	case r == '\n' || r == '\r' || r == '\u2028' || r == '\u2029':
		return "a line break: write each line by itself"
	case unicode.IsControl(r):
		return fmt.Sprintf("the control character %U: leave it out", r)
	case rightToLeft(r):
		return fmt.Sprintf("%s letters (%s), which run from right to left and may join, and letters are set side by side from left to right here: bring this line in as a picture", script(r), quoted(string(r)))
	}
	for _, name := range neighbourly {
		if unicode.Is(unicode.Scripts[name], r) {
			return fmt.Sprintf("%s letters (%s), whose shape and order depend on their neighbours, and letters are set one by one here: bring this line in as a picture", script(r), quoted(string(r)))
		}
	}
	return ""
}

// rightToLeft tells the blocks that Unicode keeps for writing from right to
// left. Source: Unicode Character Database 15.0, extracted/DerivedBidiClass.txt,
// the header's default bidirectional classes R and AL, from memory.
func rightToLeft(r rune) bool {
	return r >= 0x0590 && r <= 0x08ff || r >= 0xfb1d && r <= 0xfdff || r >= 0xfe70 && r <= 0xfefe ||
		r >= 0x10800 && r <= 0x10fff || r >= 0x1e800 && r <= 0x1efff
}

// script names the script of a character.
func script(r rune) string {
	for name, table := range unicode.Scripts {
		if name != "Common" && name != "Inherited" && unicode.Is(table, r) {
			return name
		}
	}
	return "foreign"
}

// quoted shows a letter so that it can be told from its likes.
func quoted(letter string) string {
	if r, size := utf8.DecodeRuneInString(letter); size < len(letter) || unicode.IsPrint(r) && !isMark(r) {
		return strconv.Quote(letter)
	}
	return fmt.Sprintf("%U", []rune(letter)[0])
}

// standIns are what may take the place of a character that a font leaves out:
// they look the same.
func standIns(r rune) []rune {
	switch {
	case unicode.Is(unicode.Zs, r):
		return []rune{' '}
	case r == '\u2010' || r == '\u2011': // hyphens
		return []rune{'-'}
	case r == '\u2015': // horizontal bar
		return []rune{'\u2014'}
	}
	return nil
}
