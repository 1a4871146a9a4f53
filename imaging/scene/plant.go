package scene

import (
	"math"

	"undercoat/imaging/colour"
)

func shadeOf(c colour.Linear, i float64) func(spot) colour.Linear {
	c = c.Scale(i)
	return func(spot) colour.Linear { return c }
}

// plant has long leaves in a clay pot on the floor.
func (v view) plant(x float64) []layer {
	const z = 240.0
	y := standing(0, z)
	all := []layer{
		v.onFloor(x-130, x+210, z-130, z+120, 55, 0.42),
		v.onFloor(x-105, x+110, z-60, z+40, 14, 0.5),
		softShadow(box{x - 90, 60, x + 210, 330}, 70, 0.20),
		softShadow(box{x - 190, 420, x + 320, 980}, 120, 0.16),
	}
	type blade struct{ dx, high, wide, tone float64 }
	blades := []blade{
		{-300, 560, 74, 0.60}, {250, 640, 76, 0.52}, {-170, 820, 80, 0.66}, {150, 880, 82, 0.56},
		{-60, 960, 82, 0.78}, {330, 470, 70, 0.66}, {-350, 400, 68, 0.82}, {60, 760, 80, 0.88},
		{-210, 600, 76, 0.95}, {190, 560, 74, 0.80},
	}
	green := hex("#5f7f55")
	for i, b := range blades {
		from := [2]float64{x + 18*(grit(i, 3)-0.5)*4, y + 250}
		tip := [2]float64{x + b.dx, y + 250 + b.high}
		mid := [2]float64{from[0] + 0.28*(tip[0]-from[0]), from[1] + 0.52*(tip[1]-from[1])}
		all = append(all, bentLeaf(from, mid, tip, b.wide, green.Scale(b.tone))...)
	}
	clay := hex("#b9775a")
	return append(all,
		pot(clay, 0.03, x, profile{y, 92}, profile{y + 120, 116}, profile{y + 236, 134}),
		pot(clay.Scale(1.06), 0.03, x, profile{y + 214, 140}, profile{y + 216, 143}, profile{y + 262, 145}, profile{y + 264, 143}),
		softShadow(box{x - 132, y + 200, x + 132, y + 214}, 5, 0.35),
	)
}

// bentLeaf is a stalk up to mid and a leaf from there to its tip, lighter on the
// side of its rib that faces the window.
func bentLeaf(from, mid, tip [2]float64, wide float64, c colour.Linear) []layer {
	dx, dy := tip[0]-mid[0], tip[1]-mid[1]
	long := math.Hypot(dx, dy)
	blade := leaf(mid[0]-0.12*dx, mid[1]-0.12*dy, tip[0], tip[1], wide)
	return []layer{
		solid(stroke(from[0], from[1], mid[0], mid[1], 9, 6), shadeOf(c, 0.8)),
		solid(blade, func(s spot) colour.Linear {
			side := ((s.x-mid[0])*dy - (s.y-mid[1])*dx) / long // above 0 to the right of the rib
			along := ((s.x-mid[0])*dx + (s.y-mid[1])*dy) / long / long
			rib := math.Exp(-side * side / 9)
			i := 1 + 0.16*smooth(6, -6, side) - 0.10*smooth(-6, 6, side) + 0.12*rib + 0.12*along
			return c.Scale(i)
		}),
	}
}
