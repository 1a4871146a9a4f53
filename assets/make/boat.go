package main

import (
	"math"
	"slices"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/gomedium"

	"undercoat/imaging/colour"
)

// The boat lies at her mooring, bow to the left.
const (
	waterline = 3196.0
	mastX     = 742.0
	mastTop   = 1950.0
	mastFoot  = 3050.0
	plankSeed = noise(501)
)

var (
	sheer = curve(point{408, 3026}, point{520, 3062}, point{680, 3090}, point{900, 3104}, point{1120, 3096}, point{1352, 3062})
	stem  = curve(point{408, 3026}, point{424, 3080}, point{462, 3150}, point{512, waterline})
	tail  = curve(point{1352, 3062}, point{1350, 3096}, point{1326, 3150}, point{1270, waterline})
	rope  = flat(hex("#17131a"))
	wood  = hex("#6b4426")
)

// boat paints her on a canvas of her own, so that the water can mirror her.
func (c *canvas) boat() {
	own := newCanvas(60, 1820, 1420, 1480, c.scale)
	own.spars()
	own.rigging()
	own.hull()
	own.cabin()
	own.sail()
	c.mirrorBoat(own)
	c.lay(own, own.top, waterline+2, func(x, y float64) (float64, float64, float64) { return x, y, 1 })
	c.ridingLight()
	c.buoy()
}

// mirrorBoat lays her picture upside down on the water, broken by the ripples.
func (c *canvas) mirrorBoat(own *canvas) {
	c.lay(own, waterline-6, sceneH, func(x, y float64) (float64, float64, float64) {
		below := y - waterline
		lean := slope(x, y)
		up := 2*waterline - y - lean*(6+0.4*math.Max(below, 0))
		fade := 0.97 * math.Exp(-math.Max(below, 0)/1000) * step(-3, 5, below+8*lean)
		return x + 0.12*below*lean, up, fade * clamp(1-0.3*lean, 0.5, 1)
	})
}

func (c *canvas) hull() {
	outline := append([]point{}, sheer...)
	outline = append(outline, tail...)
	for i := len(stem) - 1; i >= 0; i-- {
		outline = append(outline, stem[i])
	}
	c.fill(func(x, y float64) (colour.Linear, float64) { return hullAt(x, y), 1 }, outline)
	for i := 1; i <= 5; i++ { // planks follow the sheer
		t := float64(i) / 6.2
		var seam []point
		for _, p := range sheer {
			x := lerp(p.x, lerp(480, 1300, (p.x-408)/944), t)
			seam = append(seam, point{x, lerp(p.y+16, waterline, t)})
		}
		c.line(flat(hex("#050c11")), 1.3, seam[2:len(seam)-2]...)
	}
	var strake []point
	for _, p := range sheer {
		strake = append(strake, point{p.x, p.y + 4})
	}
	c.line(flat(hex("#8a5a30")), 9, strake...)
	for i := range strake {
		strake[i].y += 10
	}
	c.line(flat(hex("#d9cba8")), 4, strake...)
	follow := func(p point, x0, down float64) point {
		y, _ := heightOn(sheer, x0+p.x)
		return point{x0 + p.x, y + down + p.y}
	}
	pale := flat(hex("#e9dfc4"))
	c.fill(pale, letters(gomedium.TTF, "SEA THRIFT", 26, 3, func(p point) point { return follow(p, 474, 48) })...)
	c.fill(pale, letters(gobold.TTF, "SM 71", 34, 4, func(p point) point { return follow(p, 506, 88) })...)
	c.fill(pale, letters(gomedium.TTF, "Saltmarrow", 22, 2, func(p point) point { return follow(p, 1175, 50) })...)
}

// hullAt is dark paint with the light of the water playing on it.
func hullAt(x, y float64) colour.Linear {
	y0, _ := heightOn(sheer, clamp(x, 409, 1351))
	down := clamp((y-y0)/(waterline-y0), 0, 1)
	l := mixStored(hex("#1b4550"), hex("#0d2029"), down)
	l = l.Add(hex("#e79a4e").Scale(0.14 * bell(x-400, 90)))
	net := plankSeed.ridges(x/46+0.4*plankSeed.at(x/60, y/40), y/15, 2)
	l = l.Add(hex("#ffbf7a").Scale(0.13 * math.Pow(net, 3) * step(0.15, 1, down)))
	l = colour.Mix(l, hex("#5b1d18"), step(waterline-20, waterline-17, y))
	return l.Scale(0.94 + 0.12*plankSeed.sum(x/30, y/3, 3))
}

