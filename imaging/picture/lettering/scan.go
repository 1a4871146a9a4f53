package lettering

import (
	"cmp"
	"math"
	"slices"

	"undercoat/layout"
)

// sweep finds where level lines cross outlines. Line i of a sweep lies at
// top - (first+i+0.5) step; the place of a line and of each crossing on it does
// not depend on which other lines are swept, so that parts agree with the whole.
type sweep struct {
	top, step layout.MM
	first     int
	crossings [][]crossing // by line; used within add
	spans     [][]span     // by line
}

// span is a part of a line from one x to another.
type span struct{ from, to layout.MM }

// crossing is where an outline crosses a line: up or down.
type crossing struct {
	x    layout.MM
	turn int
}

func newSweep(top, step layout.MM, lines int) *sweep {
	return &sweep{top: top, step: step, crossings: make([][]crossing, lines), spans: make([][]span, lines)}
}

// start empties the sweep and sets its lines.
func (s *sweep) start(first, lines int) {
	s.first = first
	s.crossings, s.spans = s.crossings[:lines], s.spans[:lines]
	for i := range s.spans {
		s.crossings[i], s.spans[i] = s.crossings[i][:0], s.spans[i][:0]
	}
}

func (s *sweep) y(i int) layout.MM {
	return s.top - (layout.MM(s.first+i)+0.5)*s.step
}

// lines are those that may lie between two heights, a few too many.
func (s *sweep) lines(low, high layout.MM) (from, to int) {
	place := func(y layout.MM) int {
		at := float64((s.top-y)/s.step) - float64(s.first)
		return int(math.Max(-1, math.Min(at, float64(len(s.spans)+1))))
	}
	return max(0, place(high)-1), min(len(s.spans), place(low)+2)
}

// add puts what lies inside a path on the lines.
func (s *sweep) add(path Path, tolerance layout.MM) {
	path.edges(tolerance, func(a, b layout.Point) {
		turn := 1
		if a.Y > b.Y {
			a, b, turn = b, a, -1
		}
		from, to := s.lines(a.Y, b.Y)
		for i := from; i < to; i++ {
			if y := s.y(i); a.Y <= y && y < b.Y {
				x := a.X + (b.X-a.X)*((y-a.Y)/(b.Y-a.Y))
				s.crossings[i] = append(s.crossings[i], crossing{x, turn})
			}
		}
	})
	for i, crossings := range s.crossings {
		slices.SortFunc(crossings, func(a, b crossing) int { return cmp.Compare(a.x, b.x) })
		winding := 0
		var from layout.MM
		for _, c := range crossings {
			if winding == 0 {
				from = c.x
			}
			if winding += c.turn; winding == 0 {
				s.spans[i] = append(s.spans[i], span{from, c.x})
			}
		}
		s.crossings[i] = crossings[:0]
	}
}

// grow puts what lies within a distance of a path on the lines: every straight
// piece of it, drawn with a round pen.
func (s *sweep) grow(path Path, by, tolerance layout.MM) {
	path.edges(tolerance, func(a, b layout.Point) {
		from, to := s.lines(min(a.Y, b.Y)-by, max(a.Y, b.Y)+by)
		for i := from; i < to; i++ {
			if across, some := penStroke(a, b, by, s.y(i)); some {
				s.spans[i] = append(s.spans[i], across)
			}
		}
	})
}

// penStroke is the part of the level line at y within a distance of the piece
// from a to b. Around the piece lies a convex shape, a rectangle between two
// discs, so that the part is one span.
func penStroke(a, b layout.Point, by, y layout.MM) (across span, some bool) {
	reach := func(x layout.MM) {
		if !some {
			across, some = span{x, x}, true
			return
		}
		across.from, across.to = min(across.from, x), max(across.to, x)
	}
	for _, end := range [2]layout.Point{a, b} {
		if d := y - end.Y; -by <= d && d <= by {
			half := layout.MM(math.Sqrt(float64(by*by - d*d)))
			reach(end.X - half)
			reach(end.X + half)
		}
	}
	length := layout.MM(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)))
	if length == 0 {
		return across, some
	}
	nx, ny := -(b.Y-a.Y)/length*by, (b.X-a.X)/length*by
	sides := [4]layout.Point{{X: a.X + nx, Y: a.Y + ny}, {X: b.X + nx, Y: b.Y + ny}, {X: b.X - nx, Y: b.Y - ny}, {X: a.X - nx, Y: a.Y - ny}}
	for i, p := range sides {
		q := sides[(i+1)%4]
		if p.Y > q.Y {
			p, q = q, p
		}
		if p.Y <= y && y < q.Y {
			reach(p.X + (q.X-p.X)*((y-p.Y)/(q.Y-p.Y)))
		}
	}
	return across, some
}

// include adds the spans of another sweep of the same lines.
func (s *sweep) include(o *sweep) {
	for i := range s.spans {
		s.spans[i] = append(s.spans[i], o.spans[i]...)
	}
}

// join makes the spans of each line lie apart, from left to right.
func (s *sweep) join() {
	for i, spans := range s.spans {
		if len(spans) < 2 {
			continue
		}
		slices.SortFunc(spans, func(a, b span) int { return cmp.Compare(a.from, b.from) })
		last := 0
		for _, next := range spans[1:] {
			if next.from <= spans[last].to {
				spans[last].to = max(spans[last].to, next.to)
				continue
			}
			last++
			spans[last] = next
		}
		s.spans[i] = spans[:last+1]
	}
}
