package picture

import (
	"errors"
	"math"

	"undercoat/imaging/colour"
)

// chromaticities is where white and the three primaries of a space lie: CIE x, y.
type chromaticities struct{ white, red, green, blue [2]float64 }

// The primaries and white of Display P3. Source: SMPTE EG 432-1:2010 for the
// primaries, with the white of D65; ITU-T H.273, table 2, value 12.
var p3Primaries = chromaticities{white: d65, red: [2]float64{0.680, 0.320}, green: [2]float64{0.265, 0.690}, blue: [2]float64{0.150, 0.060}}

var d65 = [2]float64{0.3127, 0.3290}

// whiteD50 is the white of profiles. Source: ICC.1:2022, 7.2.16.
var whiteD50 = colour.XYZ{X: 0.9642, Y: 1, Z: 0.8249}

// toSRGB takes linear light of these primaries to that of sRGB's, white to white.
func (c chromaticities) toSRGB() (matrix, error) {
	white, ok := xyzOf(c.white)
	var p matrix // each primary's light, of any strength, as a column
	for i, xy := range [][2]float64{c.red, c.green, c.blue} {
		light, lit := xyzOf(xy)
		ok = ok && lit
		p[0][i], p[1][i], p[2][i] = light.X, light.Y, light.Z
	}
	inverse, unlike := p.inverse()
	if !ok || !unlike {
		return matrix{}, errors.New("they span no colours")
	}
	strength := [3]float64{}
	strength[0], strength[1], strength[2] = inverse.times(white.X, white.Y, white.Z)
	adapt := adaptation(white, colour.White)
	var m matrix
	for i, s := range strength {
		x, y, z := adapt.times(s*p[0][i], s*p[1][i], s*p[2][i])
		l := colour.XYZ{X: x, Y: y, Z: z}.Linear()
		m[0][i], m[1][i], m[2][i] = l.R, l.G, l.B
	}
	return m, nil
}

// xyzOf is the light of luminance 1 at a chromaticity, which needs a luminance.
func xyzOf(xy [2]float64) (colour.XYZ, bool) {
	x, y := xy[0], xy[1]
	if !(y > 0.001 && y <= 1 && x >= 0 && x <= 1) {
		return colour.XYZ{}, false
	}
	return colour.XYZ{X: x / y, Y: 1, Z: (1 - x - y) / y}, true
}

// bradford takes XYZ to the responses of three sharpened cones.
// Source: ICC.1:2022, annex E (E.3); Lam, 1985, University of Bradford.
var bradford = matrix{{0.8951, 0.2664, -0.1614}, {-0.7502, 1.7135, 0.0367}, {0.0389, -0.0685, 1.0296}}

// adaptation takes XYZ seen under one white to what looks like it under another.
func adaptation(from, to colour.XYZ) matrix {
	inverse, _ := bradford.inverse()
	a1, a2, a3 := bradford.times(from.X, from.Y, from.Z)
	b1, b2, b3 := bradford.times(to.X, to.Y, to.Z)
	cones := matrix{{b1 / a1, 0, 0}, {0, b2 / a2, 0}, {0, 0, b3 / a3}}
	return inverse.of(cones.of(bradford))
}

// times is the matrix laid over one column.
func (m *matrix) times(a, b, c float64) (x, y, z float64) {
	return m[0][0]*a + m[0][1]*b + m[0][2]*c,
		m[1][0]*a + m[1][1]*b + m[1][2]*c,
		m[2][0]*a + m[2][1]*b + m[2][2]*c
}

// of is the matrix laid over another.
func (m matrix) of(o matrix) (out matrix) {
	for c := range 3 {
		out[0][c], out[1][c], out[2][c] = m.times(o[0][c], o[1][c], o[2][c])
	}
	return out
}

// inverse tells as well whether there is one.
func (m matrix) inverse() (inv matrix, ok bool) {
	for r := range 3 {
		for c := range 3 {
			r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
			inv[c][r] = m[r1][c1]*m[r2][c2] - m[r1][c2]*m[r2][c1]
		}
	}
	det := m[0][0]*inv[0][0] + m[0][1]*inv[1][0] + m[0][2]*inv[2][0]
	if !(math.Abs(det) > 1e-9) {
		return matrix{}, false
	}
	for r := range inv {
		for c := range inv[r] {
			inv[r][c] /= det
		}
	}
	return inv, true
}
