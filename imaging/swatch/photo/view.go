package photo

import (
	"fmt"
	"math"

	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// view is where a photograph shows a chart.
type view struct {
	toPixel  layout.Homography // from mm, x to the right (left if mirrored) and y down
	toChart  layout.Homography // and back
	corners  [4]layout.PicturePoint
	mirrored bool
	found    bool
	likeness float64 // of the marks, 0..1
}

// viewOf looks at four places of the chart, in the order upper left, upper right,
// lower right, lower left, where the photograph shows them.
func viewOf(places [4]layout.Point, pixels [4]layout.PicturePoint) (view, error) {
	v := view{mirrored: runsBackwards(pixels)}
	var from [4]layout.PicturePoint
	for i, p := range places {
		from[i] = v.flat(p)
	}
	h, err := layout.FourPoints(from, pixels)
	if err != nil {
		return view{}, err
	}
	if v.toChart, err = h.Inverse(); err != nil {
		return view{}, err
	}
	v.toPixel = h
	return v, nil
}

// ofChart adds the chart's corners.
func (v view) ofChart(c swatch.Chart) view {
	for i, p := range c.Marks {
		v.corners[i] = v.pixel(p)
	}
	return v
}

// runsBackwards tells whether corners named clockwise run the other way round, as
// they do in a mirror.
func runsBackwards(p [4]layout.PicturePoint) bool {
	return (p[2].X-p[0].X)*(p[3].Y-p[1].Y)-(p[2].Y-p[0].Y)*(p[3].X-p[1].X) < 0
}

// flat turns a place on the chart to y down, and mirrors it where the photograph is.
func (v view) flat(p layout.Point) layout.PicturePoint {
	if v.mirrored {
		p.X = -p.X
	}
	return layout.PicturePoint{X: float64(p.X), Y: -float64(p.Y)}
}

func (v view) pixel(p layout.Point) layout.PicturePoint { return v.toPixel.Apply(v.flat(p)) }

func (v view) place(p layout.PicturePoint) layout.Point {
	q := v.toChart.Apply(p)
	if v.mirrored {
		q.X = -q.X
	}
	return layout.Point{X: layout.MM(q.X), Y: layout.MM(-q.Y)}
}

// perMM is how many pixels a millimetre is long about a place, the shorter way.
func (v view) perMM(at layout.Point) float64 {
	const step = 0.5
	p := v.pixel(at)
	x, y := v.pixel(layout.Point{X: at.X + step, Y: at.Y}), v.pixel(layout.Point{X: at.X, Y: at.Y + step})
	return min(math.Hypot(x.X-p.X, x.Y-p.Y), math.Hypot(y.X-p.X, y.Y-p.Y)) / step
}

// quarters is how often the photograph must be turned clockwise to stand upright.
func (v view) quarters() int {
	up, centre := v.pixel(layout.Point{Y: 1}), v.pixel(layout.Point{})
	angle := math.Atan2(up.X-centre.X, centre.Y-up.Y) // clockwise from straight up
	return (4 - int(math.Round(angle/(math.Pi/2)))) % 4
}

// orders are the ways in which four corners can be named: four turns, then four
// with a mirror.
var orders = [8][4]int{
	{0, 1, 2, 3}, {1, 2, 3, 0}, {2, 3, 0, 1}, {3, 0, 1, 2},
	{1, 0, 3, 2}, {0, 3, 2, 1}, {3, 2, 1, 0}, {2, 1, 0, 3},
}

func reordered(p [4]layout.PicturePoint, order [4]int) [4]layout.PicturePoint {
	return [4]layout.PicturePoint{p[order[0]], p[order[1]], p[order[2]], p[order[3]]}
}

// inFrame tells whether all of an area lies in a photograph of w x h pixels.
func (v view) inFrame(a layout.Area, w, h int) bool {
	for _, c := range a.Corners() {
		p := v.pixel(c)
		if !(p.X >= 0 && p.Y >= 0 && p.X <= float64(w) && p.Y <= float64(h)) {
			return false
		}
	}
	return true
}

// validateCorners wants the corners given by hand near the photograph.
func validateCorners(p [4]layout.PicturePoint, w, h int) error {
	for i, c := range p {
		if !(c.X >= -float64(w) && c.X <= 2*float64(w) && c.Y >= -float64(h) && c.Y <= 2*float64(h)) {
			return fmt.Errorf("corner %d at %v lies far outside the photograph of %d x %d pixels: give pixels from its upper left", i+1, c, w, h)
		}
	}
	return nil
}
