package main

import (
	"image"
	"math"

	"undercoat/imaging/colour"
)

// The icon's coats from the top down, and the ground.
var (
	graphite  = hex("#2b2d30")
	teal      = hex("#1f7f86")
	sunflower = hex("#f0b429")
	ground    = hex("#f6f1e4")
)

// The lamp, from which the beam goes out.
const (
	iconSize     = 512
	iconX, iconY = 158.0, 214.0
)

// drawIcon draws the icon, side pixels on a side.
func drawIcon(side int) image.Image {
	c := newCanvas(0, 0, iconSize, iconSize, float64(side)/iconSize)
	c.icon()
	return c.cutOut()
}

// icon is a painted panel, its coats showing on the cut edge below. A lighthouse
// and its beam are burned through them, a coat deeper at each step.
func (c *canvas) icon() {
	for i, coat := range []colour.Linear{ground.Scale(0.8), sunflower.Scale(0.85), teal.Scale(0.85)} {
		c.fill(flat(coat), rounded(28, 24, 484, 488-16*float64(i), 84))
	}
	c.fill(func(x, y float64) (colour.Linear, float64) {
		return graphite.Scale(1.25 - 0.5*y/iconSize), 1
	}, rounded(28, 24, 484, 440, 84))
	for _, arm := range []struct {
		coat             colour.Linear
		up, down, length float64 // angles in degrees, and how far it reaches
	}{
		{teal, -37, 15, 262},
		{sunflower, -28, 7, 232},
		{ground, -19, -1, 202},
	} {
		c.fill(sunken(arm.coat, arm.up), wedge(arm.up, arm.down, arm.length))
	}
	c.iconDots()
	c.iconTower()
}

// sunken is a coat laid bare: the step above it throws a shadow along its upper edge.
func sunken(coat colour.Linear, up float64) paint {
	s, k := math.Sincos(up * math.Pi / 180)
	return func(x, y float64) (colour.Linear, float64) {
		inside := (y-iconY)*k - (x-iconX)*s // distance from the upper edge
		return coat.Scale(1 - 0.45*step(9, 0, inside)), 1
	}
}

// wedge is a beam with a round end.
func wedge(up, down, length float64) []point {
	outline := []point{{iconX, iconY}}
	for i := 0; i <= 40; i++ {
		s, k := math.Sincos(lerp(up, down, float64(i)/40) * math.Pi / 180)
		outline = append(outline, point{iconX + length*k, iconY + length*s})
	}
	return outline
}

// iconDots are the screen's, in which the beam ends.
func (c *canvas) iconDots() {
	for i := range 2 {
		reach := 279 + 19*float64(i)
		n := 13
		for j := range n {
			s, k := math.Sincos(lerp(-36, 14, (float64(j)+0.5*float64(i%2))/float64(n-1)) * math.Pi / 180)
			x, y := iconX+reach*k, iconY+reach*s
			if x < 462 && y > 46 {
				c.fill(flat(teal), ellipse(x, y, 6.2-2.2*float64(i), 6.2-2.2*float64(i)))
			}
		}
	}
}

// iconTower is the lighthouse.
func (c *canvas) iconTower() {
	const top, foot = 252.0, 400.0
	half := func(y float64) float64 { return lerp(25, 43, (y-top)/(foot-top)) }
	band := func(y0, y1 float64, coat colour.Linear) {
		c.fill(func(x, y float64) (colour.Linear, float64) {
			return coat.Scale(1 - 0.35*step(-0.1, 1, (x-iconX)/half(y))), 1
		}, []point{{iconX - half(y0), y0}, {iconX + half(y0), y0}, {iconX + half(y1), y1}, {iconX - half(y1), y1}})
	}
	for i := range 4 {
		y0, y1 := lerp(top, foot, float64(i)/4), lerp(top, foot, float64(i+1)/4)
		band(y0, y1, []colour.Linear{ground, teal}[i%2])
	}
	c.fill(flat(ground), rounded(iconX-37, 238, iconX+37, 252, 5))
	c.fill(flat(graphite.Scale(0.5)), rect(iconX-22, 190, iconX+22, 238))
	c.fill(flat(sunflower), rect(iconX-16, 194, iconX+16, 236))
	c.fill(flat(ground.Scale(1.1)), ellipse(iconX, iconY, 11, 14))
	c.fill(flat(teal), []point{{iconX - 30, 190}, {iconX - 18, 170}, {iconX, 160}, {iconX + 18, 170}, {iconX + 30, 190}})
	c.fill(flat(teal), ellipse(iconX, 156, 5, 5))
}

// rounded is a rectangle with round corners.
func rounded(x0, y0, x1, y1, r float64) []point {
	var outline []point
	for i, corner := range []point{{x1 - r, y0 + r}, {x1 - r, y1 - r}, {x0 + r, y1 - r}, {x0 + r, y0 + r}} {
		for j := 0; j <= 16; j++ {
			s, k := math.Sincos((float64(i-1) + float64(j)/16) * math.Pi / 2)
			outline = append(outline, point{corner.x + r*k, corner.y + r*s})
		}
	}
	return outline
}

// cutOut gives the canvas in stored values with its coverage, colours not times it.
func (c *canvas) cutOut() image.Image {
	img := image.NewNRGBA(image.Rect(0, 0, c.w, c.h))
	for i := 0; i < len(c.pix); i += 4 {
		cover := float64(c.pix[i+3])
		if cover <= 0 {
			continue
		}
		for k := range 3 {
			img.Pix[i+k] = colour.EncodeByte(clamp(float64(c.pix[i+k])/cover, 0, 1))
		}
		img.Pix[i+3] = uint8(math.Round(255 * clamp(cover, 0, 1)))
	}
	return img
}
