package widgets

import (
	"math"
	"strconv"

	"fyne.io/fyne/v2/lang"
)

// doseText writes a dose with its unit: to a tenth below ten J/cm2, whole above,
// which is finer than any curve is known.
func doseText(doseJCM2 float64) string {
	return lang.X("readout.dose", "{{.Dose}} J/cm²", map[string]any{"Dose": amount(doseJCM2)})
}

// depthText writes a depth or a thickness with its unit.
func depthText(depthUM float64) string {
	return lang.X("readout.depth", "{{.Depth}} µm", map[string]any{"Depth": amount(depthUM)})
}

// amount is a number to a tenth below ten and whole above; what is not a number
// is a dash.
func amount(v float64) string {
	switch {
	case math.IsNaN(v) || math.IsInf(v, 0):
		return "–"
	case math.Abs(v) < 9.95:
		return strconv.FormatFloat(v, 'f', 1, 64)
	}
	return strconv.FormatFloat(v, 'f', 0, 64)
}

// roundStep is the least of 1, 2, 5, 10, 20 .. and their tenths that is not below v.
func roundStep(v float64) float64 {
	return planTicks(1, v, v).step
}
