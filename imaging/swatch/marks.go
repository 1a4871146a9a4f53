package swatch

import (
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/layout"
)

// The hole in the upper left mark, in shares of its side from its upper left
// corner. It lies off the diagonal, so that a mirrored photograph shows it
// elsewhere.
const (
	holeLeft, holeRight = 0.2, 0.8
	holeTop, holeBottom = 0.2, 0.5
)

// MarkAreas are the squares of the four marks, in the order of Marks. Chart.MarkSide
// must not be 0.
func (c Chart) MarkAreas() [4]layout.Area {
	half := c.MarkSide / 2
	inwards := [4]layout.Point{{X: half, Y: -half}, {X: -half, Y: -half}, {X: -half, Y: half}, {X: half, Y: half}}
	var areas [4]layout.Area
	for i, p := range c.Marks {
		areas[i] = layout.Area{
			Centre: layout.Point{X: p.X + inwards[i].X, Y: p.Y + inwards[i].Y},
			Size:   layout.Size{W: c.MarkSide, H: c.MarkSide},
		}
	}
	return areas
}

// MarkHole is the field in the upper left mark that is not burned.
func (c Chart) MarkHole() layout.Area {
	side, corner := c.MarkSide, c.Marks[0]
	return layout.Area{
		Centre: layout.Point{X: corner.X + side*(holeLeft+holeRight)/2, Y: corner.Y - side*(holeTop+holeBottom)/2},
		Size:   layout.Size{W: side * (holeRight - holeLeft), H: side * (holeBottom - holeTop)},
	}
}

// EachMarkDot visits the dots of a raster's grid that the four marks burn. Chart.MarkSide
// must not be 0.
func (c Chart) EachMarkDot(grid layout.Grid, visit func(x, y int)) {
	hole := dotsIn(c.MarkHole(), grid)
	for i, area := range c.MarkAreas() {
		eachDot(dotsIn(area, grid), func(x, y int) {
			if i == 0 && image.Pt(x, y).In(hole) {
				return
			}
			visit(x, y)
		})
	}
}

// markSetting is the setting whose look stands out best from the top coat, should
// the stack's curve be off by up to a factor of 1.6 either way. Without a stack it
// is the one with most dose.
func markSetting(m burn.Machine, stack *coat.Stack, settings []burn.Setting) burn.Setting {
	best := settings[len(settings)-1]
	if stack == nil {
		return best
	}
	most := -1.0
	for _, s := range settings {
		if d := StandsOut(m, *stack, s); d > most {
			best, most = s, d
		}
	}
	return best
}

// HardlySeen is the CIEDE2000 to the top coat under which a mark may not be found.
const HardlySeen = 10

// StandsOut is the least CIEDE2000 between the top coat and what a setting shows,
// over the doses the stack may really need.
func StandsOut(m burn.Machine, stack coat.Stack, s burn.Setting) float64 {
	model, err := stack.Compile(coat.Options{})
	if err != nil {
		return 0
	}
	dose := burn.Dose(m, s, stack.Curve.Passes())
	top := model.PureLook(0).Lab()
	least := math.Inf(1)
	for _, off := range []float64{1 / 1.6, 1 / 1.25, 1, 1.25, 1.6} {
		least = min(least, colour.DE2000(model.Look(dose*off).Lab(), top))
	}
	return least
}

// Cautions are what the chart's maker should know before burning it.
func (c Chart) Cautions() []string {
	var all []string
	if c.Stack != nil && c.Machine != nil && c.MarkSetting != nil {
		if StandsOut(*c.Machine, *c.Stack, *c.MarkSetting) < HardlySeen {
			all = append(all, "the marks may hardly show: give higher powers as well, or mark the four corners by hand when the photograph is read")
		}
	}
	if c.Kind == Solid && len(c.Swatches) < FewSwatches {
		all = append(all, "few swatches tell little: give more powers, two at least inside each change of colour")
	}
	for _, s := range c.Swatches {
		if a, b := s.Setting, c.Swatches[0].Setting; a.Speed != b.Speed || a.Pitch != b.Pitch {
			all = append(all, burn.EqualDoseCaution)
			break
		}
	}
	if len(c.Rasters) > 1 {
		all = append(all, "each raster has the chart's full size, blank edges and all: centre every one on the same spot, and do not let the sender trim them")
	}
	return all
}

// FewSwatches is the number of readings under which a curve is not worth fitting:
// each change of colour has a place and a width. Common practice, no source.
const FewSwatches = 5
