package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// The workbench, in mm.
const (
	workWide = 1500
	workHigh = 900
	workDeep = 560
)

// studio is a workbench with what a maker leaves on it, blank panels leaning to
// its left, a stool to the right and a lamp over them.
func (v view) studio() []layer {
	stool := v.x + workWide/2 + 310
	if v.x != 0 {
		stool = v.panel.x1 + 380
	}
	all := v.leaning(v.x - workWide/2 - 300)
	all = append(all, v.workbench(v.x)...)
	all = append(all, v.onBench(v.x)...)
	all = append(all, v.stool(stool)...)
	return append(all, v.pendant(math.Min(v.x-workWide/2+60, v.panel.x0-330))...)
}

func (v view) workbench(x float64) []layer {
	beech := hex("#c9a67a")
	half := workWide / 2.0
	const top = 66.0
	back, near := float64(workHigh), standing(workHigh, workDeep)
	under := standing(workHigh-top, workDeep)
	foot, backFoot := standing(0, workDeep-40), standing(0, 60)
	shelfBack, shelfNear := standing(210, 60), standing(210, workDeep-60)
	leg := func(x, yFoot, shade float64) layer {
		return timber(rectangle(box{x - 42, yFoot, x + 42, under + 2}), beech.Scale(shade), true)
	}
	all := []layer{
		softShadow(box{x - half + 20, 120, x + half + 60, back - 40}, 80, 0.24),
		v.onFloor(x-half+20, x+half+60, 20, workDeep+20, 70, 0.48),
		v.onFloor(x-half+60, x-half+160, workDeep-100, workDeep-20, 12, 0.5),
		v.onFloor(x+half-150, x+half-55, workDeep-100, workDeep-20, 12, 0.5),
		leg(x-half+130, backFoot, 0.42), leg(x+half-130, backFoot, 0.40),
		timber(rectangle(box{x - half + 70, shelfNear, x + half - 70, shelfBack}), beech.Scale(0.62), false),
		softShadow(box{x - half + 70, shelfNear + 20, x + half - 70, shelfBack + 30}, 30, 0.35),
	}
	all = append(all, v.stored(x, (shelfBack+shelfNear)/2)...)
	return append(all,
		timber(rectangle(box{x - half + 70, shelfNear - 62, x + half - 70, shelfNear}), beech.Scale(0.76), false),
		leg(x-half+104, foot, 0.92), leg(x+half-104, foot, 0.84),
		timber(rectangle(box{x - half + 62, under - 100, x + half - 62, under + 2}), beech.Scale(0.80), false),
		softShadow(box{x - half + 40, under - 26, x + half - 40, under + 4}, 12, 0.45),
		timber(topFace(x-half, x+half, near, back, workDeep), beech.Scale(1.20), false),
		timber(rectangle(box{x - half, under, x + half, near}), beech.Scale(0.97), false),
		seam(box{x - half, near - 1.5, x + half, near + 1.5}, -0.22),
	)
}

// stored are a wooden crate and tins under the bench.
func (v view) stored(x, y float64) []layer {
	crate := box{x - 520, y, x - 110, y + 250}
	ply := hex("#b08a5c")
	all := []layer{
		softShadow(crate.moved(14, -12), 14, 0.40),
		timber(rectangle(crate), ply.Scale(0.52), false),
	}
	for i := range 3 {
		slat := box{crate.x0, crate.y0 + 6 + 84*float64(i), crate.x1, crate.y0 + 74 + 84*float64(i)}
		all = append(all, timber(rectangle(slat), ply.Scale(0.70), false), softShadow(box{slat.x0, slat.y0 - 6, slat.x1, slat.y0 + 2}, 3, 0.25))
	}
	for i, c := range []string{"#2f6f73", "#c98a3c", "#d8d4ca", "#7a3d35"} {
		all = append(all, v.tin(x+60+150*float64(i), y-6, 60, 150, hex(c).Scale(0.72))...)
	}
	return all
}

// tin is a paint tin with a metal rim above and below.
func (v view) tin(x, y, half, high float64, c colour.Linear) []layer {
	steel := hex("#b8b8b4")
	return []layer{
		softShadow(box{x - half, y - 8, x + half + 26, y + 8}, 9, 0.45),
		pot(c, 0.05, x, profile{y, half}, profile{y + high, half}),
		pot(steel, 0.12, x, profile{y, half + 2}, profile{y + 7, half + 2}),
		pot(steel, 0.12, x, profile{y + high - 9, half + 2}, profile{y + high, half + 2}),
		solid(ellipse(centred(x, y+high, 2*half+4, 0.30*half)), shadeOf(steel, 0.92)),
		solid(ellipse(centred(x, y+high, 2*half-12, 0.30*half-4)), shadeOf(steel, 0.68)),
	}
}

