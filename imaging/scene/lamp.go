package scene

import "undercoat/imaging/colour"

// lamp is a floor lamp with a linen shade, switched off by day.
func (v view) lamp(x float64) []layer {
	const z, high, shadeHigh = 230.0, 1540.0, 270.0
	y := standing(0, z)
	top := standing(high, z)
	low := top - shadeHigh
	brass := hex("#8c7448")
	linen := hex("#e8dfcd")
	cone := polygon([2]float64{x - 150, top}, [2]float64{x + 150, top}, [2]float64{x + 200, low}, [2]float64{x - 200, low})
	return []layer{
		v.onFloor(x-120, x+170, z-110, z+100, 40, 0.38),
		v.onFloor(x-125, x+130, z-60, z+45, 10, 0.5),
		softShadow(box{x - 110, low - 60, x + 260, top - 50}, 60, 0.22),
		softShadow(box{x + 46, 30, x + 60, low - 40}, 14, 0.20),
		pot(brass, 0.25, x, profile{y + 14, 9}, profile{low, 9}, profile{low + 40, 9}),
		pot(brass.Scale(0.8), 0.2, x, profile{y - 6, 128}, profile{y + 4, 132}, profile{y + 10, 124}, profile{y + 16, 20}, profile{y + 24, 11}),
		solid(cone, func(s spot) colour.Linear {
			half := 150 + 50*(top-s.y)/shadeHigh
			u := (s.x - x) / half
			i := 0.98 - 0.22*u - 0.16*u*u + 0.03*cloud(s.x/3, s.y/40) + 0.03*cloud(s.x/40, s.y/3)
			i -= 0.12 * (within(s.y, s.px, low, low+9) + within(s.y, s.px, top-9, top))
			return linen.Scale(i * 0.86)
		}),
	}
}
