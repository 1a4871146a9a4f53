package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// front is a flat face towards the eye, a little brighter above.
func front(b box, radius float64, c colour.Linear) layer {
	sh := rectangle(b)
	if radius > 0 {
		sh = rounded(b, radius)
	}
	return solid(sh, func(s spot) colour.Linear {
		return c.Scale(0.92 + 0.10*clamp01((s.y-b.y0)/b.h()))
	})
}

// timber is a wooden face with its grain along x, or upright.
func timber(sh shape, c colour.Linear, upright bool) layer {
	ox, oy := sh.in.x0*1.7, sh.in.y0*3.1
	return solid(sh, func(s spot) colour.Linear {
		x, y := s.x+ox, s.y+oy
		if upright {
			x, y = y, x
		}
		// What is finer than a pixel is left out, or it would flicker.
		fine := clamp01(2.5 / s.px)
		return c.Scale(1 + 0.10*fine*grain(x, y) + 0.04*cloud(x/400, y/60))
	})
}

// pot is a body of revolution in the window's light: brightest left of its
// middle, dark to the right, with a pale rim where light comes back from the wall.
func pot(c colour.Linear, gloss float64, x float64, points ...profile) layer {
	return solid(lathe(x, points...), func(s spot) colour.Linear {
		half := math.Max(halfAt(points, s.y), 1e-6)
		u := math.Max(-1, math.Min(1, (s.x-x)/half))
		face := math.Sqrt(1 - u*u)
		i := 0.46 + 0.62*math.Max(0, 0.80*face-0.60*u) + 0.10*smooth(0.7, 1, u)
		d := (u + 0.42) / 0.16
		shine := gloss * math.Exp(-d*d) * face
		return c.Scale(i).Add(colour.Linear{R: shine, G: shine, B: shine})
	})
}

// seam is a line of shadow across a thing, or of light below 0.
func seam(b box, strength float64) layer {
	sh := rectangle(b)
	return dims(b, func(s spot) float64 { return strength * sh.cover(s) })
}
