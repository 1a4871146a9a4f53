package main

import "math"

// noise is a field of smooth random values, one for each seed, the same on every run.
type noise uint32

// at is gradient noise at a place: about -1..1, 0 at whole coordinates.
func (n noise) at(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int32(fx), int32(fy)
	dx, dy := x-fx, y-fy
	u, v := fade(dx), fade(dy)
	top := lerp(n.corner(ix, iy, dx, dy), n.corner(ix+1, iy, dx-1, dy), u)
	low := lerp(n.corner(ix, iy+1, dx, dy-1), n.corner(ix+1, iy+1, dx-1, dy-1), u)
	return 1.5 * lerp(top, low, v)
}

// corner is the share of one lattice point, whose slope has one of 16 directions.
func (n noise) corner(ix, iy int32, dx, dy float64) float64 {
	d := slopes[n.hash(ix, iy)>>28]
	return d[0]*dx + d[1]*dy
}

var slopes = func() (s [16][2]float64) {
	for i := range s {
		a := (float64(i) + 0.5) * math.Pi / 8
		s[i] = [2]float64{math.Cos(a), math.Sin(a)}
	}
	return s
}()

// hash mixes the bits of a lattice point well enough for pictures.
func (n noise) hash(ix, iy int32) uint32 {
	h := uint32(n)*0x9e3779b1 ^ uint32(ix)*0x85ebca6b ^ uint32(iy)*0xc2b2ae35
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	return h ^ h>>15
}

// random is an even random number 0..1 of a lattice point.
func (n noise) random(ix, iy int) float64 {
	return float64(n.hash(int32(ix), int32(iy))) / (1 << 32)
}

// sum adds octaves of noise, each twice as fine and half as strong: about -1..1.
func (n noise) sum(x, y float64, octaves int) float64 {
	total, weight := 0.0, 0.5
	for i := range octaves {
		total += weight * (n+noise(i)).at(x, y)
		x, y, weight = 2*x+17.3, 2*y+9.1, weight/2
	}
	return total
}

// ridges is like sum, with sharp crests as rock has: 0..1.
func (n noise) ridges(x, y float64, octaves int) float64 {
	total, weight := 0.0, 0.5
	for i := range octaves {
		r := 1 - math.Min(1, math.Abs((n+noise(i)).at(x, y))*1.6)
		total += weight * r * r
		x, y, weight = 2.1*x+11.7, 2.1*y+5.3, weight/2
	}
	return total
}

// facets breaks the plane into angular pieces, as stone breaks: a random tone
// 0..1 for each piece, and the distance to its nearest edge, 0 on the edge.
func (n noise) facets(x, y float64) (tone, edge float64) {
	fx, fy := int(math.Floor(x)), int(math.Floor(y))
	near, second := math.Inf(1), math.Inf(1)
	for iy := fy - 1; iy <= fy+1; iy++ {
		for ix := fx - 1; ix <= fx+1; ix++ {
			dx := float64(ix) + n.random(ix, iy) - x
			dy := float64(iy) + (n+1).random(ix, iy) - y
			switch d := math.Hypot(dx, dy); {
			case d < near:
				near, second = d, near
				tone = (n+2).random(ix, iy) + 0.5*dx - 0.35*dy // each piece leans a little
			case d < second:
				second = d
			}
		}
	}
	return clamp(tone, 0, 1), second - near
}

func fade(t float64) float64 { return t * t * t * (t*(6*t-15) + 10) }

func lerp(a, b, t float64) float64 { return a + (b-a)*t }

// step rises smoothly from 0 at a to 1 at b; a may be above b.
func step(a, b, v float64) float64 {
	t := clamp((v-a)/(b-a), 0, 1)
	return t * t * (3 - 2*t)
}

func clamp(v, low, high float64) float64 { return math.Max(low, math.Min(high, v)) }

// bell is 1 at 0 and falls off as a normal curve of the given width.
func bell(v, width float64) float64 { return math.Exp(-v * v / (2 * width * width)) }
