package photo

import (
	"math"
	"slices"

	"undercoat/layout"
)

// softness is the standard deviation in mm of the photograph's blur, from how the
// upper and lower edges of the marks pass from bare to burned; a pixel where they do
// not tell.
func (r reader) softness(channel int) layout.MM {
	pixel := 1 / r.view.perMM(layout.Point{})
	if r.chart.MarkSide == 0 {
		return layout.MM(pixel)
	}
	var widths []float64
	for _, a := range r.chart.MarkAreas() {
		for _, way := range []layout.MM{1, -1} {
			if w, ok := r.markEdge(a, way, channel); ok {
				widths = append(widths, w)
			}
		}
	}
	if len(widths) == 0 {
		return layout.MM(pixel)
	}
	return layout.MM(max(median(widths)/1.349, pixel/2))
}

// markEdge is how wide the upper (way 1) or lower (-1) edge of a mark is, in mm from
// a quarter to three quarters of the way.
func (r reader) markEdge(a layout.Area, way layout.MM, channel int) (float64, bool) {
	reach := 0.12 * float64(a.Size.H) // short of the hole
	line := layout.Area{
		Centre: layout.Point{X: a.Centre.X, Y: a.Centre.Y + way*a.Size.H/2},
		Size:   layout.Size{W: a.Size.W * 0.6, H: layout.MM(reach)},
	}
	p := r.across(line, reach)
	if p.outside {
		return 0, false
	}
	var widths []float64
	for _, s := range p.segments {
		profile := smoothed(s[channel])
		if way > 0 {
			slices.Reverse(profile)
		}
		n := len(profile)
		rim := rimOf(n)
		bare, burned := median(profile[:rim]), median(profile[n-rim:])
		if math.Abs(burned-bare) < 0.1*max(bare, burned) {
			continue
		}
		for i, v := range profile {
			profile[i] = (v - bare) / (burned - bare)
		}
		low, okLow := firstRise(profile, 0.25)
		high, okHigh := firstRise(profile, 0.75)
		if okLow && okHigh && high > low {
			widths = append(widths, (high-low)*p.step)
		}
	}
	if len(widths) < lineSegments/2 {
		return 0, false
	}
	return median(widths), true
}
