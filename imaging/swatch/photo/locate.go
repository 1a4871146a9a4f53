package photo

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// ErrNoChart is wrapped where the marks of the chart are not found, so that somebody has
// to point at its corners.
var ErrNoChart = errors.New("no chart is found in the photograph: take one that shows all four corner marks, with a little unburned paint around them, or point at the four corners")

// unmarkedError is ErrNoChart for a chart whose marks cannot be looked for.
type unmarkedError struct{}

func (unmarkedError) Error() string {
	return "the chart's file does not say how large its marks are, so they cannot be looked for: point at its four corners"
}

func (unmarkedError) Unwrap() error { return ErrNoChart }

// Place is where a photograph shows the marks of a chart.
type Place struct {
	Corners  [4]layout.PicturePoint // the marks' outer corners, in the chart's order
	Mirrored bool
}

// Locate finds the marks of a chart in an upright photograph, whichever way round it
// lies there, or takes the corners given, which a near mark corrects. It wraps
// [ErrNoChart] where there are none to be seen. Only the chart's size, its marks and
// their side are looked at.
func Locate(ctx context.Context, light *plane.RGB16, chart swatch.Chart, corners *[4]layout.PicturePoint) (Place, error) {
	v, err := locate(ctx, light, chart, corners)
	return Place{v.corners, v.mirrored}, err
}

// locate finds the chart, by its corners if they are given.
func locate(ctx context.Context, light *plane.RGB16, chart swatch.Chart, corners *[4]layout.PicturePoint) (view, error) {
	small, err := reduce(ctx, light)
	if err != nil {
		return view{}, err
	}
	if corners != nil {
		if err := validateCorners(*corners, light.W, light.H); err != nil {
			return view{}, err
		}
		return small.byHand(ctx, chart, *corners)
	}
	if chart.MarkSide == 0 {
		return view{}, unmarkedError{}
	}
	return small.search(ctx, chart)
}

// byHand takes the corners as they are named, unless the marks show plainly that
// the photograph is upside down or mirrored, or that somebody pointed at the marks'
// middles or the chart's own corners. Marks that are found close by are surer than
// a hand.
func (r *reduced) byHand(ctx context.Context, chart swatch.Chart, corners [4]layout.PicturePoint) (view, error) {
	best, err := viewOf(chart.Marks, corners)
	if err != nil {
		return view{}, fmt.Errorf("corners: %w", err)
	}
	if !best.sees(chart) {
		return view{}, errors.New("corners: the chart would reach behind the camera: mark the corners anew")
	}
	best.likeness = r.looksLike(chart, best)
	for _, places := range pointedAt(chart) {
		for _, order := range orders {
			v, err := viewOf(places, reordered(corners, order))
			if err != nil || !v.sees(chart) {
				continue
			}
			// Three marks of four are alike, so that even the wrong way round is no
			// bad likeness.
			const plainly = 0.08
			v.likeness = r.looksLike(chart, v)
			if v.likeness > likely && v.likeness > best.likeness+plainly {
				best = v
			}
		}
	}
	best = best.ofChart(chart)
	if chart.MarkSide == 0 {
		return best, nil
	}
	found, err := r.search(ctx, chart)
	switch {
	case errors.Is(err, ErrNoChart):
		return best, nil
	case err != nil:
		return view{}, err
	case found.likeness > best.likeness && found.near(best):
		found.found = false
		return found, nil
	}
	return best, nil
}

// near tells whether two views of a chart are the same but for a slip of the hand.
func (v view) near(o view) bool {
	const slip = 0.04 // of the chart's diagonal
	c := o.corners
	diagonal := math.Hypot(c[2].X-c[0].X, c[2].Y-c[0].Y)
	for i := range c {
		if math.Hypot(v.corners[i].X-c[i].X, v.corners[i].Y-c[i].Y) > slip*diagonal {
			return false
		}
	}
	return true
}

// pointedAt are the places of a chart that somebody may take for its corners.
func pointedAt(chart swatch.Chart) [][4]layout.Point {
	if chart.MarkSide == 0 {
		return nil
	}
	var middles [4]layout.Point
	for i, a := range chart.MarkAreas() {
		middles[i] = a.Centre
	}
	return [][4]layout.Point{chart.Marks, middles, layout.Area{Size: chart.Size}.Corners()}
}

