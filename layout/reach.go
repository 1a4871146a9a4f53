package layout

import (
	"fmt"
	"math"
)

// Reach is what a machine's head can get to, and how a panel can be moved under
// it. Lines are burned along the bed's width.
type Reach struct {
	Bed   Bed
	RunUp MM // travel past both ends of a line
	// Sideways is whether a panel can also be moved along the lines. It is left
	// out by default: rails stand there on most frames, and a line cut in two has to
	// meet itself to a dot.
	Sideways bool
}

// Validate refuses a bed or a run-up outside 0..MaxLength; a bed has sides above 0.
func (r Reach) Validate() error {
	if err := r.Bed.Validate(); err != nil {
		return fmt.Errorf("bed: %w", err)
	}
	if !(r.RunUp >= 0 && r.RunUp <= MaxLength) {
		return fmt.Errorf("run-up %s is not possible: choose one from 0 to 10000 mm", Millimetre.Format(r.RunUp))
	}
	return nil
}

// reachSlack is far below any machine's step and above rounding.
const reachSlack MM = 1e-6

// holds tells whether a raster as it lies on the bed can be burned in one go.
func (r Reach) holds(onBed Size) bool {
	return onBed.W+2*r.RunUp <= r.Bed.W+reachSlack && onBed.H <= r.Bed.H+reachSlack
}

// way is how a panel lies on the bed and how it is moved along.
type way struct {
	turned   bool // a quarter clockwise, the panel's top to the right
	sideways bool // moved along the lines instead of across them
}

// ways are those a reach allows, the better ones first: whole lines before cut
// ones, upright before turned.
func (r Reach) ways() []way {
	all := []way{{}, {turned: true}}
	if r.Sideways {
		all = append(all, way{sideways: true}, way{turned: true, sideways: true})
	}
	return all
}

// onBed is a panel's size as it lies on the bed.
func (w way) onBed(s Size) Size {
	if w.turned {
		return Size{s.H, s.W}
	}
	return s
}

// cutsColumns tells whether the sections are ranges of the panel's columns, and
// not of its rows.
func (w way) cutsColumns() bool { return w.turned != w.sideways }

// excess is by how much a panel is too long in the direction in which it is not
// moved; 0 or less if it is not.
func (w way) excess(r Reach, s Size) MM {
	on := w.onBed(s)
	if w.sideways {
		return on.H - r.Bed.H
	}
	return on.W + 2*r.RunUp - r.Bed.W
}

// longest is the most dots that a section may have in the direction in which the
// panel is moved.
func (w way) longest(r Reach, pitch MM) int {
	room := r.Bed.H
	if w.sideways {
		room = r.Bed.W - 2*r.RunUp
	}
	return max(0, int(math.Floor(float64((room+reachSlack)/pitch))))
}

// cut is how many dots the panel has in the direction in which it is moved.
func (w way) cut(g Grid) int {
	if w.cutsColumns() {
		return g.Cols
	}
	return g.Rows
}
