package scene

import "math"

// blurred is a box with an edge of 0 and 1 that was blurred by a Gaussian: the
// share that a point gets. Over x and over y it is a difference of two error
// functions.
func blurred(b box, sigma, x, y float64) float64 {
	over := 1 / (sigma * math.Sqrt2)
	up := erf((y-b.y0)*over) - erf((y-b.y1)*over)
	if up == 0 {
		return 0
	}
	return up * (erf((x-b.x0)*over) - erf((x-b.x1)*over)) / 4
}

// erfs are the error function from 0 to erfEnd; between them a line is good to
// 2e-7, far below what eight bits show.
const (
	erfEnd   = 4.0
	erfSteps = 4096
)

var erfs = func() (table [erfSteps + 2]float64) {
	for i := range table {
		table[i] = math.Erf(erfEnd * float64(i) / erfSteps)
	}
	return table
}()

// erf is math.Erf from a table.
func erf(v float64) float64 {
	a := math.Abs(v)
	if a >= erfEnd {
		return math.Copysign(1, v)
	}
	at := a * (erfSteps / erfEnd)
	i := int(at)
	return math.Copysign(erfs[i]+(at-float64(i))*(erfs[i+1]-erfs[i]), v)
}
