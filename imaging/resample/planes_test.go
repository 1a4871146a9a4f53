package resample

import (
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

func whole(g *plane.Grey16) layout.Crop { return layout.Crop{W: float64(g.W), H: float64(g.H)} }

func filled(w, h int, value func(x, y int) uint16) *plane.Grey16 {
	g := plane.NewGrey16(w, h)
	for y := range h {
		for x := range w {
			g.Pix[y*w+x] = value(x, y)
		}
	}
	return g
}

// rough is the pattern of testdata/goldens/make_goldens.py.
func rough(x, y int) uint16 { return uint16((x*x*7919 + y*y*10473 + x*y*3571 + 12345) % 65536) }

// smooth is a picture without edges or detail near the pixel.
func smooth(x, y int) uint16 {
	return uint16(32000 + 14000*math.Sin(float64(x)/23) + 12000*math.Cos(float64(y)/17+float64(x)/40))
}

func mean(g *plane.Grey16) float64 {
	sum := 0.0
	for _, v := range g.Pix {
		sum += float64(v)
	}
	return sum / float64(len(g.Pix))
}
