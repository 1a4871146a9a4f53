package photo

import (
	"math"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// lamp is the light on the chart: how bright the unburned paint is in the
// photograph at each place of it.
//
// The logarithm of its luminance is a polynomial in x and y, of up to the fourth
// degree where there are fields enough; red and blue may besides lean to one side,
// as under two lamps. It is fitted by least squares in which fields that lie far
// off count less and less (Tukey's biweight).
// Source: P. W. Holland and R. E. Welsch, "Robust regression using iteratively
// reweighted least-squares", Communications in Statistics A6(9), 1977 (from memory).
type lamp struct {
	size            layout.Size
	shape           []float64     // of ln luminance, without its value at the centre
	lean            [3][2]float64 // of ln red, green, blue beside the luminance's
	level           colour.Linear // of the unburned paint at the centre
	fields          int
	trusted         bool // there was something to fit
	lowest, highest float64
}

// even takes what the photograph shows at a place to the light of the centre.
func (l lamp) even(seen colour.Linear, at layout.Point) colour.Linear {
	if !l.trusted {
		return seen
	}
	f := l.factor(at)
	return colour.Linear{R: seen.R / f.R, G: seen.G / f.G, B: seen.B / f.B}
}

// factor is the light at a place in shares of that at the centre. Beyond the chart
// it is that of its rim: a polynomial says nothing there.
func (l lamp) factor(at layout.Point) colour.Linear {
	x, y := l.normal(at)
	shape := 0.0
	for i, t := range terms(x, y, len(l.shape)+1)[1:] {
		shape += l.shape[i] * t
	}
	f := func(channel int) float64 { return math.Exp(shape + l.lean[channel][0]*x + l.lean[channel][1]*y) }
	return colour.Linear{R: f(0), G: f(1), B: f(2)}
}

// normal is a place with the chart's rim at -1 and 1.
func (l lamp) normal(at layout.Point) (x, y float64) {
	clamp := func(v float64) float64 { return min(max(v, -1), 1) }
	return clamp(float64(2 * at.X / l.size.W)), clamp(float64(2 * at.Y / l.size.H))
}

// reference is the unburned paint as the photograph shows it at the centre.
func (l lamp) reference() colour.Linear { return l.level }

// terms are the first n of 1, x, y, xx, xy, yy, xxx and so on.
func terms(x, y float64, n int) []float64 {
	t := make([]float64, 0, n)
	for degree := 0; len(t) < n; degree++ {
		for k := 0; k <= degree && len(t) < n; k++ {
			t = append(t, math.Pow(x, float64(degree-k))*math.Pow(y, float64(k)))
		}
	}
	return t
}

// termsFor is how many terms so many fields carry: of degree 0 to 4.
func termsFor(fields int) int {
	for _, d := range []struct{ fields, terms int }{{40, 15}, {22, 10}, {12, 6}, {5, 3}} {
		if fields >= d.fields {
			return d.terms
		}
	}
	return 1
}

// fitLamp fits the light to the unburned fields.
func fitLamp(fields []sample, size layout.Size) lamp {
	l := lamp{size: size}
	var at []layout.Point
	var seen []colour.Linear
	for _, f := range fields {
		if f.unreadable() != "" {
			continue
		}
		looks := make([]colour.Linear, len(f.blocks))
		var x, y layout.MM
		for i, b := range f.blocks {
			looks[i] = b.mean
			x, y = x+b.at.X, y+b.at.Y
		}
		mean, _, _ := middle(looks)
		if min(mean.R, mean.G, mean.B) <= 0 {
			continue
		}
		n := layout.MM(len(f.blocks))
		at, seen = append(at, layout.Point{X: x / n, Y: y / n}), append(seen, mean)
	}
	l.fields = len(at)
	if l.fields == 0 {
		return l
	}
	l.trusted = true
	l.fit(at, seen)
	return l
}

func (l *lamp) fit(at []layout.Point, seen []colour.Linear) {
	n := termsFor(len(at))
	rows, slopes := make([][]float64, len(at)), make([][]float64, len(at))
	luminance := make([]float64, len(at))
	for i, p := range at {
		x, y := l.normal(p)
		rows[i], slopes[i] = terms(x, y, n), terms(x, y, min(n, 3))
		luminance[i] = math.Log(seen[i].Y())
	}
	shape := robustFit(rows, luminance)
	l.shape = shape[1:]
	var level [3]float64
	for c := range 3 {
		rest := make([]float64, len(at))
		for i := range rest {
			rest[i] = math.Log([3]float64{seen[i].R, seen[i].G, seen[i].B}[c]) - dot(rows[i][1:], l.shape)
		}
		lean := robustFit(slopes, rest)
		copy(l.lean[c][:], lean[1:])
		level[c] = math.Exp(lean[0])
	}
	l.level = colour.Linear{R: level[0], G: level[1], B: level[2]}
	l.lowest, l.highest = math.Inf(1), 0
	for _, p := range at {
		y := l.factor(p).Y()
		l.lowest, l.highest = min(l.lowest, y), max(l.highest, y)
	}
}

// fallOff is the share of light that the darkest field lacks of the brightest's.
func (l lamp) fallOff() float64 {
	if !l.trusted {
		return 0
	}
	return 1 - l.lowest/l.highest
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

// robustFit is the vector whose dot products with the rows come nearest to want.
func robustFit(rows [][]float64, want []float64) []float64 {
	weights := make([]float64, len(rows))
	for i := range weights {
		weights[i] = 1
	}
	var fit []float64
	rest, sizes := make([]float64, len(rows)), make([]float64, len(rows))
	const sums, all = 6, 18
	for round := range all {
		fit = leastSquares(rows, want, weights)
		for i, row := range rows {
			rest[i] = want[i] - dot(row, fit)
			sizes[i] = math.Abs(rest[i])
		}
		const tuning, floor = 4.685, 1e-4
		width := tuning * max(1.4826*median(sizes), floor)
		for i, r := range rest {
			if round < sums { // towards least sums of distances, from where the rest is safe
				weights[i] = 1 / max(sizes[i], floor)
				continue
			}
			u := min(1, math.Abs(r)/width)
			weights[i] = (1 - u*u) * (1 - u*u)
		}
	}
	return fit
}

// leastSquares solves the weighted normal equations by Cholesky's method. A touch
// is added to the diagonal, so that what the fields do not tell, such as a slope
// across a single row of them, comes out as none.
func leastSquares(rows [][]float64, want, weights []float64) []float64 {
	n := len(rows[0])
	a, b := make([][]float64, n), make([]float64, n)
	for i := range a {
		a[i] = make([]float64, n)
	}
	total := 0.0
	for k, row := range rows {
		total += weights[k]
		for i := range n {
			b[i] += weights[k] * row[i] * want[k]
			for j := range i + 1 {
				a[i][j] += weights[k] * row[i] * row[j]
			}
		}
	}
	const touch = 1e-6
	for i := range n {
		a[i][i] += touch * (total + 1)
	}
	return solve(a, b)
}

// solve is Cholesky's method for the lower half of a positive matrix; it takes the
// place of a and b.
func solve(a [][]float64, b []float64) []float64 {
	n := len(b)
	for i := range n {
		for j := range i + 1 {
			sum := a[i][j] - dot(a[i][:j], a[j][:j])
			if i == j {
				a[i][i] = math.Sqrt(sum)
				continue
			}
			a[i][j] = sum / a[j][j]
		}
		b[i] = (b[i] - dot(a[i][:i], b[:i])) / a[i][i]
	}
	for i := n - 1; i >= 0; i-- {
		for j := i + 1; j < n; j++ {
			b[i] -= a[j][i] * b[j]
		}
		b[i] /= a[i][i]
	}
	return b
}
