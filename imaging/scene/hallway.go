package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// The door's leaf and frame and the bench, in mm.
const (
	leafWide  = 850
	leafHigh  = 2000
	frameWide = 72
	benchWide = 1000
	benchHigh = 450
	benchDeep = 330
)

// hallway is a panelled door to the panel's left, a bench under it, or beside it
// if it hangs too low, and a tall vase.
func (v view) hallway() []layer {
	bench := v.benchMiddle()
	all := v.door(v.x)
	all = append(all, v.benchAt(bench)...)
	return append(all, v.vase(math.Max(bench+benchWide/2, v.panel.x1)+250)...)
}

// benchMiddle is where the bench stands: clear of the door, and of a panel that
// hangs low.
func (v view) benchMiddle() float64 {
	if v.panel.y0 < benchHigh+120 {
		return v.panel.x1 + 300 + benchWide/2
	}
	return math.Max(0, v.x+leafWide/2+frameWide+90+benchWide/2)
}

func (v view) door(x float64) []layer {
	white, leaf := hex("#f1eee7"), hex("#e6e2d9")
	l := box{x - leafWide/2, 6, x + leafWide/2, leafHigh + 6}
	outer := box{l.x0 - frameWide, 0, l.x1 + frameWide, l.y1 + frameWide}
	on := func(c colour.Linear, i float64) func(spot) colour.Linear {
		return func(s spot) colour.Linear { return lit(c, i*v.lit.at(s.x, s.y)) }
	}
	all := []layer{
		softShadow(outer.moved(8, -6), 14, 0.30),
		solid(rectangle(outer), on(white, 0.97)),
		seam(box{l.x1 + frameWide - 12, 0, l.x1 + frameWide - 9, outer.y1 - 9}, 0.16),
		seam(box{l.x0 - frameWide + 9, 0, l.x0 - frameWide + 12, outer.y1 - 9}, 0.14),
		seam(box{outer.x0 + 9, outer.y1 - 12, outer.x1 - 9, outer.y1 - 9}, 0.14),
		seam(box{l.x0 - 3, 0, l.x1 + 3, l.y1 + 3}, 0.62),
		solid(rectangle(l), on(leaf, 0.98)),
		softShadow(box{l.x0 - 10, l.y1 - 8, l.x1 + 10, l.y1 + 20}, 10, 0.30),
		softShadow(box{l.x0 - 20, l.y0, l.x0 + 4, l.y1}, 10, 0.22),
	}
	for _, p := range []box{
		{l.x0 + 120, 1010, x - 45, l.y1 - 125}, {x + 45, 1010, l.x1 - 120, l.y1 - 125},
		{l.x0 + 120, 230, x - 45, 860}, {x + 45, 230, l.x1 - 120, 860},
	} {
		all = append(all, v.fielded(p, leaf)...)
	}
	return append(all, v.handle(l.x1-62, 1010)...)
}

// fielded is a sunk panel of a door: dark under its upper and left moulding,
// bright on the others.
func (v view) fielded(b box, c colour.Linear) []layer {
	const m = 14.0
	edge := func(i float64, corners ...[2]float64) layer {
		return solid(polygon(corners...), func(s spot) colour.Linear { return lit(c, i*v.lit.at(s.x, s.y)) })
	}
	in := b.grown(-m)
	return []layer{
		edge(0.76, [2]float64{b.x0, b.y1}, [2]float64{b.x1, b.y1}, [2]float64{in.x1, in.y1}, [2]float64{in.x0, in.y1}),
		edge(0.84, [2]float64{b.x0, b.y1}, [2]float64{in.x0, in.y1}, [2]float64{in.x0, in.y0}, [2]float64{b.x0, b.y0}),
		edge(1.05, [2]float64{in.x1, in.y1}, [2]float64{b.x1, b.y1}, [2]float64{b.x1, b.y0}, [2]float64{in.x1, in.y0}),
		edge(1.07, [2]float64{in.x0, in.y0}, [2]float64{in.x1, in.y0}, [2]float64{b.x1, b.y0}, [2]float64{b.x0, b.y0}),
		solid(rectangle(in), func(s spot) colour.Linear {
			return lit(c, (0.95+0.02*(s.y-in.y0)/in.h())*v.lit.at(s.x, s.y))
		}),
	}
}

func (v view) handle(x, y float64) []layer {
	brass := hex("#a88a52")
	return []layer{
		softShadow(centred(x+4, y-8, 30, 150), 7, 0.30),
		front(centred(x, y-20, 30, 150), 14, brass.Scale(0.82)),
		softShadow(box{x - 100, y - 16, x + 8, y + 4}, 6, 0.35),
		solid(stroke(x, y, x-108, y, 19, 16), func(s spot) colour.Linear {
			u := (s.y - y) / 10
			return brass.Scale(0.95 + 0.5*u)
		}),
	}
}