// cabin is the low deckhouse with lit ports, and what stands on deck.
func (c *canvas) cabin() {
	side := []point{{800, 3098}, {806, 3044}, {1076, 3036}, {1104, 3096}}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		return hex("#b7a98c").Scale(0.34 + 0.3*step(1000, 780, x) + 0.05*plankSeed.sum(x/20, y/4, 3)), 1
	}, side)
	c.fill(flat(hex("#241a17")), []point{{794, 3046}, {800, 3032}, {1076, 3024}, {1088, 3038}})
	c.line(flat(hex("#b98a58")), 2, point{796, 3044}, point{1086, 3036})
	for i := range 4 {
		x := 846 + 62*float64(i)
		c.fill(flat(hex("#5a431f")), ellipse(x, 3067, 17, 13))
		c.fill(func(px, py float64) (colour.Linear, float64) {
			return colour.Mix(hex("#f39a2f"), hex("#ffedb8"), bell(px-x+3, 7)*bell(py-3070, 6)), 1
		}, ellipse(x, 3067, 12, 8.5))
	}
	c.fill(flat(hex("#3d2a1d")), []point{{1100, 3098}, {1106, 3066}, {1300, 3050}, {1306, 3070}})
	c.line(flat(hex("#5f4126")), 6, point{1218, 3052}, point{1320, 3024}) // tiller
	for i := range 7 {                                                    // rail
		x := 560 + 34*float64(i)
		y, _ := heightOn(sheer, x)
		c.line(rope, 2, point{x, y}, point{x, y - 34})
	}
	c.line(rope, 1.4, point{560, 3038}, point{764, 3064})
	c.fill(flat(hex("#2c2018")), rect(968, 2998, 982, 3028)) // stove pipe
	c.line(flat(hex("#2c2018")), 6, point{962, 2998}, point{990, 2998})
}

// spars are the mast, the bowsprit, the boom and the gaff.
func (c *canvas) spars() {
	lit := func(middle, half float64) paint {
		return func(x, y float64) (colour.Linear, float64) {
			t := clamp((x-middle)/half, -1, 1)
			return colour.Mix(wood.Scale(1.5), wood.Scale(0.22), 0.5+0.5*t), 1
		}
	}
	c.taper(lit(mastX, 9), 18, 8, point{mastX, mastFoot + 40}, point{mastX, mastTop})
	c.line(flat(hex("#2b1a10")), 12, point{mastX - 9, 2306}, point{mastX + 9, 2306})
	c.taper(lit(mastX, 60), 5, 5, point{mastX - 64, 2300}, point{mastX + 64, 2300}) // crosstrees
	c.taper(flat(hex("#4c2f1a")), 8, 13, point{214, 2962}, point{470, 3052})
	c.fill(flat(hex("#e3bb74")), ellipse(mastX, mastTop-6, 7, 7))
}

// rigging is what a screen finds hardest: dark lines of one to three units on a bright sky.
func (c *canvas) rigging() {
	head := point{mastX, mastTop + 22}
	hounds := point{mastX, 2296}
	end := point{222, 2964}
	c.line(rope, 2.4, head, end)
	c.line(rope, 2.4, hounds, point{424, 3032})
	c.line(rope, 1.6, point{mastX, 2140}, point{330, 3000})
	c.line(rope, 2, end, point{452, 3130}) // bobstay
	c.line(rope, 1.8, head, point{1340, 3060})
	c.line(rope, 1.3, head, point{1322, 2926}) // topping lift
	for _, side := range []float64{-1, 1} {
		c.line(rope, 1.6, head, point{mastX + side*62, 2300}, point{mastX + side*86, 3088})
		for i := range 3 {
			c.line(rope, 2, hounds, point{mastX + side*(34+22*float64(i)), 3088})
		}
		for y := 2440.0; y < 3060; y += 34 { // ratlines
			t := (y - hounds.y) / (3088 - hounds.y)
			c.line(rope, 1.3, sag(point{mastX + side*34*t, y}, point{mastX + side*78*t, y}, 2)...)
		}
	}
	for i, x := range []float64{-13, -9, 12, 15} { // halyards down the mast
		c.line(rope, 1.1, point{mastX + x*0.4, mastTop + 40 + 120*float64(i)}, point{mastX + x, 3050})
	}
	for i := range 4 { // lazy jacks
		x := 860 + 120*float64(i)
		c.line(rope, 1.1, point{mastX, 2420}, point{x, 2950 - 5*float64(i)})
	}
	c.line(rope, 1.5, point{1262, 2950}, point{1250, 3060}) // sheet
	c.line(rope, 1.5, point{1274, 2950}, point{1262, 3060})
	c.line(rope, 1.1, point{mastX + 62, 2300}, point{mastX + 70, 3060}) // flag halyard
	c.fill(flat(hex("#8e2a20")), curve(point{mastX + 62, 2340}, point{mastX + 92, 2352}, point{mastX + 120, 2344}, point{mastX + 152, 2358}, point{mastX + 118, 2374}, point{mastX + 90, 2372}, point{mastX + 62, 2384}))
	c.fill(flat(hex("#7c1f1a")), curve(point{mastX, mastTop + 2}, point{mastX + 40, mastTop + 10}, point{mastX + 84, mastTop + 2}, point{mastX + 132, mastTop + 12}, point{mastX + 80, mastTop + 20}, point{mastX + 40, mastTop + 26}, point{mastX, mastTop + 22}))
}

