package scene

import "math"

// grit is a number, 0..1, that looks like chance and is the same each time.
func grit(x, y int) float64 {
	h := uint32(x)*0x9e3779b1 ^ uint32(y)*0x85ebca77
	h ^= h >> 15
	h *= 0x2c1b3c6d
	h ^= h >> 12
	h *= 0x297a2d39
	h ^= h >> 15
	return float64(h) / (1 << 32)
}

// cloud is smooth noise, -1..1, with one swell a unit.
func cloud(x, y float64) float64 {
	fx, fy := math.Floor(x), math.Floor(y)
	ix, iy := int(fx), int(fy)
	tx, ty := smooth(0, 1, x-fx), smooth(0, 1, y-fy)
	low := grit(ix, iy) + tx*(grit(ix+1, iy)-grit(ix, iy))
	high := grit(ix, iy+1) + tx*(grit(ix+1, iy+1)-grit(ix, iy+1))
	return 2*(low+ty*(high-low)) - 1
}

// grain is the look of wood along x, -1..1: long fibres, and darker bands of
// years.
func grain(x, y float64) float64 {
	drift := 6 * cloud(x/420, y/90)
	return 0.6*cloud(x/300, (y+drift)/9) + 0.4*cloud(x/120, y/2.4)
}
