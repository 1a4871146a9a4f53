package swatch

import "undercoat/imaging/coat"

// SeenChoices are the words that an eye can choose from for a swatch of a stack, in the
// order in which a rising dose brings them about: "graphite", "mostly graphite",
// "graphite and teal", "mostly teal", ... to "ground" and "scorched". [ParseSeen] reads
// each of them.
func SeenChoices(stack coat.Stack) []string {
	names := make([]string, 0, len(stack.Coats)+1)
	for i, c := range stack.Coats {
		switch {
		case c.Name != "":
			names = append(names, c.Name)
		case i == 0:
			names = append(names, "top coat")
		}
	}
	names = append(names, "ground")
	var all []string
	for i, name := range names {
		if i > 0 {
			all = append(all, names[i-1]+" and "+name, "mostly "+name)
		}
		all = append(all, name)
		if i+1 < len(names) {
			all = append(all, "mostly "+name)
		}
	}
	if stack.Curve.ScorchDoseJCM2 > 0 {
		all = append(all, "scorched")
	}
	return understood(all, stack)
}

// understood leaves out what a coat's own name makes unclear, such as a second coat of
// the same name.
func understood(words []string, stack coat.Stack) []string {
	var out []string
	there := map[Seen]bool{}
	for _, w := range words {
		seen, err := ParseSeen(w, stack)
		if err != nil || there[seen] {
			continue
		}
		there[seen] = true
		out = append(out, w)
	}
	return out
}
