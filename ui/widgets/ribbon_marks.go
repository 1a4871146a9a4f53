package widgets

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	house "undercoat/ui/theme"
)

// hatchLine is one stroke of a hatching.
type hatchLine struct{ x0, y0, x1, y1 float32 }

// hatch fills a box with strokes that rise to the right, gap pixels apart
// along its lower edge.
func hatch(x0, y0, x1, y1, gap float32) []hatchLine {
	var lines []hatchLine
	tall := y1 - y0
	if x1 <= x0 || tall <= 0 || gap <= 0 {
		return nil
	}
	for foot := x0 - tall + gap; foot < x1; foot += gap {
		l := hatchLine{foot, y1, foot + tall, y0}
		if l.x0 < x0 {
			l.x0, l.y0 = x0, y1-(x0-foot)
		}
		if l.x1 > x1 {
			l.x1, l.y1 = x1, y1-(x1-foot)
		}
		lines = append(lines, l)
	}
	return lines
}

func (r *ribbonRenderer) paintScorch(b *brush, rows bands, a doseAxis) {
	dose := r.ribbon.scorchJCM2
	if !(dose > 0) || dose >= a.fullJCM2 {
		return
	}
	x := b.snap(a.at(dose))
	for _, l := range hatch(x, rows.looks, a.x1, rows.axis, 9) {
		b.line(l.x0+1, l.y0, l.x1+1, l.y1, 1, b.colour(house.LineShade))
		b.line(l.x0, l.y0, l.x1, l.y1, 1, b.colour(house.Line))
	}
	b.pair(x, rows.looks, x, rows.axis)
}

// paintBreaks marks where each coat gives way, how far that is uncertain, and
// from where the ground scorches. Names that would run into each other are cut.
func (r *ribbonRenderer) paintBreaks(b *brush, rows bands, a doseAxis) {
	size := b.size(theme.SizeNameCaptionText)
	ink := b.colour(theme.ColorNameForeground)
	var labels []ribbonLabel
	for _, t := range r.ribbon.breaks {
		if !(t.DoseJCM2 > 0) || t.DoseJCM2 > a.fullJCM2 {
			continue
		}
		x := b.snap(a.at(t.DoseJCM2))
		b.bar(x, rows.looks-7, x+b.hair(), rows.looks, ink)
		b.pair(x, rows.looks, x, rows.looks+8)
		b.pair(x, rows.bars-8, x, rows.bars)
		if t.HighJCM2 > t.LowJCM2 {
			r.paintBand(b, rows, max(a.x0, a.at(t.LowJCM2)), min(a.x1, a.at(t.HighJCM2)))
		}
		text := lang.X("ribbon.through", "through {{.Coat}}", map[string]any{"Coat": t.Coat})
		labels = append(labels, ribbonLabel{text: text, at: x})
	}
	if s := r.ribbon.scorchJCM2; s > 0 && s < a.fullJCM2 {
		labels = append(labels, ribbonLabel{text: lang.X("ribbon.scorch", "ground scorches"), at: a.at(s), after: true})
	}
	for _, l := range laidOut(labels, a, func(s string) float32 { return measure(s, size, fyne.TextStyle{}).Width }) {
		text := elide(l.text, size, fyne.TextStyle{}, l.room)
		b.text(text, l.x, rows.names-1, size, fyne.TextStyle{}, ink)
	}
}

// paintBand draws how far a break-through may lie to either side.
func (r *ribbonRenderer) paintBand(b *brush, rows bands, x0, x1 float32) {
	ink := b.colour(theme.ColorNameForeground)
	y := rows.looks - 4
	b.bar(x0, y, x1, y+b.hair(), ink)
	b.bar(x0, y-2, x0+b.hair(), y+3, ink)
	b.bar(x1-b.hair(), y-2, x1, y+3, ink)
}

// ribbonLabel is a name above the ribbon: about a place, or after it.
type ribbonLabel struct {
	text  string
	at    float32
	after bool
	x     float32 // where it starts
	room  float32 // how wide it may be
}

