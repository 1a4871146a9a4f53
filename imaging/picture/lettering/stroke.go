package lettering

import (
	"cmp"
	"math"
	"slices"

	"undercoat/layout"
)

// strokes is how thin a letter is at a cap height of 1 mm: the thinnest stroke
// of its ink and the thinnest gap within it; 0 where there is none.
type strokes struct{ ink, gap layout.MM }

const (
	// opposite is the cosine of the angle at which two outlines count as the two
	// sides of one stroke: 172 degrees. Sides that come together by more than 8
	// degrees are a corner or a tip, which may end thin.
	opposite = -0.9903
	// leastPoints is how many points make a part of a letter; fewer are a flaw
	// where contours meet.
	leastPoints = 9
	// leastRun is the length of stroke that makes it one, in cap heights: a
	// thinner place that is shorter is a joint.
	leastRun = 0.1
)

// thin measures a letter, once.
func (g *glyph) thin() strokes {
	g.measure.Do(func() { g.strokes = measureStrokes(g.path) })
	return g.strokes
}

// measureStrokes finds where a letter's medial axis lies, which is where the
// nearest point of the outline jumps from one side of a stroke to the other, and
// how thick the stroke is there: the distance between the two sides.
//
// Each dot, arm and counter is judged by itself. The idea of the medial axis is
// from Blum, H., A transformation for extracting new descriptors of shape, 1967,
// from memory. That a thin place counts once it is a tenth of the cap height long
// is common practice, no source.
func measureStrokes(path Path) strokes {
	ink := path.bounds(1e-4)
	if !ink.some {
		return strokes{}
	}
	f := newField(path, ink)
	if f == nil {
		return strokes{}
	}
	f.spread()
	s := strokes{}
	for i, part := range f.parts() {
		thick := thinnest(part.axis)
		switch {
		case i == 0: // all that lies round the letter: only what it has two sides of is a gap
		case part.points < leastPoints:
			continue
		case thick == 0: // a dot or a triangle
			thick = 2 * f.room(part.middle)
		}
		least := &s.gap
		if part.ink {
			least = &s.ink
		}
		if thick > 0 && (*least == 0 || thick < *least) {
			*least = thick
		}
	}
	if s.ink == 0 && f.length > 0 {
		// Strokes too thin for the field: their area is half their outline times
		// their thickness.
		s.ink = f.area / (f.length / 2)
	}
	return s
}

// axisPiece is a piece of a medial axis: how thick the stroke is there, and how
// long the piece.
type axisPiece struct{ thick, long layout.MM }

// thinnest is the thickness below which the stroke is leastRun long; of an axis
// shorter than that, as a dot has, it is the middle one.
func thinnest(axis []axisPiece) layout.MM {
	if len(axis) == 0 {
		return 0
	}
	slices.SortFunc(axis, func(a, b axisPiece) int { return cmp.Compare(a.thick, b.thick) })
	var whole layout.MM
	for _, p := range axis {
		whole += p.long
	}
	var run layout.MM
	for _, p := range axis {
		if run += p.long; run >= min(leastRun, whole/2) {
			return p.thick
		}
	}
	return axis[len(axis)-1].thick
}

// part is a piece of ink in one, or a gap in one.
type part struct {
	ink    bool
	points int
	middle layout.Point // the point farthest from the outline
	square layout.MM    // of its distance
	axis   []axisPiece
}

// parts finds what hangs together, and in it the medial axis: between two
// neighbouring points whose nearest outlines lie on opposite sides. The first
// part is what lies round the letter.
func (f *field) parts() []part {
	label := make([]int32, f.w*f.h) // 1 and up
	var parts []part
	for i := range label {
		if label[i] == 0 {
			parts = append(parts, part{ink: f.inside[i], points: f.flood(label, i, int32(len(parts)+1))})
		}
	}
	for i := range label {
		if f.nearest[i] < 0 {
			continue
		}
		x, y := i%f.w, i/f.w
		in := &parts[label[i]-1]
		if _, square := foot(f.pieces[f.nearest[i]], f.point(x, y)); square >= in.square {
			in.middle, in.square = f.point(x, y), square
		}
		for _, n := range [2][2]int{{1, 0}, {0, 1}} {
			if x+n[0] >= f.w || y+n[1] >= f.h || label[i+n[0]+n[1]*f.w] != label[i] {
				continue
			}
			if piece, ok := f.across(x, y, n); ok {
				in.axis = append(in.axis, piece)
			}
		}
	}
	return parts
}

// room is the radius of the largest disc about a point near this one, found in
// ever smaller steps, none of which leaves the disc before.
func (f *field) room(at layout.Point) layout.MM {
	radius := func(p layout.Point) layout.MM { // squared
		least := layout.MM(math.Inf(1))
		for _, piece := range f.pieces {
			_, square := foot(piece, p)
			least = min(least, square)
		}
		return least
	}
	best := radius(at)
	for step := f.cell / 2; step > f.cell/64; step /= 2 {
		for _, way := range [4]layout.Point{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
			next := layout.Point{X: at.X + way.X, Y: at.Y + way.Y}
			if r := radius(next); step*step < best && r > best {
				at, best = next, r
			}
		}
	}
	return layout.MM(math.Sqrt(float64(best)))
}

// flood labels all that hangs together with a point, and counts it.
func (f *field) flood(label []int32, start int, as int32) int {
	label[start] = as
	count := 0
	for open := []int{start}; len(open) > 0; count++ {
		at := open[len(open)-1]
		open = open[:len(open)-1]
		x, y := at%f.w, at/f.w
		for _, n := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
			if nx, ny := x+n[0], y+n[1]; nx >= 0 && ny >= 0 && nx < f.w && ny < f.h {
				if next := ny*f.w + nx; label[next] == 0 && f.inside[next] == f.inside[start] {
					label[next] = as
					open = append(open, next)
				}
			}
		}
	}
	return count
}

// across measures the stroke between a point and its neighbour. The two sides'
// directions from the points are the stroke's; the distance between the sides
// along it is its thickness, exact for straight sides; and an axis at right
// angles to it passes between 1/(|x|+|y|) neighbours to the cell.
func (f *field) across(x, y int, to [2]int) (axisPiece, bool) {
	p, q := f.point(x, y), f.point(x+to[0], y+to[1])
	a, da := foot(f.pieces[f.nearest[y*f.w+x]], p)
	b, db := foot(f.pieces[f.nearest[(y+to[1])*f.w+x+to[0]]], q)
	if da == 0 || db == 0 { // on the outline itself
		return axisPiece{}, false
	}
	da, db = layout.MM(math.Sqrt(float64(da))), layout.MM(math.Sqrt(float64(db)))
	ux, uy := (a.X-p.X)/da, (a.Y-p.Y)/da
	vx, vy := (b.X-q.X)/db, (b.Y-q.Y)/db
	apart := ux*vx+uy*vy < opposite
	// Where something thinner than a cell lies between the points, both see it in
	// the other's direction; that is not their stroke.
	dx, dy := layout.MM(to[0]), layout.MM(to[1])
	if !apart || ux*dx+uy*dy > 0 || vx*dx+vy*dy < 0 {
		return axisPiece{}, false
	}
	nx, ny := ux-vx, uy-vy
	norm := layout.MM(math.Hypot(float64(nx), float64(ny)))
	nx, ny = nx/norm, ny/norm
	thick := (a.X-b.X)*nx + (a.Y-b.Y)*ny
	long := f.cell / layout.MM(math.Abs(float64(nx))+math.Abs(float64(ny)))
	return axisPiece{thick, long}, true
}
