package colour

import "math"

// XYZ is a colour in CIE XYZ, relative to Y = 1 for the white of the screen.
type XYZ struct{ X, Y, Z float64 }

// Lab is a colour in CIELAB under D65. L runs 0..100.
type Lab struct{ L, A, B float64 }

// White is D65 from its chromaticity x = 0.3127, y = 0.3290.
// Source: IEC 61966-2-1:1999; ITU-R BT.709-6.
var White = XYZ{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290}

// The two constants of CIELAB as fractions, so that the branches meet.
// Source: CIE 15:2004, 8.2.1 and note on the exact fractions.
const (
	labEpsilon = 216.0 / 24389
	labKappa   = 24389.0 / 27
)

// toXYZ and fromXYZ follow from the sRGB primaries (R .64 .33, G .30 .60,
// B .15 .06) and White; they are exact inverses, which the four-decimal tables
// of the standard are not.
var toXYZ, fromXYZ = primariesMatrices()

type matrix [3][3]float64

func (m *matrix) times(a, b, c float64) (x, y, z float64) {
	return m[0][0]*a + m[0][1]*b + m[0][2]*c,
		m[1][0]*a + m[1][1]*b + m[1][2]*c,
		m[2][0]*a + m[2][1]*b + m[2][2]*c
}

func primariesMatrices() (to, from *matrix) {
	xy := [3][2]float64{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}
	var p matrix
	for i, c := range xy {
		p[0][i], p[1][i], p[2][i] = c[0]/c[1], 1, (1-c[0]-c[1])/c[1]
	}
	inv := p.inverse()
	var s [3]float64
	s[0], s[1], s[2] = inv.times(White.X, White.Y, White.Z)
	for row := range p {
		for col := range p[row] {
			p[row][col] *= s[col]
		}
	}
	return &p, p.inverse()
}

func (m *matrix) inverse() *matrix {
	var adj matrix
	for r := range 3 {
		for c := range 3 {
			r1, r2, c1, c2 := (r+1)%3, (r+2)%3, (c+1)%3, (c+2)%3
			adj[c][r] = m[r1][c1]*m[r2][c2] - m[r1][c2]*m[r2][c1]
		}
	}
	det := m[0][0]*adj[0][0] + m[0][1]*adj[1][0] + m[0][2]*adj[2][0]
	for r := range 3 {
		for c := range 3 {
			adj[r][c] /= det
		}
	}
	return &adj
}

// XYZ is the colour in CIE XYZ.
func (l Linear) XYZ() XYZ {
	x, y, z := toXYZ.times(l.R, l.G, l.B)
	return XYZ{x, y, z}
}

// Linear is the colour with the sRGB primaries; colours outside the gamut have
// parts below 0 or above 1.
func (c XYZ) Linear() Linear {
	r, g, b := fromXYZ.times(c.X, c.Y, c.Z)
	return Linear{r, g, b}
}

// Lab is the colour in CIELAB under D65.
// Source: CIE 15:2004, 8.2.1.
func (c XYZ) Lab() Lab {
	fx, fy, fz := labF(c.X/White.X), labF(c.Y/White.Y), labF(c.Z/White.Z)
	return Lab{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// XYZ is the colour in CIE XYZ.
func (c Lab) XYZ() XYZ {
	fy := (c.L + 16) / 116
	return XYZ{White.X * labInvF(fy+c.A/500), FromLStar(c.L) * White.Y, White.Z * labInvF(fy-c.B/200)}
}

// Lab is the colour in CIELAB under D65.
func (l Linear) Lab() Lab { return l.XYZ().Lab() }

// Linear is the colour in linear light.
func (c Lab) Linear() Linear { return c.XYZ().Linear() }

// LStar is the lightness, 0..100, of the relative luminance y, 0..1.
func LStar(y float64) float64 { return 116*labF(y) - 16 }

// FromLStar is the relative luminance, 0..1, of a lightness, 0..100.
func FromLStar(l float64) float64 { return labInvF((l + 16) / 116) }

func labF(t float64) float64 {
	if t > labEpsilon {
		return math.Cbrt(t)
	}
	return (labKappa*t + 16) / 116
}

func labInvF(f float64) float64 {
	if c := f * f * f; c > labEpsilon {
		return c
	}
	return (116*f - 16) / labKappa
}
