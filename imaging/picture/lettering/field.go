package lettering

import (
	"math"

	"undercoat/layout"
)

const (
	// fieldCells is how many cells the field has to the cap height.
	fieldCells = 120
	// maxFieldCells bounds a field; a larger letter gets coarser cells.
	maxFieldCells = 400_000
	// maxFieldPieces bounds the outline a field is made of.
	maxFieldPieces = 8_000
)

// field is a grid of points over a letter, each with the nearest piece of its
// outline.
type field struct {
	origin  layout.Point // of the lowest left point
	cell    layout.MM
	w, h    int
	pieces  [][2]layout.Point // of the outline between ink and no ink
	nearest []int32           // by point: a piece, or -1
	inside  []bool
	area    layout.MM // of the ink, mm2
	length  layout.MM // of its outline
}

func newField(path Path, ink box) *field {
	f := &field{cell: 1.0 / fieldCells}
	for float64(ink.width()/f.cell+3)*float64(ink.height()/f.cell+3) > maxFieldCells {
		f.cell *= 2
	}
	f.origin = layout.Point{X: ink.min.X - f.cell, Y: ink.min.Y - f.cell}
	f.w, f.h = int(ink.width()/f.cell)+3, int(ink.height()/f.cell)+3
	var edges [][2]layout.Point
	path.edges(f.cell/20, func(a, b layout.Point) { edges = append(edges, [2]layout.Point{a, b}) })
	if len(edges) > maxFieldPieces {
		return nil
	}
	f.fill(path)
	for _, e := range edges {
		f.outline(path, e, edges)
	}
	return f
}

// fill finds the points inside the ink. A line of the sweep goes through a row of points.
func (f *field) fill(path Path) {
	f.inside = make([]bool, f.w*f.h)
	s := newSweep(f.origin.Y+(layout.MM(f.h)-0.5)*f.cell, f.cell, f.h)
	s.start(0, f.h)
	s.add(path, f.cell/20)
	s.join()
	for i, spans := range s.spans {
		row := f.inside[(f.h-1-i)*f.w:][:f.w]
		for _, sp := range spans {
			f.area += (sp.to - sp.from) * f.cell
			for x := max(0, int(math.Ceil(float64((sp.from-f.origin.X)/f.cell)))); x < f.w && f.point(x, 0).X < sp.to; x++ {
				row[x] = true
			}
		}
	}
}

func (f *field) point(x, y int) layout.Point {
	return layout.Point{X: f.origin.X + layout.MM(x)*f.cell, Y: f.origin.Y + layout.MM(y)*f.cell}
}

// outline adds an edge in short pieces, but for those within the ink, where
// contours overlap.
func (f *field) outline(path Path, e [2]layout.Point, edges [][2]layout.Point) {
	dx, dy := e[1].X-e[0].X, e[1].Y-e[0].Y
	length := layout.MM(math.Hypot(float64(dx), float64(dy)))
	if length == 0 {
		return
	}
	n := int(math.Ceil(float64(length / (4 * f.cell))))
	aside := layout.Point{X: -dy / length * f.cell / 100, Y: dx / length * f.cell / 100}
	at := func(i int) layout.Point {
		t := layout.MM(i) / layout.MM(n)
		return layout.Point{X: e[0].X + t*dx, Y: e[0].Y + t*dy}
	}
	for i := range n {
		a, b := at(i), at(i+1)
		mid := layout.Point{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2}
		one := winding(edges, layout.Point{X: mid.X + aside.X, Y: mid.Y + aside.Y}) != 0
		other := winding(edges, layout.Point{X: mid.X - aside.X, Y: mid.Y - aside.Y}) != 0
		if one != other && len(f.pieces) < maxFieldPieces {
			f.pieces = append(f.pieces, [2]layout.Point{a, b})
			f.length += length / layout.MM(n)
		}
	}
}

// winding is how often closed edges go round a point.
func winding(edges [][2]layout.Point, p layout.Point) int {
	n := 0
	for _, e := range edges {
		a, b, turn := e[0], e[1], 1
		if a.Y > b.Y {
			a, b, turn = b, a, -1
		}
		if a.Y <= p.Y && p.Y < b.Y && a.X+(b.X-a.X)*((p.Y-a.Y)/(b.Y-a.Y)) < p.X {
			n += turn
		}
	}
	return n
}

// spread gives every point its nearest piece: first the points beside a piece,
// then from neighbour to neighbour in sweeps over the grid and back, as in
// Danielsson, P.-E., Euclidean distance mapping, 1980, from memory.
func (f *field) spread() {
	f.nearest = make([]int32, f.w*f.h)
	for i := range f.nearest {
		f.nearest[i] = -1
	}
	square := make([]layout.MM, f.w*f.h) // of the distance to it
	offer := func(x, y int, piece int32) {
		i := y*f.w + x
		if piece < 0 || f.nearest[i] == piece {
			return
		}
		if _, d := foot(f.pieces[piece], f.point(x, y)); f.nearest[i] < 0 || d < square[i] {
			f.nearest[i], square[i] = piece, d
		}
	}
	for piece, p := range f.pieces {
		for i := range 9 {
			t := layout.MM(i) / 8
			x := int((p[0].X + t*(p[1].X-p[0].X) - f.origin.X) / f.cell)
			y := int((p[0].Y + t*(p[1].Y-p[0].Y) - f.origin.Y) / f.cell)
			for _, beside := range [4][2]int{{0, 0}, {1, 0}, {0, 1}, {1, 1}} {
				if x+beside[0] < f.w && y+beside[1] < f.h {
					offer(x+beside[0], y+beside[1], int32(piece))
				}
			}
		}
	}
	// The neighbours that a pass has been at before; the way back has the others.
	before := [4][2]int{{-1, -1}, {0, -1}, {1, -1}, {-1, 0}}
	for pass := range 4 {
		way := 1 - pass%2*2
		for i := range f.w * f.h {
			if way < 0 {
				i = f.w*f.h - 1 - i
			}
			x, y := i%f.w, i/f.w
			for _, n := range before {
				if nx, ny := x+way*n[0], y+way*n[1]; nx >= 0 && ny >= 0 && nx < f.w && ny < f.h {
					offer(x, y, f.nearest[ny*f.w+nx])
				}
			}
		}
	}
}

// foot is the point of a piece nearest to p, and the square of its distance.
func foot(piece [2]layout.Point, p layout.Point) (at layout.Point, square layout.MM) {
	a, b := piece[0], piece[1]
	dx, dy := b.X-a.X, b.Y-a.Y
	if length := dx*dx + dy*dy; length > 0 {
		t := max(0, min(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/length, 1))
		a = layout.Point{X: a.X + t*dx, Y: a.Y + t*dy}
	}
	return a, (p.X-a.X)*(p.X-a.X) + (p.Y-a.Y)*(p.Y-a.Y)
}
