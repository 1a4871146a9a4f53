package main

import (
	"math"
	"slices"

	"undercoat/imaging/colour"
)

const (
	waveNoise  noise = 301
	swellNoise noise = 341
)

// eyeHeight sets the perspective of the water: at this many units below the
// horizon it lies one eye height away.
const eyeHeight = sceneH - horizon

// slope is how much the water leans towards and away from the eye at a place on
// the picture, roughly -1..1. Ripples too fine for the distance are left out,
// as the eye does.
func slope(x, y float64) float64 {
	below := math.Max(y-horizon, 0.5)
	far := eyeHeight / below                  // distance in eye heights
	across := (x - sceneW/2) * far / sceneW   // the same, sideways
	foot := eyeHeight / (below * below) * 1.5 // how much water one unit of the picture spans
	total, weight, fine := 0.0, 0.62, 7.5
	for i := range 6 {
		if seen := clamp(1.6-2*foot*fine, 0, 1); seen > 0 {
			u, v := across*fine*0.62+float64(i)*3.7, far*fine+float64(i)*1.9
			bent := 0.35 * swellNoise.at(u*0.5, v*0.3) // crests are not straight
			total += weight * seen * (waveNoise+noise(i)).at(u+0.2*v, v+bent)
		}
		fine, weight = fine*1.9, weight*0.62
	}
	return total
}

// gust darkens and roughens the water in patches.
func gust(x, y float64) float64 {
	far := eyeHeight / math.Max(y-horizon, 6)
	return swellNoise.sum((x-sceneW/2)*far/sceneW*0.9, far*0.55, 3)
}

// sea lays the water over everything below shore(x), mirroring what the canvas
// holds above it.
func (c *canvas) sea(shore func(x float64) float64) {
	mirror := *c
	mirror.pix = slices.Clone(c.pix)
	c.each(horizon-2, sceneH, func(x, y float64) (colour.Linear, float64) {
		base := shore(x)
		if y < base {
			return colour.Linear{}, 0
		}
		return seaAt(&mirror, x, y, base), step(0, 3, y-base)
	})
}

func seaAt(mirror *canvas, x, y, base float64) colour.Linear {
	lean, wind := slope(x, y), gust(x, y)
	below := y - base
	depth := (y - horizon) / eyeHeight // 0 at the horizon, 1 at the lower edge
	lift := 30 + 360*math.Sqrt(depth)
	seen := colour.Linear{}
	// Unresolved ripples smear a reflection upwards: four looks along it.
	for i := range 4 {
		up := (lean + 0.16*float64(i)*(1+0.7*wind)) * lift
		side := 26 * lean * math.Sqrt(depth) * (float64(i) - 1.5)
		l, _ := mirror.sample(clamp(x+side, 1, sceneW-1), clamp(2*base-y-up+0.25*below, 90, base-3))
		seen = seen.Add(l.Scale(0.25))
	}
	shine := clamp(lerp(0.94, 0.6, math.Sqrt(depth))-0.34*lean-0.1*wind, 0.12, 1)
	deep := mixStored(hex("#16384c"), hex("#061420"), math.Sqrt(depth))
	l := colour.Mix(deep, seen, shine)
	// Sparks where the water leans into the last light.
	path := bell(x-sunX-40*lean, 120+420*depth) * step(0.25, 0.75, lean+0.25*waveNoise.at(x/23, y/7))
	return l.Add(hex("#ffc677").Scale(0.6 * path * math.Pow(1-depth, 5)))
}
