package colour

import "math"

// DE2000 is the CIEDE2000 difference of two colours with all parametric factors 1.
// Source: Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula:
// implementation notes, supplementary test data, and mathematical
// observations", Color Research and Application 30(1), 2005.
func DE2000(p, q Lab) float64 {
	const pow25to7 = 6103515625.0 // 25^7
	chroma7 := math.Pow((math.Hypot(p.A, p.B)+math.Hypot(q.A, q.B))/2, 7)
	stretch := 1.5 - 0.5*math.Sqrt(chroma7/(chroma7+pow25to7))
	c1, h1 := math.Hypot(p.A*stretch, p.B), hueDegrees(p.A*stretch, p.B)
	c2, h2 := math.Hypot(q.A*stretch, q.B), hueDegrees(q.A*stretch, q.B)

	dL, dC, dHue := q.L-p.L, c2-c1, 0.0
	meanHue := h1 + h2
	if c1*c2 != 0 {
		dHue, meanHue = hueBetween(h1, h2)
	}
	dH := 2 * math.Sqrt(c1*c2) * sinDegrees(dHue/2)

	meanL, meanC := (p.L+q.L)/2, (c1+c2)/2
	t := 1 - 0.17*cosDegrees(meanHue-30) + 0.24*cosDegrees(2*meanHue) +
		0.32*cosDegrees(3*meanHue+6) - 0.20*cosDegrees(4*meanHue-63)
	l50 := (meanL - 50) * (meanL - 50)
	sL := 1 + 0.015*l50/math.Sqrt(20+l50)
	sC := 1 + 0.045*meanC
	sH := 1 + 0.015*meanC*t

	meanC7 := math.Pow(meanC, 7)
	turn := (meanHue - 275) / 25
	rT := -2 * math.Sqrt(meanC7/(meanC7+pow25to7)) * sinDegrees(60*math.Exp(-turn*turn))

	l, c, h := dL/sL, dC/sC, dH/sH
	return math.Sqrt(l*l + c*c + h*h + rT*c*h)
}

// hueBetween gives the signed step from h1 to h2 and the mean hue, both along
// the shorter way round; at exactly half a turn it goes upwards, as the paper does.
func hueBetween(h1, h2 float64) (step, mean float64) {
	step, mean = h2-h1, (h1+h2)/2
	if math.Abs(step) <= 180 {
		return step, mean
	}
	if step > 0 {
		step -= 360
	} else {
		step += 360
	}
	if h1+h2 < 360 {
		return step, mean + 180
	}
	return step, mean - 180
}

func hueDegrees(a, b float64) float64 {
	if a == 0 && b == 0 {
		return 0
	}
	h := math.Atan2(b, a) * 180 / math.Pi
	if h < 0 {
		h += 360
	}
	return h
}

func sinDegrees(d float64) float64 { return math.Sin(d * math.Pi / 180) }
func cosDegrees(d float64) float64 { return math.Cos(d * math.Pi / 180) }
