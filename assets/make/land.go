package main

import (
	"math"

	"undercoat/imaging/colour"
)

const (
	hillNoise noise = 201
	rockNoise noise = 231
	turfNoise noise = 271
)

// hills stand far off on the left, one range behind the other, in the haze.
func (c *canvas) hills() {
	for _, ridge := range []struct {
		seed      noise
		height    float64
		left, end float64
		look      colour.Linear
	}{
		{hillNoise, 118, -200, 1250, hex("#b98f74")},
		{hillNoise + 5, 84, -300, 900, hex("#7f6a68")},
		{hillNoise + 9, 46, -100, 1500, hex("#57525c")},
	} {
		outline := []point{{ridge.left, horizon + 20}}
		for x := ridge.left; x <= ridge.end; x += 4 {
			rise := math.Sin(math.Pi * (x - ridge.left) / (ridge.end - ridge.left))
			y := horizon - ridge.height*math.Pow(rise, 0.7)*(0.75+0.5*ridge.seed.sum(x/260, 0.5, 5))
			outline = append(outline, point{x, y})
		}
		outline = append(outline, point{ridge.end, horizon + 20})
		c.fill(func(x, y float64) (colour.Linear, float64) {
			haze := 0.45 * step(horizon-130, horizon, y) * bell(x-sunX, 700)
			return colour.Mix(ridge.look, hex("#f3b56a"), haze), 0.93
		}, outline)
	}
}

// The headland's skyline and its foot in the water, from the left to the right edge.
var (
	skyline = curve(point{1085, 2483}, point{1150, 2466}, point{1215, 2452}, point{1270, 2400}, point{1330, 2392}, point{1400, 2330},
		point{1475, 2316}, point{1560, 2262}, point{1690, 2238}, point{1850, 2226}, point{2060, 2220}, point{2280, 2224},
		point{2480, 2206}, point{2640, 2150}, point{2790, 2120}, point{2920, 2060}, point{3090, 2034})
	foot = curve(point{1085, 2484}, point{1180, 2502}, point{1300, 2528}, point{1450, 2540}, point{1640, 2572}, point{1820, 2588},
		point{2020, 2630}, point{2240, 2652}, point{2480, 2700}, point{2700, 2722}, point{2900, 2770}, point{3090, 2786})
)

// heightOn is a line's y over x; outside its ends there is none.
func heightOn(line []point, x float64) (y float64, ok bool) {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		if x >= a.x && x < b.x {
			return lerp(a.y, b.y, (x-a.x)/(b.x-a.x)), true
		}
	}
	return 0, false
}

// shoreLine is where the water begins at each x.
func shoreLine() func(x float64) float64 {
	ys := make([]float64, int(sceneW)+2)
	for i := range ys {
		ys[i] = horizon
		if y, ok := heightOn(foot, float64(i)); ok {
			ys[i] = y + 5*rockNoise.sum(float64(i)/40, 7, 4)*step(1090, 1300, float64(i))
		}
	}
	return func(x float64) float64 { return ys[int(clamp(x, 0, sceneW))] }
}

// headland is the rock the lighthouse stands on, turf on top and cliffs to the water.
func (c *canvas) headland() {
	var outline []point
	for _, p := range skyline {
		rough := step(1085, 1300, p.x)
		outline = append(outline, point{p.x, p.y + 7*rough*rockNoise.sum(p.x/33, 1, 4)})
	}
	for i := len(foot) - 1; i >= 0; i-- {
		outline = append(outline, point{foot[i].x, foot[i].y + 12})
	}
	tops := make([]float64, int(sceneW)+32)
	feet := make([]float64, len(tops))
	for i := range tops {
		tops[i], _ = heightOn(skyline, float64(i))
		feet[i], _ = heightOn(foot, float64(i))
	}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		i := int(clamp(x, 0, float64(len(tops)-1)))
		return rockAt(x, y, tops[i], feet[i]), 1
	}, outline)
	c.turf()
}

// rockAt is the look of the cliff between its top and its foot.
func rockAt(x, y, top, low float64) colour.Linear {
	down := clamp((y-top)/math.Max(low-top, 1), 0, 1)
	// Beds that dip to the right, cut by gullies and broken into blocks.
	u, v := x+0.45*(y-top), y-0.2*x
	u, v = u+34*rockNoise.sum(x/110, y/80, 4), v+22*rockNoise.sum(x/90+5, y/70, 4)
	bulk := rockNoise.ridges(u/430, v/250, 3)
	large, largeEdge := rockNoise.facets(u/118, v/58)
	small, smallEdge := (rockNoise + 40).facets(u/37, v/19)
	facing := 1.2*(bulk-rockNoise.ridges((u-24)/430, (v-16)/250, 3)) + 0.62*large + 0.3*small - 0.12
	side := 0.4 + 0.6*bell(x-1150, 900)
	rock := mixStored(hex("#191a22"), hex("#c08a5c"), clamp(facing, 0, 1)*(0.95-0.35*down)*side)
	cracks := math.Max(step(0.07, 0.01, largeEdge), 0.55*step(0.1, 0.02, smallEdge))
	gully := step(0.5, 0.12, bulk)
	rock = colour.Mix(rock, hex("#0b0c12"), clamp(0.75*cracks+0.6*gully, 0, 0.9))
	rock = rock.Scale(0.82 + 0.36*grainNoise.sum(x/5, y/4, 3))
	// Wet and dark above the water, with a bright line of wash at the very edge.
	rock = colour.Mix(rock, hex("#0a0d12"), 0.8*step(46, 8, low-y))
	turf := step(0.26, 0.06, down+0.3*turfNoise.sum(x/60, y/36, 4))
	green := colour.Mix(hex("#161c14"), hex("#6a6a34"), clamp(0.35+0.9*turfNoise.sum(x/16, y/7, 4), 0, 1)*(0.4+0.6*bell(x-1250, 800)))
	return colour.Mix(rock, green, turf)
}

// wash is the broken bright line where the sea works at the foot of the rock.
func (c *canvas) wash() {
	for i := range 260 {
		x := 1130 + 1950*rockNoise.random(i, 61)
		y, ok := heightOn(foot, x)
		if !ok {
			continue
		}
		y += 2 + 16*math.Pow(rockNoise.random(i, 62), 2)
		long := 8 + 46*rockNoise.random(i, 63)
		shine := 0.55 * rockNoise.random(i, 64) * bell(x-1200, 1100) * step(-0.05, 0.4, rockNoise.sum(x/120, 9, 3))
		foam := func(float64, float64) (colour.Linear, float64) { return hex("#d9c9b4"), shine }
		c.taper(foam, 0.5, 1.9, point{x - long, y - 0.1*long}, point{x, y})
		c.taper(foam, 1.9, 0.5, point{x, y}, point{x + long, y + 0.12*long})
	}
}

// turf is the grass that stands against the sky.
func (c *canvas) turf() {
	for i := range 2600 {
		x := 1240 + 1850*turfNoise.random(i, 1)
		top, ok := heightOn(skyline, x)
		if !ok {
			continue
		}
		tall := 5 + 13*turfNoise.random(i, 2)
		bend := (turfNoise.random(i, 3) - 0.35) * 12
		look := colour.Mix(hex("#1a1f16"), hex("#a88a48"), turfNoise.random(i, 4)*(0.25+0.75*bell(x-1300, 700)))
		c.taper(flat(look), 2.2, 0.6, point{x, top + 5}, point{x + bend*0.4, top - tall*0.6}, point{x + bend, top - tall})
	}
}