// benchAt is a plain bench of dark oak with a seat cushion.
func (v view) benchAt(x float64) []layer {
	oak, cloth := hex("#8a6644"), hex("#b9b09c")
	half := benchWide / 2.0
	back, near := float64(benchHigh), standing(benchHigh, benchDeep)
	under := standing(benchHigh-38, benchDeep)
	foot := standing(0, benchDeep-20)
	leg := func(x float64, shade float64) layer {
		return timber(rectangle(box{x - 24, foot, x + 24, under + 2}), oak.Scale(shade), true)
	}
	backLeg := func(x float64) layer {
		return timber(rectangle(box{x - 22, standing(0, 30), x + 22, under}), oak.Scale(0.45), true)
	}
	rail := box{x - half + 60, under - 70, x + half - 60, under + 2}
	return []layer{
		softShadow(box{x - half + 20, 60, x + half + 40, back - 20}, 60, 0.22),
		v.onFloor(x-half, x+half+40, 10, benchDeep+20, 55, 0.45),
		v.onFloor(x-half+46, x-half+110, benchDeep-60, benchDeep-10, 9, 0.5),
		v.onFloor(x+half-104, x+half-46, benchDeep-60, benchDeep-10, 9, 0.5),
		backLeg(x - half + 100), backLeg(x + half - 100),
		leg(x-half+76, 0.92), leg(x+half-76, 0.84),
		timber(rectangle(rail), oak.Scale(0.72), false),
		softShadow(box{rail.x0, under - 14, rail.x1, under + 6}, 7, 0.45),
		timber(topFace(x-half, x+half, near, back, benchDeep), oak.Scale(1.22), false),
		timber(rectangle(box{x - half, under, x + half, near}), oak.Scale(0.95), false),
		softShadow(box{x - half + 30, near - 2, x + half - 20, back + 4}, 8, 0.35),
		cushion(box{x - half + 34, near + 6, x + half - 34, back + 40}, cloth),
	}
}

func cushion(b box, c colour.Linear) layer {
	return solid(rounded(b, 24), func(s spot) colour.Linear {
		t := (s.y - b.y0) / b.h()
		edge := math.Min(s.x-b.x0, b.x1-s.x)
		i := 0.72 + 0.34*smooth(0, 0.75, t) - 0.10*math.Exp(-edge/26) - 0.10*math.Exp(-math.Pow((t-0.42)/0.05, 2))
		return c.Scale(i + 0.04*cloud(s.x/2.5, s.y/2.5) + 0.02*cloud(s.x/60, s.y/20))
	})
}

// vase is tall, of dark clay, with dry branches.
func (v view) vase(x float64) []layer {
	const z = 170.0
	y := standing(0, z)
	clay, twig := hex("#5b5650"), hex("#8b6f52")
	all := []layer{
		v.onFloor(x-90, x+150, z-90, z+90, 40, 0.42),
		v.onFloor(x-70, x+75, z-40, z+30, 10, 0.5),
		softShadow(box{x - 60, 60, x + 150, 480}, 45, 0.22),
	}
	for i, t := range [][2]float64{{-150, 1020}, {-70, 1180}, {20, 1090}, {110, 1200}, {190, 980}} {
		tipX, tipY := x+t[0], y+t[1]
		midX, midY := x+0.38*t[0]+14*(grit(i, 5)-0.5), y+0.62*t[1]
		all = append(all,
			softShadow(box{midX + 10, midY - 200, midX + 40, tipY - 20}, 16, 0.05),
			solid(stroke(x+0.08*t[0], y+480, midX, midY, 6, 4.5), shadeOf(twig, 0.85)),
			solid(stroke(midX, midY, tipX, tipY, 4.5, 2), shadeOf(twig, 0.95)),
		)
		for j := range 9 {
			along := 0.1 + 0.11*float64(j)
			bx, by := midX+along*(tipX-midX), midY+along*(tipY-midY)
			side := float64(2*(j%2) - 1)
			all = append(all, solid(leaf(bx, by, bx+side*(34-14*along)+0.1*t[0], by+38, 13), shadeOf(hex("#c8a878"), 0.75+0.35*grit(i, j))))
		}
	}
	all = append(all, solid(ellipse(centred(x, y+506, 106, 17)), shadeOf(hex("#2a2724"), 0.7)))
	return append(all, pot(clay, 0.03, x,
		profile{y, 72}, profile{y + 90, 104}, profile{y + 230, 122}, profile{y + 380, 84}, profile{y + 450, 46}, profile{y + 500, 52}, profile{y + 508, 54}))
}