// sail lies furled between boom and gaff, lashed at every step.
func (c *canvas) sail() {
	boom := func(t float64) point { return point{lerp(752, 1330, t), lerp(2972, 2936, t)} }
	c.taper(flat(hex("#55351c")), 13, 9, boom(0), boom(1))
	var upper, lower []point
	for i := 0; i <= 60; i++ {
		t := float64(i) / 60
		p := boom(t * 0.95)
		bulge := 9 * math.Abs(math.Sin(t*9*math.Pi))
		tall := lerp(52, 26, t) * math.Sqrt(math.Sin(math.Pi*clamp(0.06+0.9*t, 0, 1)))
		upper = append(upper, point{p.x, p.y - 6 - tall - bulge})
		lower = append(lower, point{p.x, p.y + 4 + 0.4*bulge})
	}
	rim := slices.Clone(upper) // the low sun catches the top of the cloth
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		t := (x - 752) / 578
		across := clamp((2972-36*t-y)/60, 0, 1)
		folds := 0.5 + 0.5*plankSeed.sum(x/90+y/30, y/9, 4)
		l := mixStored(hex("#54423a"), hex("#ffdfb4"), clamp(0.1+1.1*across*across*folds+0.3*step(1000, 740, x)*across, 0, 1))
		return l, 1
	}, upper)
	c.taper(flat(hex("#ffd9a4")), 5, 3, rim[2:len(rim)-4]...)
	c.taper(flat(hex("#5c3a1f")), 10, 7, point{756, 2922}, point{1240, 2884}) // gaff
	for i := range 10 {
		p := boom(0.03 + 0.1*float64(i))
		c.line(flat(hex("#2a1f1b")), 2.6, point{p.x + 4, p.y - 62 + 3*float64(i)}, point{p.x - 3, p.y + 8})
	}
}

// ridingLight hangs in the fore rigging.
func (c *canvas) ridingLight() {
	const x, y = 452.0, 2800.0
	c.line(rope, 1.2, point{x, y - 150}, point{x, y - 14})
	c.fill(rope, rect(x-8, y-16, x+8, y-10), rect(x-8, y+11, x+8, y+16))
	c.fill(flat(hex("#fff2c4").Scale(1.4)), rect(x-6, y-10, x+6, y+11))
	c.line(rope, 1.2, point{x, y - 10}, point{x, y + 11})
	c.glow(y-400, y+400, func(px, py float64) colour.Linear {
		d := math.Hypot(px-x, py-y)
		return hex("#ffc56a").Scale(0.5*math.Exp(-d/14) + 0.07*math.Exp(-d/70))
	})
}

// buoy is what she is moored to.
func (c *canvas) buoy() {
	const x, y = 168.0, 3352.0
	c.fill(func(px, py float64) (colour.Linear, float64) {
		below := py - y
		return hex("#3c1610"), 0.6 * math.Exp(-below/60) * clamp(0.75-0.8*slope(px, py), 0, 1)
	}, ellipse(x, y+46, 50, 62))
	c.fill(func(px, py float64) (colour.Linear, float64) {
		nx, ny := (px-x)/46, (py-y+14)/46
		nz := math.Sqrt(math.Max(0, 1-nx*nx-ny*ny))
		light := clamp(0.14+0.75*(0.55*nx*0.4-0.45*ny+0.4*nz)+0.5*bell(nx-0.25, 0.25)*bell(ny+0.6, 0.2), 0.03, 1.3)
		return hex("#d1552a").Scale(light), step(y+16, y+12, py+3*math.Cos(nx*2))
	}, ellipse(x, y-14, 46, 46))
	c.line(rope, 5, point{x, y - 60}, point{x, y - 78})
	c.line(rope, 3, sag(point{x, y - 72}, point{420, 3066}, 96)...)
}
