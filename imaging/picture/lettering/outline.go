package lettering

import (
	"math"

	"undercoat/layout"
)

// Op is what a segment of an outline does.
type Op uint8

// The operations. A contour is closed to its start where the next begins.
const (
	MoveTo Op = iota // to P[0], a new contour
	LineTo           // to P[0]
	QuadTo           // by P[0] to P[1], a quadratic Bézier curve
	CubeTo           // by P[0] and P[1] to P[2], a cubic one
)

// points is how many of a segment's points count.
func (o Op) points() int {
	switch o {
	case QuadTo:
		return 2
	case CubeTo:
		return 3
	}
	return 1
}

// Segment is one piece of an outline.
type Segment struct {
	Op Op
	P  [3]layout.Point
}

// Path is an outline: contours one after another. Inside is what they wind round
// (the non-zero rule).
type Path []Segment

// maxPieces bounds the straight pieces of one curve.
const maxPieces = 128

// edges calls emit for every straight piece of the path with its curves cut into
// pieces that leave them by at most tolerance; closing pieces are among them.
//
// A chord over 1/n of a curve leaves it by at most max|B"|/(8n²), the error of
// linear interpolation; |B"| of a Bézier curve is at most its degree times the
// degree less one times its largest second difference.
func (path Path) edges(tolerance layout.MM, emit func(a, b layout.Point)) {
	var start, at layout.Point
	for _, s := range path {
		switch s.Op {
		case MoveTo:
			if at != start {
				emit(at, start)
			}
			start, at = s.P[0], s.P[0]
		case LineTo:
			emit(at, s.P[0])
			at = s.P[0]
		case QuadTo:
			n := pieces(2*bend(at, s.P[0], s.P[1]), tolerance)
			p0 := at
			for i := 1; i <= n; i++ {
				next := quadAt(p0, s.P[0], s.P[1], float64(i)/float64(n))
				emit(at, next)
				at = next
			}
		case CubeTo:
			n := pieces(6*math.Max(bend(at, s.P[0], s.P[1]), bend(s.P[0], s.P[1], s.P[2])), tolerance)
			p0 := at
			for i := 1; i <= n; i++ {
				next := cubeAt(p0, s.P[0], s.P[1], s.P[2], float64(i)/float64(n))
				emit(at, next)
				at = next
			}
		}
	}
	if at != start {
		emit(at, start)
	}
}

// bend is the second difference of three points.
func bend(a, b, c layout.Point) float64 {
	return math.Hypot(float64(a.X-2*b.X+c.X), float64(a.Y-2*b.Y+c.Y))
}

func pieces(second float64, tolerance layout.MM) int {
	n := math.Ceil(math.Sqrt(second / (8 * float64(tolerance))))
	return int(math.Max(1, math.Min(n, maxPieces)))
}

func quadAt(a, b, c layout.Point, t float64) layout.Point {
	if t == 1 {
		return c
	}
	u := layout.MM(1 - t)
	v := layout.MM(t)
	return layout.Point{X: u*u*a.X + 2*u*v*b.X + v*v*c.X, Y: u*u*a.Y + 2*u*v*b.Y + v*v*c.Y}
}

func cubeAt(a, b, c, d layout.Point, t float64) layout.Point {
	if t == 1 {
		return d
	}
	u := layout.MM(1 - t)
	v := layout.MM(t)
	return layout.Point{
		X: u*u*u*a.X + 3*u*u*v*b.X + 3*u*v*v*c.X + v*v*v*d.X,
		Y: u*u*u*a.Y + 3*u*u*v*b.Y + 3*u*v*v*c.Y + v*v*v*d.Y,
	}
}

// box is an upright rectangle; the zero box holds nothing.
type box struct {
	min, max layout.Point
	some     bool
}

func (b *box) add(p layout.Point) {
	if !b.some {
		*b = box{min: p, max: p, some: true}
		return
	}
	b.min = layout.Point{X: min(b.min.X, p.X), Y: min(b.min.Y, p.Y)}
	b.max = layout.Point{X: max(b.max.X, p.X), Y: max(b.max.Y, p.Y)}
}

func (b *box) join(o box) {
	if o.some {
		b.add(o.min)
		b.add(o.max)
	}
}

func (b box) width() layout.MM  { return b.max.X - b.min.X }
func (b box) height() layout.MM { return b.max.Y - b.min.Y }
func (b box) middle() layout.MM { return (b.min.X + b.max.X) / 2 }

func (b box) area() layout.Area {
	return layout.Area{
		Centre: layout.Point{X: b.middle(), Y: (b.min.Y + b.max.Y) / 2},
		Size:   layout.Size{W: b.width(), H: b.height()},
	}
}

// corners are upper left, upper right, lower right, lower left.
func (b box) corners() [4]layout.Point {
	return [4]layout.Point{{X: b.min.X, Y: b.max.Y}, b.max, {X: b.max.X, Y: b.min.Y}, b.min}
}

// bounds is the box round the path itself, within tolerance.
func (path Path) bounds(tolerance layout.MM) box {
	var b box
	path.edges(tolerance, func(p, q layout.Point) {
		b.add(p)
		b.add(q)
	})
	return b
}

// hull is a box that holds the path, a little wider than its ink where control
// points lie outside.
func (path Path) hull() box {
	var b box
	for _, s := range path {
		for _, p := range s.P[:s.Op.points()] {
			b.add(p)
		}
	}
	return b
}

// affine is a turn, a scale and a shift: (a x + c y + e, b x + d y + f).
type affine struct{ a, b, c, d, e, f float64 }

// placing scales, turns counter-clockwise, then shifts the origin to a point.
func placing(scale, radians float64, to layout.Point) affine {
	sin, cos := math.Sincos(radians)
	return affine{scale * cos, scale * sin, -scale * sin, scale * cos, float64(to.X), float64(to.Y)}
}

// after is the map that does first, then m.
func (m affine) after(first affine) affine {
	return affine{
		m.a*first.a + m.c*first.b, m.b*first.a + m.d*first.b,
		m.a*first.c + m.c*first.d, m.b*first.c + m.d*first.d,
		m.a*first.e + m.c*first.f + m.e, m.b*first.e + m.d*first.f + m.f,
	}
}

func (m affine) point(p layout.Point) layout.Point {
	x, y := float64(p.X), float64(p.Y)
	return layout.Point{X: layout.MM(m.a*x + m.c*y + m.e), Y: layout.MM(m.b*x + m.d*y + m.f)}
}

func (m affine) path(path Path) Path {
	moved := make(Path, len(path))
	for i, s := range path {
		moved[i].Op = s.Op
		for j := range s.Op.points() {
			moved[i].P[j] = m.point(s.P[j])
		}
	}
	return moved
}
