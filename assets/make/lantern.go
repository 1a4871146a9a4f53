package main

import (
	"math"

	"undercoat/imaging/colour"
)

// The gallery's deck.
const deckY, deckHalf = 936.0, 196.0

// gallery is the walk round the lantern, on brackets.
func (c *canvas) gallery() {
	shade := func(x, y float64) (colour.Linear, float64) {
		l := evening(clamp((x-towerX)/(deckHalf+6), -1, 1))
		return colour.Linear{R: 0.5 * l.R, G: 0.47 * l.G, B: 0.44 * l.B}, 1
	}
	for i := range 9 { // brackets, closer together towards the edges
		s := math.Sin((float64(i) - 4) / 4 * 1.36)
		x := towerX + s*(topHalf+2)
		out := towerX + s*(deckHalf-10)
		c.fill(shade, []point{{x - 7, towerTop + 54}, {x + 7, towerTop + 54}, {out + 9, deckY + 12}, {out - 9, deckY + 12}})
	}
	c.fill(shade, curvedBand(deckHalf, deckY, deckY+20))
	c.fill(shade, curvedBand(deckHalf+7, deckY-9, deckY))
}

// railing goes round the gallery, in front of the lantern's low wall.
func (c *canvas) railing() {
	iron := flat(hex("#141318"))
	const posts = 34
	for i := range posts + 1 {
		a := (float64(i)/posts - 0.5) * math.Pi * 0.985
		x := towerX + (deckHalf-3)*math.Sin(a)
		y := deckY - 8 + 6*math.Cos(a)
		width := 2.0
		if i%4 == 1 {
			width = 4
		}
		c.line(iron, width, point{x, y}, point{x, y - 84})
	}
	for _, up := range []float64{84, 56, 28} {
		var rail []point
		for i := 0; i <= 40; i++ {
			a := (float64(i)/40 - 0.5) * math.Pi
			rail = append(rail, point{towerX + (deckHalf-3)*math.Sin(a), deckY - 8 - up + 6*math.Cos(a)})
		}
		c.line(iron, map[bool]float64{true: 4.5, false: 1.8}[up == 84], rail...)
	}
}

// curvedBand is a flat ring seen from a little below.
func curvedBand(half, y0, y1 float64) []point {
	var outline []point
	for i := 0; i <= 30; i++ {
		a := (float64(i)/30 - 0.5) * math.Pi
		outline = append(outline, point{towerX + half*math.Sin(a), y0 + 6*math.Cos(a)})
	}
	for i := 30; i >= 0; i-- {
		a := (float64(i)/30 - 0.5) * math.Pi
		outline = append(outline, point{towerX + half*math.Sin(a), y1 + 8*math.Cos(a)})
	}
	return outline
}

// lantern is the glazed room with the lens in it, and the roof with its vane.
func (c *canvas) lantern() {
	const half, sill, head = 92.0, 876.0, 650.0
	iron := flat(hex("#121116"))
	c.fill(func(x, y float64) (colour.Linear, float64) { // the low wall under the glass
		l := evening(clamp((x-towerX)/(half+8), -1, 1))
		return colour.Linear{R: 0.62 * l.R, G: 0.6 * l.G, B: 0.56 * l.B}, 1
	}, rect(towerX-half-8, sill-16, towerX+half+8, 936))
	c.fill(func(x, y float64) (colour.Linear, float64) { // glass, bright round the lens
		d := math.Hypot((x-towerX)/70, (y-lampY)/95)
		l := hex("#ffd27a").Scale(0.22 + 0.5*math.Exp(-d*d)).Add(hex("#35506e").Scale(0.18))
		return l, 1
	}, rect(towerX-half, head, towerX+half, sill-16))
	c.lens()
	for i := range 9 { // bars, upright and crossed as on a lattice
		a := (float64(i)/8 - 0.5) * math.Pi * 0.97
		b := (float64(i+1)/8 - 0.5) * math.Pi * 0.97
		x := towerX + half*math.Sin(a)
		c.line(iron, 3.2, point{x, head}, point{x, sill - 14})
		if i < 8 {
			x2 := towerX + half*math.Sin(b)
			c.line(iron, 1.7, point{x, sill - 16}, point{x2, lampY}, point{x, head})
			c.line(iron, 1.7, point{x2, sill - 16}, point{x, lampY}, point{x2, head})
		}
	}
	c.line(iron, 3, point{towerX - half, lampY}, point{towerX + half, lampY})
	c.roof(half+16, head)
}

