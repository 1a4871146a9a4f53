package fit

import (
	"math"

	"undercoat/imaging/colour"
)

// triple is three numbers of a colour; square3 turns one into another.
type (
	triple  [3]float64
	square3 [3][3]float64
)

func (m *square3) times(v triple) (out triple) {
	for r := range m {
		out[r] = m[r][0]*v[0] + m[r][1]*v[1] + m[r][2]*v[2]
	}
	return out
}

func (m *square3) product(n *square3) (out square3) {
	for r := range m {
		for c := range m {
			out[r][c] = m[r][0]*n[0][c] + m[r][1]*n[1][c] + m[r][2]*n[2][c]
		}
	}
	return out
}

func (m *square3) inverse() (out square3) {
	det := 0.0
	for c := range 3 {
		det += m[0][c] * (m[1][(c+1)%3]*m[2][(c+2)%3] - m[1][(c+2)%3]*m[2][(c+1)%3])
	}
	for r := range 3 {
		for c := range 3 {
			r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
			out[c][r] = (m[r1][c1]*m[r2][c2] - m[r1][c2]*m[r2][c1]) / det
		}
	}
	return out
}

func ofLab(c colour.Lab) triple       { return triple{c.L, c.A, c.B} }
func ofLinear(c colour.Linear) triple { return triple{c.R, c.G, c.B} }
func (t triple) lab() colour.Lab      { return colour.Lab{L: t[0], A: t[1], B: t[2]} }
func (t triple) linear() colour.Linear {
	return colour.Linear{R: t[0], G: t[1], B: t[2]}
}
func (t triple) minus(u triple) triple { return triple{t[0] - u[0], t[1] - u[1], t[2] - u[2]} }
func (t triple) dot(u triple) float64  { return t[0]*u[0] + t[1]*u[1] + t[2]*u[2] }
func (t triple) length() float64       { return math.Sqrt(t.dot(t)) }
func (t *triple) add(f float64, u triple) {
	for i := range t {
		t[i] += f * u[i]
	}
}

// ofWhite holds the share that each primary has in the X, Y and Z of white.
var ofWhite = func() (m square3) {
	for c, l := range []colour.Linear{{R: 1}, {G: 1}, {B: 1}} {
		x := l.XYZ()
		m[0][c], m[1][c], m[2][c] = x.X/colour.White.X, x.Y/colour.White.Y, x.Z/colour.White.Z
	}
	return m
}()

// labSlope is by how much CIELAB moves with linear light at a look: the
// derivative of the formulas in CIE 15:2004, 8.2.1.
func labSlope(look triple) square3 {
	const epsilon, kappa = 216.0 / 24389, 24389.0 / 27
	white := ofWhite.times(look)
	var f square3 // of f(X), f(Y), f(Z)
	for r, t := range white {
		slope := kappa / 116
		if t > epsilon {
			root := math.Cbrt(t)
			slope = 1 / (3 * root * root)
		}
		for c := range 3 {
			f[r][c] = slope * ofWhite[r][c]
		}
	}
	var out square3
	for c := range 3 {
		out[0][c] = 116 * f[1][c]
		out[1][c] = 500 * (f[0][c] - f[1][c])
		out[2][c] = 200 * (f[1][c] - f[2][c])
	}
	return out
}

// evenSteps turns small CIELAB differences from a colour into three numbers
// whose root of squares is close to CIEDE2000: lightness, chroma and hue, each
// over its weighting function. The turned term for blues is left out.
//
// Source: Sharma, Wu and Dalal, "The CIEDE2000 color-difference formula", Color
// Research and Application 30(1), 2005, for the weighting functions.
func evenSteps(at colour.Lab) square3 {
	const pow25to7 = 6103515625.0 // 25^7
	chroma7 := math.Pow(math.Hypot(at.A, at.B), 7)
	stretch := 1.5 - 0.5*math.Sqrt(chroma7/(chroma7+pow25to7))
	a, b := at.A*stretch, at.B
	chroma, hue := math.Hypot(a, b), math.Atan2(b, a)
	deg := math.Pi / 180
	t := 1 - 0.17*math.Cos(hue-30*deg) + 0.24*math.Cos(2*hue) + 0.32*math.Cos(3*hue+6*deg) - 0.20*math.Cos(4*hue-63*deg)
	l50 := (at.L - 50) * (at.L - 50)
	sL := 1 + 0.015*l50/math.Sqrt(20+l50)
	sC := 1 + 0.045*chroma
	sH := 1 + 0.015*chroma*t
	cos, sin := math.Cos(hue), math.Sin(hue)
	return square3{
		{1 / sL, 0, 0},
		{0, stretch * cos / sC, sin / sC},
		{0, -stretch * sin / sH, cos / sH},
	}
}

// stepWidths is how far each part of CIELAB goes in one even step from a colour.
func stepWidths(at colour.Lab) triple {
	steps := evenSteps(at)
	inverse := steps.inverse()
	var out triple
	for r := range out {
		out[r] = triple(inverse[r]).length()
	}
	return out
}
