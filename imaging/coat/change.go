package coat

import "fmt"

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
