package main

import "image"

// drawDemo paints a lighthouse at dusk, from what is far to what is near.
func drawDemo(scale float64) image.Image {
	c := newCanvas(0, 0, sceneW, sceneH, scale)
	c.sky()
	c.hills()
	c.headland()
	c.cottage()
	c.lighthouse()
	c.tufts(1760, 1868, towerBase+14)
	c.tufts(2030, 2290, towerBase+14)
	c.gulls()
	c.beams()
	c.sea(shoreLine())
	c.wash()
	c.boat()
	c.grasses()
	return c.image()
}
