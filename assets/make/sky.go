package main

import (
	"math"

	"undercoat/imaging/colour"
)

// The picture's measures in units, a unit being a pixel at full size.
const (
	sceneW  = 3072.0
	sceneH  = 4096.0
	horizon = 2480.0
	sunX    = 700.0 // the sun has just gone down here
)

// skyBands are the colours of the sky from the top (0) to the horizon (1).
var skyBands = []struct {
	at float64
	colour.Linear
}{
	{0, hex("#0a1428")},
	{0.22, hex("#12294a")},
	{0.45, hex("#27506f")},
	{0.62, hex("#55808c")},
	{0.75, hex("#99a193")},
	{0.85, hex("#dcae78")},
	{0.94, hex("#f6b45a")},
	{1, hex("#f9c473")},
}

// sky lays the whole evening sky on the canvas, down to a little below the horizon.
func (c *canvas) sky() {
	c.each(0, horizon+40, func(x, y float64) (colour.Linear, float64) {
		return skyAt(x, y), 1
	})
	c.stars()
	c.moon()
}

func skyAt(x, y float64) colour.Linear {
	height := clamp(y/horizon, 0, 1)
	// Away from the sun the same colours hang lower and are less bright.
	away := math.Abs(x-sunX) / sceneW
	l := bandAt(height - 0.13*away*height)
	l = l.Scale(1 - 0.42*away*height)
	glow := bell(x-sunX, 620) * bell(y-horizon, 300)
	l = l.Add(hex("#ff9a3c").Scale(0.55 * glow))
	l = l.Add(hex("#ffd9a0").Scale(0.5 * bell(x-sunX, 260) * bell(y-horizon, 110)))
	return clouds(l, x, y)
}

func bandAt(height float64) colour.Linear {
	for i := 1; i < len(skyBands); i++ {
		a, b := skyBands[i-1], skyBands[i]
		if height <= b.at {
			t := (height - a.at) / (b.at - a.at)
			return mixStored(a.Linear, b.Linear, t)
		}
	}
	return skyBands[len(skyBands)-1].Linear
}

// mixStored mixes half way to how the eye sees: even steps look even.
func mixStored(a, b colour.Linear, t float64) colour.Linear {
	mix := func(p, q float64) float64 {
		r := lerp(math.Sqrt(p), math.Sqrt(q), t)
		return r * r
	}
	return colour.Linear{R: mix(a.R, b.R), G: mix(a.G, b.G), B: mix(a.B, b.B)}
}

const (
	cloudNoise  noise = 101
	streakNoise noise = 131
	grainNoise  noise = 171
)

// cloudAt is how thick the cloud is, 0..1, in long torn banks that lie flatter
// towards the horizon.
func cloudAt(x, y float64) float64 {
	down := y / horizon
	stretch := lerp(1.5, 4.5, down*down)
	u, v := x/900, y/900*stretch
	warp := 0.55 * cloudNoise.sum(u*0.8+3, v*0.8, 3)
	d := streakNoise.sum(u*0.75+warp, v+0.35*warp-u*0.18, 6)
	bank := 0.16*bell(y-1180, 330) + 0.13*bell(y-1960, 240) - 0.3*bell(y-300, 420)
	return step(-0.02, 0.42, d+bank)
}

// clouds lays cloud over the light of the clear sky, lit from below where it is
// thinner towards the sun.
func clouds(clear colour.Linear, x, y float64) colour.Linear {
	d := cloudAt(x, y)
	if d <= 0 {
		return clear
	}
	towards := 38 * math.Tanh((sunX-x)/500)
	edge := clamp(1.9*(d-cloudAt(x+towards, y+34)), -0.5, 1)
	low := clamp(y/horizon, 0, 1)
	body := mixStored(hex("#16233c"), hex("#7c6a74"), low*low)
	lit := mixStored(hex("#54607a"), hex("#ffb066"), step(0.25, 0.9, low))
	near := 0.35 + 0.65*bell(x-sunX, 1100)
	look := colour.Mix(body, lit, clamp((0.25+edge)*near, 0, 1))
	return colour.Mix(clear, look, 0.82*d)
}

// stars come out in the upper sky where no cloud hides them, most of them small.
func (c *canvas) stars() {
	const n = 430
	for i := range n {
		x := sceneW * grainNoise.random(i, 0)
		y := 1300 * math.Pow(grainNoise.random(i, 1), 1.4)
		size := 1.1 + 2.6*math.Pow(grainNoise.random(i, 2), 7)
		shine := (0.25 + 0.75*grainNoise.random(i, 3)) * (1 - y/1350) * (1 - 0.95*cloudAt(x, y))
		c.fill(func(float64, float64) (colour.Linear, float64) { return hex("#e8efff"), shine }, ellipse(x, y, size, size))
	}
}

// moon is a thin crescent with the dark of the disc just showing.
func (c *canvas) moon() {
	const mx, my, r = 560.0, 360.0, 74.0
	c.glow(my-500, my+500, func(x, y float64) colour.Linear {
		d := math.Hypot(x-mx, y-my)
		return hex("#b9c8e6").Scale(0.06*math.Exp(-d/90) + 0.025*math.Exp(-d/260))
	})
	c.fill(func(x, y float64) (colour.Linear, float64) { return hex("#31456a"), 0.5 }, ellipse(mx, my, r, r))
	c.fill(func(x, y float64) (colour.Linear, float64) {
		// Lit from the lower left, where the sun is; rough along the shadow's edge.
		d := math.Hypot(x-mx-36, y-my+30) + 2*grainNoise.sum(x/14, y/14, 3)
		return hex("#fff3d8").Scale(0.95), step(r+5, r+17, d+13)
	}, ellipse(mx, my, r, r))
}
