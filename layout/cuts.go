package layout

import (
	"fmt"
	"math"
)

// DefaultWindow is how far a cut is looked for to either side when nothing else
// is said.
const DefaultWindow MM = 20

// Cuts says where a panel is best cut into sections. The zero value cuts evenly.
type Cuts struct {
	// Window is how far a cut may lie from an even split, to either side, as far as
	// the bed allows; 0 is DefaultWindow. It is kept below half a section.
	Window MM
	// RowCost and ColCost say how much a seam at the edge of a row or column would
	// show, such as how many dots burn there: 0 for a blank one. They are asked only
	// for rows that a cut may touch. nil costs nothing anywhere.
	RowCost func(row int) float64
	ColCost func(col int) float64
}

func (c Cuts) validate() error {
	if !(c.Window >= 0 && c.Window <= MaxLength) {
		return fmt.Errorf("window %s is not possible: choose one from 0 to 10000 mm", Millimetre.Format(c.Window))
	}
	return nil
}

// seam is the best way to make the cuts up to one, with that one at a place.
type seam struct {
	cost   float64 // of all cuts so far
	stray  int     // how far they lie from an even split, in all
	before int     // where the one before lies, counted from its window's start
}

func (s seam) betterThan(o seam) bool {
	if s.cost != o.cost {
		return s.cost < o.cost
	}
	return s.stray < o.stray
}

// choose finds the cuts of least cost, count-1 of them, that leave no part longer
// than longest. A cut at n lies between n-1 and n and costs what both do, so that
// it goes into a blank band before it goes to the edge of one. Of cuts that cost the
// same it takes those nearest to an even split.
//
// The cuts are chosen together, from the first to the last: for each place of a
// cut it is enough to know the best of the cuts before that can be reached.
func (c Cuts) choose(n, count, longest int, pitch MM, cost func(int) float64) ([]int, error) {
	if count < 2 {
		return nil, nil
	}
	windows := c.windows(n, count, longest, pitch)
	tables := make([][]seam, len(windows))
	for k, window := range windows {
		table := make([]seam, window.Len())
		for i := range table {
			at := window.From + i
			price, err := seamCost(at, cost)
			if err != nil {
				return nil, err
			}
			table[i] = seam{cost: price, stray: abs(at - even(n, k+1, count))}
		}
		if k > 0 {
			addBest(table, window, tables[k-1], windows[k-1], longest)
		}
		tables[k] = table
	}
	return trace(tables, windows), nil
}

// addBest adds to each seam the best one before it that leaves at most longest
// between the two. The reachable ones are the end of the window before, ever less
// of it as the cut moves on: so the best are found from the end.
func addBest(table []seam, window Range, before []seam, last Range, longest int) {
	best := make([]int, len(before)) // of those from here on
	for i := len(before) - 1; i >= 0; i-- {
		best[i] = i
		if i+1 < len(before) && !before[i].betterThan(before[best[i+1]]) {
			best[i] = best[i+1]
		}
	}
	for i := range table {
		j := best[max(0, window.From+i-longest-last.From)]
		table[i].before = j
		table[i].cost += before[j].cost
		table[i].stray += before[j].stray
	}
}

// trace goes back from the best last cut. Each place of that leaves a last part
// which is short enough.
func trace(tables [][]seam, windows []Range) []int {
	cuts := make([]int, len(tables))
	k, at := len(tables)-1, 0
	for i := range tables[k] {
		if tables[k][i].betterThan(tables[k][at]) {
			at = i
		}
	}
	for ; k >= 0; k-- {
		cuts[k] = windows[k].From + at
		at = tables[k][at].before
	}
	return cuts
}

// windows are the places each cut may have: near the even split, and such that
// the parts on both sides can still be short enough. They do not overlap.
func (c Cuts) windows(n, count, longest int, pitch MM) []Range {
	reach := c.Window
	if reach == 0 {
		reach = DefaultWindow
	}
	far := min(int(reach/pitch), (n/count-1)/2)
	all := make([]Range, count-1)
	for k := range all {
		middle := even(n, k+1, count)
		from := max(middle-far, n-(count-k-1)*longest, k+1)
		to := min(middle+far, (k+1)*longest, n-(count-k-1))
		all[k] = Range{from, to + 1}
	}
	return all
}

// even is where the cut k of an even split into count parts lies.
func even(n, k, count int) int { return n * k / count }

func seamCost(at int, cost func(int) float64) (float64, error) {
	if cost == nil {
		return 0, nil
	}
	sum := 0.0
	for _, row := range [2]int{at - 1, at} {
		v := cost(row)
		if !(v >= 0) || math.IsInf(v, 1) {
			return 0, fmt.Errorf("cost %g of row or column %d is not possible: give a number from 0 on, 0 for a blank one", v, row)
		}
		sum += v
	}
	return sum, nil
}

func abs[T int | MM](v T) T { return max(v, -v) }