// onBench are a jar of brushes, two tins and a roll of paper.
func (v view) onBench(x float64) []layer {
	y := standing(workHigh, 300)
	var all []layer
	jar := x + 520
	all = append(all, softShadow(box{jar - 40, y - 8, jar + 75, y + 10}, 12, 0.40))
	for i, b := range []struct{ dx, high, thick float64 }{{-58, 262, 9}, {-22, 290, 8}, {14, 250, 11}, {48, 276, 8}, {70, 236, 10}} {
		handle := hex([]string{"#c9a56d", "#7d3b33", "#d2b98c", "#3b4a4f", "#b98a54"}[i])
		tipX, tipY := jar+b.dx, y+b.high
		all = append(all,
			solid(stroke(jar+0.3*b.dx, y+60, tipX, tipY-46, b.thick*0.7, b.thick), shadeOf(handle, 0.9)),
			solid(stroke(tipX-0.05*b.dx, tipY-58, tipX, tipY-34, b.thick+1, b.thick+3), shadeOf(hex("#aeb0ae"), 0.9)),
			solid(leaf(tipX-0.05*b.dx, tipY-44, tipX+0.14*b.dx, tipY+22, b.thick+9), shadeOf(hex("#5a4634"), 0.8)),
		)
	}
	all = append(all, pot(hex("#cfd6d3"), 0.10, jar, profile{y, 44}, profile{y + 6, 48}, profile{y + 118, 48}, profile{y + 124, 50}))
	all = append(all, v.tin(x-560, y, 54, 124, hex("#2b2d30"))...)
	all = append(all, v.tin(x-425, y-10, 54, 124, hex("#2f8f8c"))...)
	roll := box{x - 250, y - 14, x + 130, y + 48}
	return append(all,
		softShadow(roll.moved(8, -10), 12, 0.35),
		solid(rounded(roll, 8), func(s spot) colour.Linear {
			t := (s.y - roll.y0) / roll.h()
			return hex("#e6dcc6").Scale(0.58 + 0.52*math.Sin(math.Pi*(0.12+0.72*t)))
		}),
		solid(ellipse(box{roll.x1 - 16, roll.y0, roll.x1 + 16, roll.y1}), shadeOf(hex("#cdbf9f"), 0.85)),
		solid(ellipse(box{roll.x1 - 6, roll.y0 + 16, roll.x1 + 6, roll.y1 - 16}), shadeOf(hex("#6b5c45"), 0.7)),
	)
}

// leaning are blank panels that wait for paint, their faces to the wall's side.
func (v view) leaning(x float64) []layer {
	var all []layer
	for i, p := range []struct {
		off, w, h, z float64
		c            string
	}{{-40, 420, 900, 60, "#cfc4b0"}, {40, 360, 700, 110, "#e9e3d6"}, {-90, 300, 480, 160, "#d8c9ac"}} {
		y := standing(0, p.z)
		b := box{x + p.off - p.w/2, y, x + p.off + p.w/2, y + p.h}
		c := hex(p.c)
		all = append(all,
			v.onFloor(b.x0, b.x1+50, p.z-60, p.z+20, 26, 0.42),
			softShadow(b.moved(16, -10), 18+6*float64(i), 0.28),
			solid(rectangle(b), func(s spot) colour.Linear {
				return c.Scale(0.74 + 0.22*(s.y-b.y0)/b.h() + 0.015*cloud(s.x/3, s.y/3))
			}),
			seam(box{b.x1 - 5, b.y0, b.x1, b.y1}, 0.25),
			seam(box{b.x0, b.y1 - 4, b.x1, b.y1}, -0.12),
		)
	}
	return all
}

// stool has a round seat and four legs with a ring.
func (v view) stool(x float64) []layer {
	const z, high = 300.0, 620.0
	y, seat := standing(0, z), standing(high, z)
	steel, wood := hex("#3d4042"), hex("#a97c50")
	leg := func(dx, foot, shade float64) layer {
		return solid(stroke(x+0.55*dx, seat-10, x+dx, foot, 20, 16), shadeOf(steel, shade))
	}
	return []layer{
		v.onFloor(x-150, x+190, z-150, z+140, 45, 0.40),
		softShadow(box{x - 110, 80, x + 190, seat - 20}, 70, 0.14),
		leg(-130, y+34, 0.7), leg(130, y+34, 0.6),
		solid(stroke(x-140, y+190, x+140, y+190, 12, 12), shadeOf(steel, 0.85)),
		leg(-175, y-26, 1.1), leg(175, y-26, 0.9),
		solid(rounded(box{x - 168, seat - 34, x + 168, seat}, 16), func(s spot) colour.Linear {
			u := (s.x - x) / 168
			return wood.Scale(0.86 - 0.16*u - 0.1*u*u + 0.03*cloud(s.x/90, s.y/4))
		}),
		timber(ellipse(centred(x, seat, 336, 46)), wood.Scale(1.12), false),
	}
}

// pendant hangs from above the view, switched off.
func (v view) pendant(x float64) []layer {
	const low = 1640.0
	enamel := hex("#2f3a3a")
	return []layer{
		softShadow(box{x - 120, low - 60, x + 240, low + 130}, 60, 0.18),
		seam(box{x - 3.5, low + 190, x + 3.5, v.top + 10*v.mm}, 0.80),
		pot(hex("#9a8351"), 0.2, x, profile{low + 168, 26}, profile{low + 178, 26}, profile{low + 214, 15}),
		solid(ellipse(centred(x, low+6, 372, 40)), shadeOf(hex("#e9e3d3"), 0.62)),
		pot(enamel, 0.10, x, profile{low, 190}, profile{low + 14, 186}, profile{low + 70, 146}, profile{low + 130, 62}, profile{low + 172, 32}),
	}
}