// lens is the heart of the light, ring within ring.
func (c *canvas) lens() {
	for i := 9; i >= 0; i-- {
		t := float64(i) / 9
		rx, ry := 8+38*t, 12+58*t
		l := colour.Mix(hex("#fffdf0").Scale(1.7), hex("#c98a2e"), math.Pow(t, 0.6))
		c.fill(flat(l), ellipse(towerX, lampY, rx, ry))
		if i > 1 {
			outline := ellipse(towerX, lampY, rx, ry)
			c.line(func(float64, float64) (colour.Linear, float64) { return hex("#5a3c18"), 0.8 }, 1.4, append(outline, outline[0])...)
		}
	}
}

// roof is a ribbed dome with a ball, a rod and a vane.
func (c *canvas) roof(half, eaves float64) {
	dome := func(s float64) []point { // a rib of the dome, s -1..1 from the left edge to the right
		var rib []point
		for i := 0; i <= 20; i++ {
			a := math.Pi / 2 * float64(i) / 20
			rib = append(rib, point{towerX + s*half*math.Cos(a), eaves - 96*math.Sin(a)})
		}
		return rib
	}
	left, right := dome(-1), dome(1)
	for i := len(right) - 1; i >= 0; i-- {
		left = append(left, right[i])
	}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		l := evening(clamp((x-towerX)/half*0.96, -1, 1))
		return colour.Linear{R: 0.3*l.R + 0.004, G: 0.1*l.G + 0.004, B: 0.085*l.B + 0.006}, 1
	}, left)
	for _, s := range []float64{-0.82, -0.45, 0, 0.45, 0.82} {
		c.line(flat(hex("#1a0b0b")), 2, dome(s)...)
	}
	iron := flat(hex("#100f14"))
	c.fill(iron, rect(towerX-half-8, eaves-6, towerX+half+8, eaves+8))
	top := eaves - 96
	c.fill(iron, rect(towerX-16, top-14, towerX+16, top+6))
	c.fill(flat(hex("#2a1c16")), ellipse(towerX, top-28, 20, 20))
	c.fill(flat(hex("#d99a55")), ellipse(towerX-8, top-33, 5, 7))
	c.taper(iron, 5, 1.6, point{towerX, top - 40}, point{towerX, top - 210})
	c.line(iron, 2.2, point{towerX - 44, top - 112}, point{towerX + 44, top - 112})
	c.fill(iron, []point{{towerX - 60, top - 112}, {towerX - 40, top - 122}, {towerX - 40, top - 102}})
	c.fill(iron, []point{{towerX + 30, top - 112}, {towerX + 60, top - 132}, {towerX + 56, top - 112}, {towerX + 60, top - 92}})
}

// beams are the two arms of the light, going out into the haze.
func (c *canvas) beams() {
	c.glow(0, horizon, func(x, y float64) colour.Linear {
		return beam(x, y, math.Pi+0.055, 1).Add(beam(x, y, -0.06, 0.75)).Add(halo(x, y))
	})
}

// beam is the light scattered along one arm that leaves the lamp at an angle
// (0 to the right, up negative as y is).
func beam(x, y, angle, strength float64) colour.Linear {
	dx, dy := x-towerX, y-lampY
	along := dx*math.Cos(angle) + dy*math.Sin(angle)
	if along <= 0 {
		return colour.Linear{}
	}
	off := -dx*math.Sin(angle) + dy*math.Cos(angle)
	width := 26 + 0.062*along
	core := 0.7*bell(off, width*0.3) + 0.6*bell(off, width*0.62) + 0.25*bell(off, width*1.5)
	haze := 0.85 + 0.4*streakNoise.sum(x/420, y/170, 4)
	fall := math.Exp(-along/1500) * (36 / (36 + 0.035*along))
	return hex("#ffe7b0").Scale(0.5 * strength * core * haze * fall * step(0, 60, along))
}

func halo(x, y float64) colour.Linear {
	d := math.Hypot(x-towerX, y-lampY)
	return hex("#ffd58a").Scale(0.62*math.Exp(-d/46) + 0.1*math.Exp(-d/190) + 0.02*math.Exp(-d/520))
}
