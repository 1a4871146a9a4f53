package coat

import (
	"math"

	"gonum.org/v1/gonum/interp"
)

// beyond is how far past its last point a curve is drawn on: to twice that dose.
// A what-if with thicker paint, or a second pass of one coat, needs the stretch
// just past the deepest break-through; further out nothing is known.
const beyond = 2.0

// depthCurve is z(D): 0 up to the onset, a monotone cubic in ln D through the
// points, a straight line in ln D from the last point on, with the slope that
// the cubic ends with, up to twice the last dose, and level after that.
//
// Source: F. N. Fritsch and R. E. Carlson, "Monotone piecewise cubic
// interpolation", SIAM J. Numer. Anal. 17(2), 1980; slopes after F. N. Fritsch
// and J. Butland, "A method for constructing local monotone piecewise cubic
// interpolants", SIAM J. Sci. Statist. Comput. 5(2), 1984.
type depthCurve struct {
	lnDose   []float64 // of the points
	doses    []float64
	depths   []float64
	cubic    interp.FritschButland
	endSlope float64 // um per unit of ln D
	reachUM  float64 // depth at twice the last dose
}

// newDepthCurve wants points that Validate has passed.
func newDepthCurve(points []Point) *depthCurve {
	c := &depthCurve{}
	for _, p := range points {
		c.doses = append(c.doses, p.DoseJCM2)
		c.lnDose = append(c.lnDose, math.Log(p.DoseJCM2))
		c.depths = append(c.depths, p.DepthUM)
	}
	// Fit panics on short or unsorted input, which Validate has ruled out.
	_ = c.cubic.Fit(c.lnDose, c.depths)
	last := len(points) - 1
	c.endSlope = math.Max(0, c.cubic.PredictDerivative(c.lnDose[last]))
	c.reachUM = c.depths[last] + c.endSlope*math.Log(beyond)
	return c
}

func (c *depthCurve) depthUM(doseJCM2 float64) float64 {
	last := len(c.doses) - 1
	switch {
	case !(doseJCM2 > c.doses[0]):
		return 0
	case doseJCM2 < c.doses[last]:
		return c.between(math.Log(doseJCM2))
	case doseJCM2 >= beyond*c.doses[last]:
		return c.reachUM
	default:
		return math.Min(c.reachUM, c.depths[last]+c.endSlope*(math.Log(doseJCM2)-c.lnDose[last]))
	}
}

// between is the cubic, held to the depths of its two neighbouring points: the
// last bit of the polynomial must not break "never less deep".
func (c *depthCurve) between(lnDose float64) float64 {
	i := 0
	for i < len(c.lnDose)-2 && lnDose >= c.lnDose[i+1] {
		i++
	}
	return math.Min(c.depths[i+1], math.Max(c.depths[i], c.cubic.Predict(lnDose)))
}

// doseFor is the lowest dose that burns to a depth above 0; +Inf where the
// curve does not reach. drawn is true when that dose lies past the last point.
func (c *depthCurve) doseFor(depthUM float64) (dose float64, drawn bool) {
	// A sum of thicknesses carries rounding errors; they must not push a face
	// past a point that was meant to lie on it.
	slack := 1e-9 * depthUM
	for i, d := range c.depths {
		if math.Abs(d-depthUM) <= slack {
			return c.doses[i], false
		}
		if d > depthUM {
			return math.Exp(c.bisect(i-1, depthUM)), false
		}
	}
	if depthUM > c.reachUM+slack {
		return math.Inf(1), true
	}
	last := len(c.doses) - 1
	return math.Min(beyond*c.doses[last], c.doses[last]*math.Exp((depthUM-c.depths[last])/c.endSlope)), true
}

// bisect finds ln D with z(D) = depthUM between the points i and i+1.
func (c *depthCurve) bisect(i int, depthUM float64) float64 {
	low, high := c.lnDose[i], c.lnDose[i+1]
	for range 100 {
		mid := low + (high-low)/2
		if mid <= low || mid >= high {
			break
		}
		if c.cubic.Predict(mid) < depthUM {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}
