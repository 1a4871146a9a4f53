package picture

import (
	"math"
	"sort"
)

// monotoneCubic goes smoothly through points and rises or falls between two of
// them as they do, never beyond either. Outside it is level.
//
// Source: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic
// interpolation", SIAM J. Numer. Anal. 17(2), 1980; slopes after F. N. Fritsch
// and J. Butland, "A method for constructing local monotone piecewise cubic
// interpolants", SIAM J. Sci. Statist. Comput. 5(2), 1984.
type monotoneCubic struct{ x, y, slope []float64 }

// newMonotoneCubic wants two points or more, x rising.
func newMonotoneCubic(x, y []float64) *monotoneCubic {
	last := len(x) - 1
	wide, steep := make([]float64, last), make([]float64, last)
	for i := range last {
		wide[i] = x[i+1] - x[i]
		steep[i] = (y[i+1] - y[i]) / wide[i]
	}
	c := &monotoneCubic{x, y, make([]float64, len(x))}
	if last == 1 {
		c.slope[0], c.slope[1] = steep[0], steep[0]
		return c
	}
	for i := 1; i < last; i++ {
		if before, after := steep[i-1], steep[i]; before*after > 0 {
			w1, w2 := 2*wide[i]+wide[i-1], wide[i]+2*wide[i-1]
			c.slope[i] = (w1 + w2) / (w1/before + w2/after)
		}
	}
	c.slope[0] = endSlope(wide[0], wide[1], steep[0], steep[1])
	c.slope[last] = endSlope(wide[last-1], wide[last-2], steep[last-1], steep[last-2])
	return c
}

// endSlope is the slope of the parabola through the three points at an end, held
// to what keeps the end monotone.
func endSlope(wide, next, steep, nextSteep float64) float64 {
	s := ((2*wide+next)*steep - wide*nextSteep) / (wide + next)
	switch {
	case s*steep <= 0:
		return 0
	case steep*nextSteep <= 0 && math.Abs(s) > 3*math.Abs(steep):
		return 3 * steep
	}
	return s
}

func (c *monotoneCubic) at(x float64) float64 {
	last := len(c.x) - 1
	switch {
	case x <= c.x[0]:
		return c.y[0]
	case x >= c.x[last]:
		return c.y[last]
	}
	i := sort.SearchFloat64s(c.x, x)
	if c.x[i] > x {
		i--
	}
	wide := c.x[i+1] - c.x[i]
	t := (x - c.x[i]) / wide
	h := t * t * (3 - 2*t)
	v := c.y[i] + (c.y[i+1]-c.y[i])*h + wide*t*(1-t)*((1-t)*c.slope[i]-t*c.slope[i+1])
	// The last bit of the polynomial must not break what it promises.
	return math.Min(math.Max(v, math.Min(c.y[i], c.y[i+1])), math.Max(c.y[i], c.y[i+1]))
}
