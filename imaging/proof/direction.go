package proof

import (
	"fmt"
	"math"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
)

// BrightBurns tells which way round a picture goes on a stack: true when its
// bright parts get the more light, because what lies beneath is lighter. reason
// says so in words. Where the coats go up and down in lightness, the largest step
// that goes one way decides, as in [TintTable.Even]; coats that the curve does not
// reach do not count.
func BrightBurns(s coat.Stack) (bright bool, reason string) {
	m, err := s.Compile(coat.Options{})
	if err != nil {
		return false, "the stack cannot be read: " + err.Error()
	}
	names, lstar := reachable(m)
	from, to := longestStretch(lstar)
	bright = lstar[to] > lstar[from]
	what, parts := "darker", "dark"
	if bright {
		what, parts = "lighter", "bright"
	}
	if math.Abs(lstar[to]-lstar[from]) < 1 {
		return bright, "burning hardly changes the lightness of these coats"
	}
	return bright, fmt.Sprintf("%s lies beneath %s and is %s: %s parts burn", names[to], names[from], what, parts)
}

// reachable lists the layers that a burn can lay bare, by name and lightness.
func reachable(m *coat.Model) (names []string, lstar []float64) {
	stack := m.Stack()
	for i := range m.Coats() + 1 {
		if i > 0 && math.IsInf(m.BreakThrough(i-1), 1) {
			break
		}
		name, fallback := stack.Ground.Name, "the ground"
		if i < m.Coats() {
			name, fallback = stack.Coats[i].Name, fmt.Sprintf("coat %d", i+1)
		}
		if name == "" {
			name = fallback
		}
		names = append(names, name)
		lstar = append(lstar, colour.LStar(m.PureLook(i).Y()))
	}
	return names, lstar
}
