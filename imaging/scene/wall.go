package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// wallPaint is the wall: rolled paint with a faint unevenness, or painted brick in
// the studio.
func (v view) wallPaint() layer {
	all := v.all()
	all.y0 = 0
	brick := v.kind == Studio
	return layer{all, func(s spot, _ colour.Linear) colour.Linear {
		i := v.lit.at(s.x, s.y) * (1 - 0.12*math.Exp(-s.y/160)) * (1 + 0.006*cloud(s.x/130, s.y/130) + 0.006*cloud(s.x/11, s.y/11))
		if brick {
			i *= bricks(s)
		}
		return lit(v.wall, i)
	}}
}

// Bricks with their joints, in mm. From memory: the common size in Britain.
const (
	brickLong  = 225
	brickHigh  = 75
	brickJoint = 10
)

// bricks is the light on a painted brick wall: joints lie back and are dark above
// and bright below, and no brick is quite as its neighbour.
func bricks(s spot) float64 {
	course := math.Floor(s.y / brickHigh)
	shift := math.Mod(math.Abs(course), 2) * brickLong / 2
	along := math.Floor((s.x + shift) / brickLong)
	u, w := s.x+shift-along*brickLong, s.y-course*brickHigh
	joint := func(at, from, to float64) float64 {
		// The pixel's share, kept soft by the paint.
		px := math.Max(s.px, 5)
		return clamp01((min(at+px/2, to) - max(at-px/2, from)) / px)
	}
	dark := 0.11 * joint(w, 0, 0.45*brickJoint)
	bright := 0.035 * joint(w, 0.5*brickJoint, brickJoint)
	upright := 0.06*joint(u, 0, brickJoint/2) - 0.02*joint(u, brickJoint/2, brickJoint)
	own := 0.03 * (grit(int(along), int(course)) - 0.5)
	// From afar the joints run together and only bricks are left.
	near := smooth(9, 3, s.px)
	return 1 + near*(bright-dark-upright) + own
}

// skirting runs along the wall's foot; dark below 0 paints it deeper than the
// wall instead of white.
func (v view) skirting(dark float64) layer {
	const high = 110.0
	paint := colour.Mix(v.wall, hex("#f6f4ef"), 0.75)
	if dark < 0 {
		paint = colour.Mix(v.wall, hex("#f6f4ef"), 0.6)
	}
	b := v.all()
	b.y0, b.y1 = 0, high+6
	return layer{b, func(s spot, under colour.Linear) colour.Linear {
		i := v.lit.at(s.x, s.y) * (0.93 + 0.03*s.y/high)
		i *= 1 + 0.06*within(s.y, s.px, high-14, high-4) - 0.16*within(s.y, s.px, high-20, high-15) - 0.25*within(s.y, s.px, 0, 4)
		return colour.Mix(under, lit(paint, i), within(s.y, s.px, -10, high))
	}}
}
