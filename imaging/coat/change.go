package coat

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// WithThickness is the stack with coat i painted to another thickness. The
// curve stays: the break-throughs of this coat and of all below it move along it.
func (s Stack) WithThickness(i int, thicknessUM float64) (Stack, error) {
	if i < 0 || i >= len(s.Coats) {
		return Stack{}, fmt.Errorf("coat %d is not in the stack: choose 0 to %d, from the top down", i, len(s.Coats)-1)
	}
	t := s.Clone()
	t.Coats[i].ThicknessUM = thicknessUM
	return t, t.Validate()
}

// WithSecondPass is the stack with coat i painted once more, as thick again.
func (s Stack) WithSecondPass(i int) (Stack, error) {
	if i < 0 || i >= len(s.Coats) {
		return Stack{}, fmt.Errorf("coat %d is not in the stack: choose 0 to %d, from the top down", i, len(s.Coats)-1)
	}
	return s.WithThickness(i, 2*s.Coats[i].ThicknessUM)
}

// Thicker is the stack with every coat painted factor times as thick.
func (s Stack) Thicker(factor float64) (Stack, error) {
	t := s.Clone()
	for i := range t.Coats {
		t.Coats[i].ThicknessUM *= factor
	}
	return t, t.Validate()
}

// WithMoved is the stack with the coat at place from put at place to, both counted from
// the top, and a name of its own. Each place keeps its spread. Another order of paints
// burns otherwise than the one that was measured, so the curve no longer counts as
// calibrated.
func (s Stack) WithMoved(from, to int) (Stack, error) {
	if n := len(s.Coats); from < 0 || from >= n || to < 0 || to >= n {
		return Stack{}, fmt.Errorf("a coat cannot be moved from place %d to place %d: choose 0 to %d, from the top down", from, to, n-1)
	}
	t := s.Clone()
	if from == to {
		return t, nil
	}
	moved := t.Coats[from]
	t.Coats = slices.Insert(slices.Delete(t.Coats, from, from+1), to, moved)
	t.Curve.Calibrated, t.Curve.BreakThroughSD, t.Curve.Origin = false, nil, nil
	t.Name = t.named()
	return t, t.Validate()
}

// named is what a stack is called after its paints.
func (s Stack) named() string {
	var names []string
	for _, c := range s.Coats {
		names = append(names, c.Name)
	}
	name := strings.Join(names, ", ") + " over " + s.Ground.Name
	for len(name) > maxNameLength {
		_, last := utf8.DecodeLastRuneInString(name)
		name = name[:len(name)-last]
	}
	return name
}