// sees tells whether all of the chart lies before the camera.
func (v view) sees(chart swatch.Chart) bool {
	for _, c := range (layout.Area{Size: chart.Size}).Corners() {
		p := v.flat(c)
		if !(v.toPixel[2][0]*p.X+v.toPixel[2][1]*p.Y+v.toPixel[2][2] > 0) {
			return false
		}
	}
	return true
}

// likely is how like the marks a place must look to be taken for them.
const likely = 0.75

// search looks for the marks: lighter or darker than what is around them, in
// luminance first, then in each colour, against a wide and a narrow surround.
func (r *reduced) search(ctx context.Context, chart swatch.Chart) (view, error) {
	var best view
	bestScore := 0.0
	for _, reach := range []int{max(r.w, r.h) / 14, max(r.w, r.h) / 30} {
		for _, p := range r.planes {
			if err := ctx.Err(); err != nil {
				return view{}, err
			}
			means := r.localMeans(p, reach)
			for _, sign := range []float32{1, -1} {
				const least = 0.02
				blobs := largest(r.blobsOf(p, means, sign, least))
				if v, score := r.match(ctx, chart, blobs); score > bestScore {
					best, bestScore = v, score
				}
			}
			// Nothing in the other planes can be much more like it.
			if bestScore > 0.93 {
				return best.ofChart(chart), nil
			}
		}
	}
	if bestScore < likely {
		return view{}, ErrNoChart
	}
	return best.ofChart(chart), nil
}

// A picture of many dots has thousands of blobs, any four of which could be marks. These
// bounds keep the search for marks that are not there to seconds.
const (
	mostBlobs = 200
	mostTries = 5000
)

// largest are the blobs that a search looks at: all of them, where they are not too many.
func largest(blobs []blob) []blob {
	if len(blobs) <= mostBlobs {
		return blobs
	}
	slices.SortStableFunc(blobs, func(a, b blob) int { return cmp.Compare(b.area, a.area) })
	return blobs[:mostBlobs]
}

// match tries every four blobs that could be the chart's marks, within bounds, and gives
// the view that is most like it. It stops early when ctx ends.
func (r *reduced) match(ctx context.Context, chart swatch.Chart, blobs []blob) (view, float64) {
	var best view
	bestScore := 0.0
	var solid []blob
	for _, b := range blobs {
		if b.fill > 0.85 {
			solid = append(solid, b)
		}
	}
	fit, tries := newMarkFit(chart), 0
	for _, first := range blobs {
		if ctx.Err() != nil || tries >= mostTries {
			break
		}
		if first.fill > 0.95 {
			continue // no hole in it
		}
		for _, right := range solid {
			for _, below := range solid {
				if !fit.corner(first, right, below) {
					continue
				}
				for _, across := range solid {
					if !fit.closes(first, right, below, across) {
						continue
					}
					tries++
					if v, score := r.try(chart, [4]blob{first, right, across, below}); score > bestScore {
						best, bestScore = v, score
					}
				}
			}
		}
	}
	return best, bestScore
}

func (r *reduced) try(chart swatch.Chart, marks [4]blob) (view, float64) {
	var places [4]layout.Point
	var pixels [4]layout.PicturePoint
	for i, area := range chart.MarkAreas() {
		f := float64(r.factor)
		places[i], pixels[i] = area.Centre, layout.PicturePoint{X: marks[i].centre.X * f, Y: marks[i].centre.Y * f}
	}
	v, err := viewOf(places, pixels)
	if err != nil || !v.sees(chart) {
		return view{}, 0
	}
	v.found, v.likeness = true, r.looksLike(chart, v)
	return v, v.likeness
}

// markFit knows the shape that the marks' centres make.
type markFit struct{ w, h, side float64 }

func newMarkFit(chart swatch.Chart) markFit {
	a := chart.MarkAreas()
	return markFit{
		w: float64(a[1].Centre.X - a[0].Centre.X), h: float64(a[0].Centre.Y - a[3].Centre.Y), side: float64(chart.MarkSide),
	}
}

