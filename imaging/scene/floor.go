package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// ground is a place on the floor.
type ground struct {
	x, z   float64 // along the wall, before the wall
	px, pz float64 // a pixel's sides
}

// groundAt is the floor's place that a spot below the wall's foot shows.
func groundAt(s spot) ground {
	down := math.Max(0, -s.y)
	z := floorDepth(down)
	return ground{
		x: s.x * (eyeDistance - z) / eyeDistance, z: z,
		px: s.px, pz: floorDepth(down+s.px/2) - floorDepth(down-s.px/2),
	}
}

// floor is a floor of some make. The wall shows in it a little, the more the
// flatter one looks, and its foot is in the dark.
func (v view) floor(mirror float64, of func(g ground) colour.Linear) layer {
	b := v.all()
	b.y1 = 0
	return layer{b, func(s spot, under colour.Linear) colour.Linear {
		cover := within(s.y, s.px, math.Inf(-1), 0)
		if cover == 0 {
			return under
		}
		g := groundAt(s)
		i := (0.80 + 0.2*v.lit.at(s.x, v.panel.cy()-v.height()*0.25)) * (1 - 0.30*math.Exp(-g.z/50)) * (1 + 0.10*smooth(0, 900, g.z))
		c := lit(of(g), i)
		c = colour.Mix(c, lit(v.wall, 0.8*v.lit.at(s.x, 0)), mirror*math.Exp(-g.z/700))
		return colour.Mix(under, c, cover)
	}}
}

// gap is how much of a pixel lies in a gap that comes back every so often.
func gap(at, px, every, wide float64) float64 {
	at -= every * math.Round(at/every)
	return within(at, math.Max(px, wide/2), -wide/2, wide/2)
}

// plankFloor is oiled oak, its boards along the wall.
func (v view) plankFloor() layer {
	oak, dark := hex("#bf9b70"), hex("#8a6844")
	const wide, long = 135.0, 1900.0
	return v.floor(0.14, func(g ground) colour.Linear {
		board := math.Floor(g.z / wide)
		along := g.x + long*grit(int(board), 7)
		piece := math.Floor(along / long)
		own := grit(int(board), int(piece)+40) - 0.5
		c := colour.Mix(oak, dark, clamp01(0.22+0.28*own+0.16*grain(along+900*own, g.z*1.3+70*own)))
		seam := math.Max(gap(g.z, g.pz, wide, 2.5), gap(along, g.px, long, 2.5))
		return c.Scale(1 - 0.45*seam)
	})
}

// stoneFloor is of large pale slabs.
func (v view) stoneFloor() layer {
	stone, joint := hex("#b9b3a8"), hex("#8d877c")
	const side = 400.0
	return v.floor(0.20, func(g ground) colour.Linear {
		i, j := math.Floor(g.x/side+0.5), math.Floor(g.z/side+0.5)
		own := 0.10 * (grit(int(i), int(j)) - 0.5)
		c := stone.Scale(1 + own + 0.03*cloud(g.x/90, g.z/70) + 0.02*cloud(g.x/14, g.z/14))
		seam := math.Max(gap(g.x+side/2, g.px, side, 4), gap(g.z+side/2, g.pz, side, 4))
		return colour.Mix(c, joint, 0.8*seam)
	})
}

// concreteFloor is ground and sealed.
func (v view) concreteFloor() layer {
	grey := hex("#a3a19c")
	return v.floor(0.22, func(g ground) colour.Linear {
		return grey.Scale(1 + 0.05*cloud(g.x/520, g.z/300) + 0.035*cloud(g.x/130, g.z/90) + 0.02*cloud(g.x/9, g.z/9))
	})
}

// onFloor is the soft shadow of something that stands on the floor, between z0
// and z1 before the wall.
func (v view) onFloor(x0, x1, z0, z1, sigma, strength float64) layer {
	b := box{x0 - 3*sigma, standing(0, z1+3*sigma), x1 + 3*sigma, 0}
	return dims(b, func(s spot) float64 {
		g := groundAt(s)
		return strength * blurred(box{x0, z0, x1, z1}, sigma, s.x, g.z) * within(s.y, s.px, math.Inf(-1), 0)
	})
}

// rug lies before the furniture, woven, with two stripes along its border.
func (v view) rug() layer {
	wool, stripe := hex("#b9ae9c"), hex("#7f7566")
	const x0, x1, z0, z1, thick = -1180.0, 1180.0, 500.0, 1900.0, 14.0
	b := v.all()
	b.y1 = 0
	return layer{b, func(s spot, under colour.Linear) colour.Linear {
		g := groundAt(s)
		cover := within(g.x-v.x, g.px, x0, x1) * within(g.z, g.pz, z0, z1)
		if cover == 0 {
			return colour.Mix(under, colour.Linear{}, 0.35*blurred(box{x0, z0 - thick, x1 + thick, z1}, 9, g.x-v.x, g.z))
		}
		in := math.Min(math.Min(g.x-v.x-x0, x1-g.x+v.x), g.z-z0)
		line := math.Max(within(in, g.px, 60, 72), within(in, g.px, 86, 92))
		c := colour.Mix(wool, stripe, 0.75*line)
		i := 0.92 + 0.06*cloud(g.x/5, g.z/3) + 0.04*cloud(g.x/160, g.z/110)
		i *= 0.8 + 0.2*v.lit.at(s.x, v.panel.cy()-v.height()*0.25)
		return colour.Mix(under, lit(c, i), cover)
	}}
}
