package photo

import (
	"math"

	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// referenceAreas are the unburned fields of a chart: those that its file lists, or
// else the middle of the gaps beside and between its swatches. A label in one of
// these is one field in many, and does not count.
func referenceAreas(c swatch.Chart) []layout.Area {
	if len(c.References) > 0 {
		return c.References
	}
	const few = 8
	all := gaps(c, 1, 0)
	if len(all) < few {
		all = append(all, gaps(c, 0, 1)...)
	}
	return all
}

// gaps are the fields on both sides of every swatch along an axis.
func gaps(c swatch.Chart, x, y layout.MM) []layout.Area {
	var all []layout.Area
	for _, s := range c.Swatches {
		for _, sign := range [2]layout.MM{1, -1} {
			if a, ok := gapBeside(c, s, sign*x, sign*y); ok {
				all = append(all, a)
			}
		}
	}
	return all
}

// gapBeside is a field between a swatch and the next one a way, or the rim of the
// marks.
func gapBeside(c swatch.Chart, s swatch.Swatch, wayX, wayY layout.MM) (layout.Area, bool) {
	across := wayY != 0
	gap := layout.MM(math.Inf(1))
	for _, o := range c.Swatches {
		dx, dy := wayX*(o.Centre.X-s.Centre.X), wayY*(o.Centre.Y-s.Centre.Y)
		room, aside := dx-(s.Size.W+o.Size.W)/2, absMM(o.Centre.Y-s.Centre.Y)-(s.Size.H+o.Size.H)/2
		if across {
			room, aside = dy-(s.Size.H+o.Size.H)/2, absMM(o.Centre.X-s.Centre.X)-(s.Size.W+o.Size.W)/2
		}
		if dx+dy > 0 && aside < 0 && room < gap {
			gap = room
		}
	}
	if math.IsInf(float64(gap), 1) {
		gap = toRim(c, s, wayX, wayY)
	}
	const least layout.MM = 0.8
	if gap < least {
		return layout.Area{}, false
	}
	gap = min(gap, s.Size.W/2, s.Size.H/2) // the field stays near the swatch
	const share = 0.6                      // of the gap and the side that is looked at
	at := layout.Point{X: s.Centre.X + wayX*(s.Size.W+gap)/2, Y: s.Centre.Y + wayY*(s.Size.H+gap)/2}
	if across {
		return layout.Area{Centre: at, Size: layout.Size{W: share * s.Size.W, H: share * gap}}, true
	}
	return layout.Area{Centre: at, Size: layout.Size{W: share * gap, H: share * s.Size.H}}, true
}

// toRim is the room to the rectangle inside the marks.
func toRim(c swatch.Chart, s swatch.Swatch, wayX, wayY layout.MM) layout.MM {
	m := c.Marks
	left, right := max(m[0].X, m[3].X), min(m[1].X, m[2].X)
	low, high := max(m[2].Y, m[3].Y), min(m[0].Y, m[1].Y)
	switch {
	case wayX > 0:
		return right - c.MarkSide - s.Centre.X - s.Size.W/2
	case wayX < 0:
		return s.Centre.X - s.Size.W/2 - left - c.MarkSide
	case wayY > 0:
		return high - c.MarkSide - s.Centre.Y - s.Size.H/2
	}
	return s.Centre.Y - s.Size.H/2 - low - c.MarkSide
}
