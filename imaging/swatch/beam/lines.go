package beam

import (
	"fmt"
	"math"

	"undercoat/layout"
)

// Line is the width of a line burned at a level of light: power in percent or in
// watts, energy of a pulse, fluence: anything in proportion to it.
type Line struct {
	Level float64   // above 0
	Width layout.MM // of what is burned through, above 0
}

// LineFit is what the widths of lines tell.
type LineFit struct {
	Width     layout.MM // of the beam, D4sigma
	Threshold float64   // the level at which a line begins to show, in the lines' unit
	// WidthSD and ThresholdSD are their standard errors.
	WidthSD     layout.MM
	ThresholdSD float64
	// ResidualMM is the root mean square difference of the widths from the fit's.
	ResidualMM layout.MM
}

// WidthAt is how wide a line of a level burns: 0 up to the threshold.
func (f LineFit) WidthAt(level float64) layout.MM {
	if !(level > f.Threshold) {
		return 0
	}
	radius := float64(f.Width) / 2
	return layout.MM(radius * math.Sqrt(2*math.Log(level/f.Threshold)))
}

// FromLines fits beam width and threshold to three or more lines.
//
// A Gaussian beam of the 1/e2 radius w burns where it exceeds the threshold, so
// that the square of the width rises in a straight line with the logarithm of the
// level: D^2 = 2 w^2 ln(F/Fth). The same holds for the diameter of a spot.
// Source: J. M. Liu, "Simple technique for measurements of pulsed Gaussian-beam
// spot sizes", Optics Letters 7(5), 1982, 196-198.
func FromLines(lines []Line) (LineFit, error) {
	if len(lines) < 3 {
		return LineFit{}, fmt.Errorf("%d lines tell nothing for sure: measure 3 or more", len(lines))
	}
	n := float64(len(lines))
	var mx, my float64
	for i, l := range lines {
		if !(l.Level > 0 && l.Level < math.MaxFloat32) {
			return LineFit{}, fmt.Errorf("line %d has a level of %g: give one above 0", i+1, l.Level)
		}
		if !(l.Width > 0 && l.Width <= layout.MaxLength) {
			return LineFit{}, fmt.Errorf("line %d is %g mm wide: give above 0, and leave lines out that do not show", i+1, float64(l.Width))
		}
		mx, my = mx+math.Log(l.Level)/n, my+square(l)/n
	}
	var xx, xy float64
	for _, l := range lines {
		x := math.Log(l.Level) - mx
		xx, xy = xx+x*x, xy+x*(square(l)-my)
	}
	const same = 1e-6
	if !(xx > same) {
		return LineFit{}, fmt.Errorf("all %d lines have the same level: measure lines burned at different powers", len(lines))
	}
	slope := xy / xx
	if !(slope > 0) {
		return LineFit{}, fmt.Errorf("the lines do not grow with power: measure the width of what is burned through, at the same coat on every line")
	}
	return describe(lines, slope, mx, my, xx), nil
}

func square(l Line) float64 { return float64(l.Width * l.Width) }

// describe turns the straight line into beam and threshold, with their errors by
// first order.
func describe(lines []Line, slope, mx, my, xx float64) LineFit {
	lnThreshold := mx - my/slope
	f := LineFit{Width: layout.MM(2 * math.Sqrt(slope/2)), Threshold: math.Exp(lnThreshold)}
	sse, widths := 0.0, 0.0
	for _, l := range lines {
		r := square(l) - slope*(math.Log(l.Level)-lnThreshold)
		sse += r * r
		d := float64(l.Width - f.WidthAt(l.Level))
		widths += d * d
	}
	n := float64(len(lines))
	variance := sse / (n - 2)
	slopeSD := math.Sqrt(variance / xx)
	f.WidthSD = f.Width * layout.MM(slopeSD/slope/2)
	meanSD, lever := math.Sqrt(variance/n)/slope, my/(slope*slope)*slopeSD
	f.ThresholdSD = f.Threshold * math.Hypot(meanSD, lever)
	f.ResidualMM = layout.MM(math.Sqrt(widths / n))
	return f
}
