package swatch

import (
	"fmt"
	"strings"

	"undercoat/imaging/coat"
)

// Seen is what an eye made out on a swatch. Layers count from the top coat, 0, to
// the ground.
type Seen struct {
	Layer    int  // what shows most
	Second   int  // what shows about as much, or -1
	Mostly   bool // something else shows as well
	Scorched bool // the ground has darkened; Layer is the ground
}

// The shares of area that the words stand for. An eye calls a mesh with a tenth of
// another paint by the name of the first; common practice, no source.
const (
	seenAll    = 0.85 // "teal": at least this much
	seenMostly = 0.5  // "mostly teal": from this to seenAll
	seenPart   = 0.25 // "teal and sunflower": each at least this much
)

// ParseSeen reads what an eye saw on a swatch of a stack: a coat's name, "top
// coat", "ground" or the ground's name, "scorched", "mostly NAME", or "NAME and
// NAME". Case does not count.
func ParseSeen(text string, stack coat.Stack) (Seen, error) {
	words := strings.Join(strings.Fields(strings.ToLower(text)), " ")
	if words == "scorched" {
		return Seen{Layer: len(stack.Coats), Second: -1, Scorched: true}, nil
	}
	if layer, ok := layerNamed(words, stack); ok {
		return Seen{Layer: layer, Second: -1}, nil
	}
	if rest, ok := strings.CutPrefix(words, "mostly "); ok {
		if layer, ok := layerNamed(rest, stack); ok {
			return Seen{Layer: layer, Second: -1, Mostly: true}, nil
		}
	}
	// A name may itself hold the word, so every place is tried.
	const and = " and "
	for i := 0; i+len(and) <= len(words); i++ {
		if words[i:i+len(and)] != and {
			continue
		}
		one, ok1 := layerNamed(words[:i], stack)
		two, ok2 := layerNamed(words[i+len(and):], stack)
		if ok1 && ok2 && one != two {
			return Seen{Layer: min(one, two), Second: max(one, two)}, nil
		}
	}
	return Seen{}, fmt.Errorf("seen %q is not understood: write one of %s, scorched, or mostly NAME, or NAME and NAME",
		shortened(text), strings.Join(SeenNames(stack), ", "))
}

// SeenNames are the names that a stack's layers go by, from the top down, the
// plain ones first.
func SeenNames(stack coat.Stack) []string {
	names := []string{"top coat"}
	for _, c := range stack.Coats {
		if c.Name != "" {
			names = append(names, c.Name)
		}
	}
	return append(names, "ground")
}

func layerNamed(word string, stack coat.Stack) (int, bool) {
	for i, c := range stack.Coats {
		if word != "" && word == strings.ToLower(c.Name) {
			return i, true
		}
	}
	switch word {
	case "":
	case "top coat", "top", "untouched":
		return 0, true
	case "ground", strings.ToLower(stack.Ground.Name):
		return len(stack.Coats), true
	}
	return 0, false
}

// Share is the range of the area, 0..1, on which a layer shows.
func (s Seen) Share(layer int) (low, high float64) {
	switch {
	case s.Second >= 0 && (layer == s.Layer || layer == s.Second):
		return seenPart, 1 - seenPart
	case s.Second >= 0:
		return 0, 1 - seenAll
	case s.Mostly && layer == s.Layer:
		return seenMostly, seenAll
	case s.Mostly:
		return 0, 1 - seenMostly
	case layer == s.Layer:
		return seenAll, 1
	}
	return 0, 1 - seenAll
}