// corner tells whether three blobs can be the upper left mark and its neighbours:
// from no steeper than some 40 degrees sizes, distances and angle stay near.
func (f markFit) corner(first, right, below blob) bool {
	const near, nearArea = 1.7, 2.5
	if !within(right.area/first.area, nearArea) || !within(below.area/first.area, nearArea) {
		return false
	}
	rx, ry := right.centre.X-first.centre.X, right.centre.Y-first.centre.Y
	bx, by := below.centre.X-first.centre.X, below.centre.Y-first.centre.Y
	w, h := math.Hypot(rx, ry), math.Hypot(bx, by)
	if w == 0 || h == 0 || !within(w/h/(f.w/f.h), near) {
		return false
	}
	sine := math.Abs(rx*by-ry*bx) / (w * h)
	if sine < 0.75 {
		return false
	}
	return within(w*h*sine/first.area/(f.w*f.h/(f.side*f.side)), near)
}

// closes tells whether a fourth blob lies about where the parallelogram closes.
func (f markFit) closes(first, right, below, across blob) bool {
	x := right.centre.X + below.centre.X - first.centre.X
	y := right.centre.Y + below.centre.Y - first.centre.Y
	size := math.Hypot(x-first.centre.X, y-first.centre.Y)
	return math.Hypot(across.centre.X-x, across.centre.Y-y) < 0.3*size && within(across.area/first.area, 3)
}

func within(ratio, factor float64) bool { return ratio < factor && ratio > 1/factor }

// looksLike is how well the four marks are seen where a view puts them: the mean
// correlation of what is there with what should be, lighter or darker, 0..1.
func (r *reduced) looksLike(chart swatch.Chart, v view) float64 {
	if chart.MarkSide == 0 {
		return 0
	}
	best := 0.0
	for _, p := range r.planes {
		sum := 0.0
		for i, area := range chart.MarkAreas() {
			sum += r.markLooksLike(chart, v, p, i, area)
		}
		best = max(best, math.Abs(sum)/4)
	}
	return best
}

func (r *reduced) markLooksLike(chart swatch.Chart, v view, p []float32, i int, area layout.Area) float64 {
	const steps, beyond = 22, 0.25 // samples each way, reaching so far past the mark
	inwards := [4][2]float64{{1, 1}, {-1, 1}, {-1, -1}, {1, -1}}[i]
	hole := chart.MarkHole()
	var c correlation
	for row := range steps {
		for col := range steps {
			// From 0 at the outer corner to 1 at the inner one and on.
			a, b := (float64(col)+0.5)/steps*(1+beyond), (float64(row)+0.5)/steps*(1+beyond)
			at := layout.Point{
				X: area.Centre.X + area.Size.W*layout.MM(inwards[0]*(a-0.5)),
				Y: area.Centre.Y - area.Size.H*layout.MM(inwards[1]*(b-0.5)),
			}
			want := a < 1 && b < 1
			if i == 0 && distance(at, hole) < 0 {
				want = false
			}
			const rim layout.MM = 0.06 // of a mark's side: what may lie on either side
			if absMM(distance(at, area)) < rim*chart.MarkSide || i == 0 && absMM(distance(at, hole)) < rim*chart.MarkSide {
				continue
			}
			if got, ok := r.at(p, v.pixel(at)); ok {
				c.add(want, got)
			}
		}
	}
	return c.value()
}

// distance is how far outside an area a place lies; inside it is below 0.
func distance(p layout.Point, a layout.Area) layout.MM {
	return max(absMM(p.X-a.Centre.X)-a.Size.W/2, absMM(p.Y-a.Centre.Y)-a.Size.H/2)
}

func absMM(l layout.MM) layout.MM { return max(l, -l) }

// correlation of a yes or no with a value.
type correlation struct{ n, x, y, xx, yy, xy float64 }

func (c *correlation) add(want bool, got float64) {
	x := 0.0
	if want {
		x = 1
	}
	c.n++
	c.x, c.y, c.xx, c.yy, c.xy = c.x+x, c.y+got, c.xx+x*x, c.yy+got*got, c.xy+x*got
}

func (c correlation) value() float64 {
	vx, vy := c.n*c.xx-c.x*c.x, c.n*c.yy-c.y*c.y
	// An even surface has no variance but rounding's.
	if !(vx > 0) || !(vy > 1e-9*c.n*c.yy) {
		return 0
	}
	return (c.n*c.xy - c.x*c.y) / math.Sqrt(vx*vy)
}
