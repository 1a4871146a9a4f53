package main

import (
	"math"

	"undercoat/imaging/colour"
)

const strawNoise noise = 601

// cottage is the keeper's, on the rise behind the tower.
func (c *canvas) cottage() {
	c.fence()
	const x0, x1, eaves, low = 2452.0, 2792.0, 2052.0, 2208.0
	wall := func(x, y float64) (colour.Linear, float64) {
		rough := 0.9 + 0.2*brickSeed.sum(x/12, y/9, 4)
		return mixStored(hex("#a58e74"), hex("#5d5a62"), step(x0, x1, x)).Scale(0.62 * rough), 1
	}
	c.fill(wall, rect(x0, eaves, x1, low))
	c.fill(func(x, y float64) (colour.Linear, float64) { // lit gable
		return hex("#e8bd8b").Scale(0.62 * (0.9 + 0.2*brickSeed.sum(x/12, y/9, 4))), 1
	}, []point{{x0 - 84, low + 6}, {x0 - 84, eaves}, {x0 - 42, 1948}, {x0, eaves}, {x0, low + 2}})
	c.fill(func(x, y float64) (colour.Linear, float64) { // slates
		row := math.Floor(y / 11)
		edge := y/11 - row
		slate := 0.75 + 0.5*brickSeed.random(int(math.Floor(x/17+0.5*math.Mod(row, 2))), int(row))
		return hex("#39404d").Scale(slate * (0.5 + 0.5*step(0, 0.3, edge)) * (1.25 - 0.5*step(x0, x1, x))), 1
	}, []point{{x0 - 46, 1942}, {x1 - 30, 1942}, {x1 + 14, eaves + 6}, {x0 - 4, eaves + 6}})
	for _, x := range []float64{x0 + 12, x1 - 74} {
		c.fill(flat(hex("#5b4437")), rect(x, 1892, x+44, 1958))
		c.fill(flat(hex("#a8744c")), rect(x, 1892, x+9, 1944))
		c.fill(flat(hex("#2c211d")), rect(x-5, 1886, x+49, 1895), rect(x+7, 1868, x+18, 1888), rect(x+26, 1868, x+37, 1888))
	}
	for _, x := range []float64{x0 + 58, x0 + 250} {
		c.fill(flat(hex("#1d1a1c")), rect(x-29, 2086, x+29, 2158))
		c.fill(func(px, py float64) (colour.Linear, float64) {
			return colour.Mix(hex("#f09a35"), hex("#ffe9b0"), bell(px-x, 16)*bell(py-2130, 22)), 1
		}, rect(x-24, 2091, x+24, 2154))
		c.line(flat(hex("#2a1f18")), 3, point{x, 2090}, point{x, 2155})
		c.line(flat(hex("#2a1f18")), 2.2, point{x - 24, 2122}, point{x + 24, 2122})
		c.line(flat(hex("#9a8a74")), 4, point{x - 34, 2160}, point{x + 34, 2160})
	}
	c.fill(flat(hex("#16323a")), rect(x0+128, 2092, x0+176, low))
	c.smoke(x0+34, 1866)
	c.tufts(x0-100, x1+40, low+2)
}

// smoke drifts off to the right from the chimney.
func (c *canvas) smoke(fromX, fromY float64) {
	c.each(fromY-620, fromY, func(x, y float64) (colour.Linear, float64) {
		up := fromY - y
		middle := fromX + 0.00062*up*up + 26*math.Sin(up/95)*up/300
		width := 7 + 0.12*up
		d := bell(x-middle, width) * (0.6 + 0.9*cloudNoise.sum(x/52, y/70, 4))
		return hex("#b9a79f"), clamp(0.6*d*math.Exp(-up/300), 0, 1)
	})
}

// fence runs along the turf, posts and two wires.
func (c *canvas) fence() {
	post := flat(hex("#2a211c"))
	var before point
	for i := range 19 {
		x := 2282 + 43*float64(i)
		if x > 2360 && x < 2400 {
			before = point{}
			continue
		}
		y, _ := heightOn(skyline, x)
		y += 22
		c.taper(post, 6, 4.5, point{x, y + 8}, point{x + 2*math.Sin(float64(i)*2.3), y - 52})
		if before != (point{}) {
			for _, up := range []float64{44, 24} {
				c.line(post, 1.4, sag(point{before.x, before.y - up}, point{x, y - up}, 3)...)
			}
		}
		before = point{x, y}
	}
}