// laidOut gives labels, which come in order of their places, room beside each
// other.
func laidOut(labels []ribbonLabel, a doseAxis, width func(string) float32) []ribbonLabel {
	const gap = 10
	left := a.x0
	for i := range labels {
		l := &labels[i]
		w := width(l.text)
		l.x = l.at - w/2
		if l.after {
			l.x = l.at
		}
		l.x = max(min(l.x, a.x1-w), left)
		end := a.x1
		if i+1 < len(labels) {
			next := labels[i+1]
			start := next.at
			if !next.after {
				start -= width(next.text) / 2
			}
			// Half way to the next place is this label's at the least.
			end = max(start-gap, (l.at+next.at)/2-gap/2)
		}
		l.room = max(0, end-l.x)
		left = l.x + min(w, l.room) + gap
	}
	return labels
}

// paintSteps marks the dose of each step over the histogram, with its number. A number
// that would run into the one before is left out.
func (r *ribbonRenderer) paintSteps(b *brush, rows bands, a doseAxis) {
	size := b.size(theme.SizeNameCaptionText)
	style := fyne.TextStyle{Bold: true}
	free := a.x0
	for i, dose := range r.ribbon.steps {
		if !(dose > 0) || dose > a.fullJCM2 {
			continue
		}
		x := b.snap(a.at(dose))
		b.pair(x, rows.bars, x, rows.axis)
		text := lang.X("ribbon.step", "step {{.Number}}", map[string]any{"Number": i + 1})
		w := measure(text, size, style).Width
		at := x + 4
		if at+w > a.x1 {
			at = x - 4 - w
		}
		if at >= free {
			b.bar(at-2, rows.bars, at+w+2, rows.bars+measure(text, size, style).Height, b.colour(theme.ColorNameHeaderBackground))
			b.text(text, at, rows.bars, size, style, b.colour(theme.ColorNameForeground))
			free = at + w + 6
		}
	}
}

func (r *ribbonRenderer) paintAxis(b *brush, rows bands, a doseAxis) {
	size := b.size(theme.SizeNameCaptionText)
	ink := b.colour(house.Quiet)
	unit := lang.X("ribbon.unit", "J/cm²")
	m := measure(unit, size, fyne.TextStyle{})
	y := rows.axis + (ribbonAxis-m.Height)/2 + 1
	end := a.x1 - m.Width
	b.text(unit, end, y, size, fyne.TextStyle{}, ink)
	if a.x1-a.x0 < 1 {
		return
	}
	planTicks(float64(a.x1-a.x0)/a.fullJCM2, 56, 7).each(0, a.fullJCM2, func(value float64, major bool, label string) {
		x := a.at(value)
		if !major {
			b.bar(x, rows.axis+1, x+b.hair(), rows.axis+3, ink)
			return
		}
		b.bar(x, rows.axis+1, x+b.hair(), rows.axis+5, ink)
		if w := measure(label, size, fyne.TextStyle{}).Width; x+w/2 < end-8 {
			b.text(label, x-w/2, y, size, fyne.TextStyle{}, ink)
		}
	})
}

// paintMarker draws the setting: a line through the ribbon and, on the axis, a
// flag with its dose to take hold of.
func (r *ribbonRenderer) paintMarker(b *brush, rows bands, a doseAxis) {
	w := r.ribbon
	size := b.size(theme.SizeNameCaptionText)
	style := fyne.TextStyle{Bold: true}
	text := amount(w.doseJCM2)
	if w.doseJCM2 > w.fullJCM2 {
		text += " ›"
	}
	m := measure(text, size, style)
	x := b.snap(a.at(w.shownDose()))
	b.pair(x, rows.looks-2, x, rows.axis+2)
	half := max(15, m.Width/2+6)
	flag := min(max(x, half+1), w.Size().Width-half-1)
	grow := float32(0)
	if w.onMarker || w.dragging {
		grow = 1
	}
	fill, rim := b.colour(theme.ColorNamePrimary), b.colour(theme.ColorNameForegroundOnPrimary)
	b.plate(flag-half-grow, rows.axis+2-grow, flag+half+grow, rows.axis+ribbonAxis-1+grow, 4, fill, rim, 1)
	b.text(text, flag-m.Width/2, rows.axis+2+float32(math.Round(float64(ribbonAxis-3-m.Height)/2)), size, style, rim)
}
