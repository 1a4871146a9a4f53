package picture

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
)

// MaxCurvePoints is the most points that a curve can have.
const MaxCurvePoints = 16

// curveGap is how far apart, in L*, the points of a curve stay from side to side.
const curveGap = 0.5

// curveSlack is what adding and taking away the gap may cost.
const curveSlack = 1e-9

// CurvePoint says where a curve takes a lightness. Both are L*, 0..100.
type CurvePoint struct{ From, To float64 }

// Curve takes lightness to lightness through points that people drag. It never
// falls: turning a picture round is not its business. Before its first point and
// after its last it is level. The zero value is no curve and changes nothing; any
// other has 2 to 16 points. In files it is a list of [from, to].
type Curve struct {
	count  int
	points [MaxCurvePoints]CurvePoint
}

// NewCurve makes a curve through 2 to 16 points from left to right, at least half
// a step of L* apart, none lower than the one before. No point at all makes no
// curve.
func NewCurve(points ...CurvePoint) (Curve, error) {
	if len(points) > MaxCurvePoints {
		return Curve{}, fmt.Errorf("curve has %d points: leave at most %d", len(points), MaxCurvePoints)
	}
	c := Curve{count: len(points)}
	copy(c.points[:], points)
	return c, c.Validate()
}

// Validate names the first point that is out of its range or out of order.
func (c Curve) Validate() error {
	if c.count == 1 {
		return fmt.Errorf("curve has 1 point: give it 2 to %d, or none for no curve", MaxCurvePoints)
	}
	for i, p := range c.points[:c.count] {
		if !(p.From >= 0 && p.From <= 100 && p.To >= 0 && p.To <= 100) {
			return fmt.Errorf("curve point %d takes lightness %v to %v, outside 0 to 100: choose both in that range", i+1, p.From, p.To)
		}
		if i == 0 {
			continue
		}
		switch before := c.points[i-1]; {
		case !(p.From >= before.From+curveGap-curveSlack):
			return fmt.Errorf("curve point %d at lightness %v is less than %v to the right of the point before, at %v: move it", i+1, p.From, curveGap, before.From)
		case !(p.To >= before.To):
			return fmt.Errorf("curve point %d goes to lightness %v, below the point before, at %v: a curve may not fall", i+1, p.To, before.To)
		}
	}
	return nil
}

// Points are the curve's points from left to right; none for no curve.
func (c Curve) Points() []CurvePoint { return slices.Clone(c.points[:c.count]) }

// Moved is the curve with point i, 0 being the first, dragged to a place as far as
// its neighbours allow. A curve has no such point, or a place is not a number:
// nothing moves.
func (c Curve) Moved(i int, to CurvePoint) Curve {
	if i < 0 || i >= c.count || math.IsNaN(to.From) || math.IsNaN(to.To) {
		return c
	}
	low, high := CurvePoint{0, 0}, CurvePoint{100, 100}
	if i > 0 {
		low = CurvePoint{c.points[i-1].From + curveGap, c.points[i-1].To}
	}
	if i < c.count-1 {
		high = CurvePoint{c.points[i+1].From - curveGap, c.points[i+1].To}
	}
	c.points[i] = CurvePoint{
		math.Min(math.Max(to.From, low.From), high.From),
		math.Min(math.Max(to.To, low.To), high.To),
	}
	return c
}

// With is the curve with one more point, and which it is. Its height is held
// between its neighbours'. No curve yet: black and white become points as well.
func (c Curve) With(p CurvePoint) (Curve, int, error) {
	if c.count == 0 {
		c = Curve{count: 2, points: [MaxCurvePoints]CurvePoint{{0, 0}, {100, 100}}}
	}
	if c.count == MaxCurvePoints {
		return c, 0, fmt.Errorf("curve has %d points already: move one, or take one out first", MaxCurvePoints)
	}
	points := c.Points()
	i, _ := slices.BinarySearchFunc(points, p, func(a, b CurvePoint) int {
		if a.From < b.From {
			return -1
		}
		return 1
	})
	low, high := 0.0, 100.0
	if i > 0 {
		low = points[i-1].To
	}
	if i < len(points) {
		high = points[i].To
	}
	p.To = math.Min(math.Max(p.To, low), high)
	more, err := NewCurve(slices.Insert(points, i, p)...)
	return more, i, err
}

// Without is the curve less point i. When one point would be left, there is no
// curve any more.
func (c Curve) Without(i int) Curve {
	if i < 0 || i >= c.count {
		return c
	}
	if c.count <= 2 {
		return Curve{}
	}
	copy(c.points[i:], c.points[i+1:c.count])
	c.count--
	c.points[c.count] = CurvePoint{} // what is unused is zero, so that == compares curves
	return c
}

// At is where the curve takes a lightness, 0..100.
func (c Curve) At(lightness float64) float64 {
	if c.count == 0 {
		return lightness
	}
	return c.cubic().at(lightness)
}

// bend takes rising lightnesses in 1/65535 of L* 100 through the curve. The last bit
// of the cubic must not make them fall.
func (c Curve) bend(lightness []float64) {
	if c.count == 0 {
		return
	}
	cubic, before := c.cubic(), 0.0
	for i, l := range lightness {
		before = math.Max(before, cubic.at(l/full*100)/100*full)
		lightness[i] = before
	}
}

func (c Curve) cubic() *monotoneCubic {
	x, y := make([]float64, c.count), make([]float64, c.count)
	for i, p := range c.points[:c.count] {
		x[i], y[i] = p.From, p.To
	}
	return newMonotoneCubic(x, y)
}

// MarshalJSON writes [[from, to], ...].
func (c Curve) MarshalJSON() ([]byte, error) {
	list := make([][2]float64, c.count)
	for i, p := range c.points[:c.count] {
		list[i] = [2]float64{p.From, p.To}
	}
	return json.Marshal(list)
}

// UnmarshalJSON reads [[from, to], ...], and an empty list as no curve.
func (c *Curve) UnmarshalJSON(data []byte) error {
	const shape = "write [[from, to], ...] in lightness 0 to 100"
	var list [][]*float64 // pointers, so that null is seen and not read as 0
	if err := json.Unmarshal(data, &list); err != nil {
		return fmt.Errorf("curve is not a list of points: %s: %w", shape, err)
	}
	points := make([]CurvePoint, len(list))
	for i, p := range list {
		if len(p) != 2 || p[0] == nil || p[1] == nil {
			return fmt.Errorf("curve point %d is not two numbers: %s", i+1, shape)
		}
		points[i] = CurvePoint{*p[0], *p[1]}
	}
	read, err := NewCurve(points...)
	if err == nil {
		*c = read
	}
	return err
}
