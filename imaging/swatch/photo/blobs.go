package photo

import (
	"cmp"
	"math"
	"slices"

	"undercoat/layout"
)

// blob is a connected part of a mask that may be a mark: four-sided, not tiny, and
// clear of the photograph's rim. Pixels are the reduced copy's.
type blob struct {
	centre layout.PicturePoint // of its hull
	area   float64             // of its hull
	fill   float64             // share of the hull that the blob covers
}

const (
	leastBlob  = 60.0 // pixels; a mark of 8 x 8
	mostBlob   = 0.05 // of the copy
	leastSolid = 0.6  // fill; the mark with a hole has 0.8
)

// run is a stretch of mask in one row.
type run struct{ y, from, to, parent int32 }

// blobsOf gathers the four-sided blobs of the pixels that differ from their local
// mean: by more than least upwards, or downwards with sign -1.
func (r *reduced) blobsOf(p, means []float32, sign, least float32) []blob {
	runs := r.runsOf(p, means, sign, least)
	members := map[int32][]run{}
	var order []int32
	for i := range runs {
		root := find(runs, int32(i))
		if members[root] == nil {
			order = append(order, root)
		}
		members[root] = append(members[root], runs[i])
	}
	var blobs []blob
	for _, root := range order {
		if b, ok := r.fourSided(members[root]); ok {
			blobs = append(blobs, b)
		}
	}
	return blobs
}

// runsOf finds the runs and joins those that touch in neighbouring rows.
func (r *reduced) runsOf(p, means []float32, sign, least float32) []run {
	var runs []run
	above := 0 // first run of the row above
	for y := range r.h {
		first := len(runs)
		row, mean := p[y*r.w:(y+1)*r.w], means[y*r.w:(y+1)*r.w]
		for x := 0; x < r.w; x++ {
			if sign*(row[x]-mean[x]) <= least {
				continue
			}
			from := x
			for x < r.w && sign*(row[x]-mean[x]) > least {
				x++
			}
			id := int32(len(runs))
			runs = append(runs, run{int32(y), int32(from), int32(x), id})
			for above < first && runs[above].to <= int32(from) {
				above++
			}
			for k := above; k < first && runs[k].from < int32(x); k++ {
				runs[find(runs, int32(k))].parent = find(runs, id)
			}
		}
		above = first
	}
	return runs
}

func find(runs []run, i int32) int32 {
	for runs[i].parent != i {
		runs[i].parent = runs[runs[i].parent].parent
		i = runs[i].parent
	}
	return i
}

// fourSided tells whether runs make a parallelogram, or nearly: for one, and for
// nothing rounder, the square of its area is 144 times the determinant of its
// second moments.
func (r *reduced) fourSided(runs []run) (blob, bool) {
	area := 0.0
	var points []layout.PicturePoint
	for _, s := range runs {
		if s.from == 0 || s.y == 0 || int(s.to) == r.w || int(s.y) == r.h-1 {
			return blob{}, false
		}
		area += float64(s.to - s.from)
		points = append(points,
			layout.PicturePoint{X: float64(s.from), Y: float64(s.y)}, layout.PicturePoint{X: float64(s.from), Y: float64(s.y + 1)},
			layout.PicturePoint{X: float64(s.to), Y: float64(s.y)}, layout.PicturePoint{X: float64(s.to), Y: float64(s.y + 1)})
	}
	if area < leastBlob || area > mostBlob*float64(r.w*r.h) {
		return blob{}, false
	}
	m := momentsOf(hull(points))
	det := m.xx*m.yy - m.xy*m.xy
	square := m.area * m.area / (144 * det)
	b := blob{centre: m.centre, area: m.area, fill: area / m.area}
	// Rounded corners and pixel steps take a little; an ellipse has 1.097.
	return b, square > 0.9 && square < 1.07 && b.fill >= leastSolid
}

type moments struct {
	area       float64
	centre     layout.PicturePoint
	xx, yy, xy float64 // variances
}

// momentsOf a polygon, by Green's theorem about its first point.
func momentsOf(p []layout.PicturePoint) moments {
	var a, sx, sy, xx, yy, xy float64
	o := p[0]
	for i := range p {
		x0, y0 := p[i].X-o.X, p[i].Y-o.Y
		x1, y1 := p[(i+1)%len(p)].X-o.X, p[(i+1)%len(p)].Y-o.Y
		c := x0*y1 - x1*y0
		a += c / 2
		sx += c * (x0 + x1) / 6
		sy += c * (y0 + y1) / 6
		xx += c * (x0*x0 + x0*x1 + x1*x1) / 12
		yy += c * (y0*y0 + y0*y1 + y1*y1) / 12
		xy += c * (x0*y1 + 2*x0*y0 + 2*x1*y1 + x1*y0) / 24
	}
	mx, my := sx/a, sy/a
	return moments{
		area: math.Abs(a), centre: layout.PicturePoint{X: o.X + mx, Y: o.Y + my},
		xx: xx/a - mx*mx, yy: yy/a - my*my, xy: xy/a - mx*my,
	}
}

// hull is the convex hull of points, by Andrew's monotone chain.
func hull(points []layout.PicturePoint) []layout.PicturePoint {
	slices.SortFunc(points, func(a, b layout.PicturePoint) int {
		return cmp.Or(cmp.Compare(a.X, b.X), cmp.Compare(a.Y, b.Y))
	})
	half := func(from, to, step int) []layout.PicturePoint {
		var chain []layout.PicturePoint
		for i := from; i != to; i += step {
			for len(chain) >= 2 && cross(chain[len(chain)-2], chain[len(chain)-1], points[i]) <= 0 {
				chain = chain[:len(chain)-1]
			}
			chain = append(chain, points[i])
		}
		return chain[:len(chain)-1]
	}
	return append(half(0, len(points), 1), half(len(points)-1, -1, -1)...)
}

func cross(o, a, b layout.PicturePoint) float64 {
	return (a.X-o.X)*(b.Y-o.Y) - (a.Y-o.Y)*(b.X-o.X)
}
