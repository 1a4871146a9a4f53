package scene

// The console table, in mm.
const (
	consoleWide = 900
	consoleHigh = 780
	consoleDeep = 360
)

// living is a console table of oak with a few things on it, a plant to its right
// and a floor lamp to its left.
func (v view) living() []layer {
	var all []layer
	right, left := v.x+consoleWide/2, v.x-consoleWide/2
	if v.x == 0 { // under the panel: what is tall keeps clear of it
		right, left = max(right, v.panel.x1), min(left, v.panel.x0)
	}
	all = append(all, v.console(v.x)...)
	all = append(all, v.books(v.x+190)...)
	all = append(all, v.bowl(v.x-230)...)
	if v.x != 0 {
		right = v.panel.x1
	}
	all = append(all, v.plant(right+390)...)
	all = append(all, v.lamp(left-400)...)
	return all
}

func (v view) console(x float64) []layer {
	oak, dark := hex("#b88e5f"), hex("#7d5c3a")
	half := consoleWide / 2.0
	const top, apron = 28.0, 118.0
	backY, frontY := float64(consoleHigh), standing(consoleHigh, consoleDeep)
	under := standing(consoleHigh-top, consoleDeep)
	low := standing(consoleHigh-top-apron, consoleDeep)
	foot := standing(0, consoleDeep-30)
	backFoot := standing(0, 40)
	leg := func(x, yTop, yFoot, w float64) [][2]float64 {
		return [][2]float64{{x - w/2, yTop}, {x + w/2, yTop}, {x + w/3.2, yFoot}, {x - w/3.2, yFoot}}
	}
	return []layer{
		softShadow(box{x - half + 30, 120, x + half + 70, backY - 60}, 85, 0.20),
		softShadow(box{x - half + 10, low - 20, x + half + 25, backY - 12}, 26, 0.30),
		v.onFloor(x-half+10, x+half+60, 20, consoleDeep+30, 70, 0.42),
		v.onFloor(x-half+18, x-half+70, consoleDeep-60, consoleDeep-10, 10, 0.5),
		v.onFloor(x+half-62, x+half-10, consoleDeep-60, consoleDeep-10, 10, 0.5),
		timber(polygon(leg(x-half+62, low+20, backFoot, 40)...), dark.Scale(0.62), true),
		timber(polygon(leg(x+half-62, low+20, backFoot, 40)...), dark.Scale(0.58), true),
		timber(polygon(leg(x-half+44, low+4, foot, 46)...), oak.Scale(0.92), true),
		timber(polygon(leg(x+half-44, low+4, foot, 46)...), oak.Scale(0.84), true),
		timber(rectangle(box{x - half + 14, low, x + half - 14, under + 2}), oak.Scale(0.80), false),
		seam(box{x - 1.5, low + 6, x + 1.5, under - 4}, 0.55),
		seam(box{x - half + 40, low + 10, x + half - 40, low + 12.5}, 0.35),
		seam(box{x - half + 40, under - 12, x + half - 40, under - 9.5}, 0.35),
		softShadow(box{x - half + 10, under - 16, x + half - 10, under + 6}, 7, 0.45),
		softShadow(centred(x-half/2+4, (low+under)/2-6, 18, 16), 5, 0.5),
		softShadow(centred(x+half/2+4, (low+under)/2-6, 18, 16), 5, 0.5),
		front(centred(x-half/2, (low+under)/2, 22, 22), 11, hex("#8f7850")),
		front(centred(x+half/2, (low+under)/2, 22, 22), 11, hex("#877049")),
		timber(topFace(x-half, x+half, frontY, backY, consoleDeep), oak.Scale(1.24), false),
		timber(rectangle(box{x - half, under, x + half, frontY}), oak.Scale(0.97), false),
		seam(box{x - half, frontY - 1.2, x + half, frontY + 1.2}, -0.25),
	}
}

// books lie flat on the table, their backs towards the eye.
func (v view) books(x float64) []layer {
	y := standing(consoleHigh, 200)
	all := []layer{softShadow(box{x - 118, y - 16, x + 150, y + 12}, 12, 0.40)}
	for i, b := range []struct {
		w, h, off float64
		cover     string
	}{{250, 34, 0, "#39515a"}, {226, 26, 8, "#c9bda7"}, {196, 30, -10, "#9c5b43"}} {
		body := box{x - b.w/2 + b.off, y, x + b.w/2 + b.off, y + b.h}
		all = append(all, front(body, 5, hex(b.cover)), seam(box{body.x0 + 3, body.y0, body.x1 - 3, body.y0 + 2.5}, 0.45))
		if i == 1 {
			all = append(all, seam(box{body.x0 + 22, body.y0 + 3, body.x0 + 26, body.y1 - 2}, 0.3))
		}
		y += b.h
	}
	return all
}

// bowl is of glazed clay.
func (v view) bowl(x float64) []layer {
	y := standing(consoleHigh, 190)
	return []layer{
		softShadow(box{x - 60, y - 12, x + 95, y + 8}, 14, 0.45),
		pot(hex("#d9d3c7"), 0.06, x, profile{y, 44}, profile{y + 14, 50}, profile{y + 60, 104}, profile{y + 92, 118}, profile{y + 98, 117}),
		solid(ellipse(centred(x, y+97, 232, 22)), shadeOf(hex("#a89f90"), 0.75)),
		solid(ellipse(centred(x, y+93, 216, 15)), shadeOf(hex("#8b8273"), 0.55)),
	}
}