// tufts stand before the foot of a building, so that it grows out of the turf.
func (c *canvas) tufts(from, to, base float64) {
	n := int(2.2 * (to - from))
	for i := range n {
		x := lerp(from, to, turfNoise.random(i, 21))
		y := base + 22*turfNoise.random(i, 22)
		tall := 9 + 16*turfNoise.random(i, 23)
		lean := 14 * (turfNoise.random(i, 24) - 0.4)
		look := colour.Mix(hex("#171c13"), hex("#94803f"), turfNoise.random(i, 25)*(0.2+0.8*bell(x-1700, 260)))
		c.taper(flat(look), 2.2, 0.6, point{x, y}, point{x + lean*0.3, y - tall*0.6}, point{x + lean, y - tall})
	}
}

// gulls are on their way home.
func (c *canvas) gulls() {
	for _, g := range []struct{ x, y, span, beat float64 }{
		{1180, 1500, 74, 0.32}, {1290, 1446, 58, -0.12}, {1372, 1536, 50, 0.4}, {1080, 1610, 44, 0.1}, {1460, 1470, 36, 0.3}, {980, 1420, 30, 0.2},
	} {
		ink := flat(hex("#1a2230"))
		for _, side := range []float64{-1, 1} {
			c.taper(ink, g.span*0.085, 1, curve(point{g.x, g.y}, point{g.x + side*g.span*0.3, g.y - g.span*g.beat}, point{g.x + side*g.span*0.62, g.y - g.span*(g.beat*0.9)}, point{g.x + side*g.span, g.y - g.span*g.beat*0.35 + 3})...)
		}
		c.taper(ink, g.span*0.1, 1.5, point{g.x - g.span*0.12, g.y}, point{g.x + g.span*0.16, g.y + 2})
	}
}

// grasses frame the lower right corner, close to the eye.
func (c *canvas) grasses() {
	c.fill(func(x, y float64) (colour.Linear, float64) {
		grain := turfNoise.sum(x/18, y/14, 4)
		return mixStored(hex("#0a0c10"), hex("#3a2f22"), clamp(0.25+0.8*grain, 0, 1)), 1
	}, append(curve(point{1980, 4110}, point{2160, 4040}, point{2360, 3990}, point{2560, 3890}, point{2760, 3840}, point{2940, 3745}, point{3090, 3700}), point{3090, 4110}))
	const n = 900
	for i := range n { // from those behind to those in front
		t := strawNoise.random(i, 1)
		x := 2040 + 1060*t
		y := 4100 - 350*math.Pow(t, 1.3) + 420*float64(i)/n*t
		c.blade(i, point{x, y + 30}, (130+420*math.Pow(strawNoise.random(i, 2), 1.7))*(0.45+0.55*t))
	}
}

// blade is one of the grasses, every seventh with a head of seed.
func (c *canvas) blade(i int, root point, tall float64) {
	lean := -60 - 220*strawNoise.random(i, 3) + 190*strawNoise.random(i, 4)
	warm := math.Pow(strawNoise.random(i, 5), 2)
	look := mixStored(hex("#0d1015"), hex("#b98a4a"), 0.8*warm)
	lit := func(x, y float64) (colour.Linear, float64) { // dark between the stems, lit at the tips
		return look.Scale(0.3 + 0.7*step(0, 0.6, (root.y-y)/tall)), 1
	}
	line := curve(root, point{root.x + lean*0.12, root.y - tall*0.45}, point{root.x + lean*0.45, root.y - tall*0.82}, point{root.x + lean, root.y - tall})
	c.taper(lit, 5.5, 0.8, line...)
	if i%7 != 0 {
		return
	}
	tip := line[len(line)-1]
	seed := flat(look.Scale(1.3))
	for k := range 9 {
		d := float64(k) * 9
		p := point{tip.x - lean*0.0022*d, tip.y + d}
		c.taper(seed, 3.4, 1, p, point{p.x + 8*math.Copysign(1, lean), p.y - 11})
		c.taper(seed, 3.4, 1, p, point{p.x - 7*math.Copysign(1, lean), p.y - 12})
	}
}
