package widgets

import (
	"math"
	"strconv"
)

// tickPlan says where a scale is marked: a label every step units, and so many
// parts between two labels.
type tickPlan struct {
	step     float64
	parts    int
	decimals int
}

// tickSteps are the steps between labels within one decade, and into how many
// parts each may be cut so that the parts are round as well, finest first.
var tickSteps = []struct {
	step  float64
	parts []int
}{
	{1, []int{10, 5, 2, 1}},
	{2, []int{10, 4, 2, 1}},
	{5, []int{10, 5, 1}},
}

// planTicks picks the closest labels that stay labelGap pixels apart and the
// closest marks that stay markGap apart, at a scale of so many pixels to a unit.
func planTicks(pixelsPerUnit, labelGap, markGap float64) tickPlan {
	if !(pixelsPerUnit > 0) || math.IsInf(pixelsPerUnit, 0) {
		return tickPlan{step: 1, parts: 1}
	}
	least := labelGap / pixelsPerUnit
	decade := int(math.Floor(math.Log10(least)))
	for {
		for _, s := range tickSteps {
			step := s.step * math.Pow10(decade)
			if step < least*(1-1e-9) {
				continue
			}
			plan := tickPlan{step: step, parts: 1, decimals: max(0, -decade)}
			for _, parts := range s.parts {
				if step*pixelsPerUnit/float64(parts) >= markGap {
					plan.parts = parts
					break
				}
			}
			return plan
		}
		decade++
	}
}

// each calls mark for every tick in from..to, in order; major ticks carry their
// label. Values are counted in whole parts, so that zero is exactly zero.
func (p tickPlan) each(from, to float64, mark func(value float64, major bool, label string)) {
	part := p.step / float64(p.parts)
	first, last := int(math.Ceil(from/part-1e-9)), int(math.Floor(to/part+1e-9))
	for i := first; i <= last; i++ {
		major := i%p.parts == 0
		value := float64(i) * part
		label := ""
		if major {
			label = p.label(value)
		}
		mark(value, major, label)
	}
}

// label writes a value with as many decimals as the step has, and with the
// true minus sign, which is as wide as a figure.
func (p tickPlan) label(value float64) string {
	text := strconv.FormatFloat(math.Abs(value), 'f', p.decimals, 64)
	if value < 0 {
		return "\u2212" + text
	}
	return text
}
