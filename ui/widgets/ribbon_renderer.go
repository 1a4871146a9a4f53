package widgets

import (
	"image"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	house "undercoat/ui/theme"
)

// The rows of the ribbon from the top: the readout, the coats' names, the looks,
// the histogram, the axis. The looks and the histogram share what is left.
const (
	ribbonSide  = 14 // pixels left free on either side, for half a label
	ribbonHead  = 20
	ribbonNames = 22
	ribbonAxis  = 20
	looksShare  = 0.58
)

// doseAxis lays doses from none to full over a stretch of pixels.
type doseAxis struct {
	x0, x1   float32
	fullJCM2 float64
}

func (r *DepthRibbon) axis() doseAxis {
	return doseAxis{ribbonSide, max(ribbonSide, r.Size().Width-ribbonSide), r.fullJCM2}
}

func (a doseAxis) at(doseJCM2 float64) float32 {
	if !(a.fullJCM2 > 0) {
		return a.x0
	}
	return a.x0 + (a.x1-a.x0)*float32(doseJCM2/a.fullJCM2)
}

func (a doseAxis) value(x float32) float64 {
	if a.x1 <= a.x0 {
		return 0
	}
	return a.fullJCM2 * float64((x-a.x0)/(a.x1-a.x0))
}

// shownDose is the setting, or the end of the ribbon that it lies beyond.
func (r *DepthRibbon) shownDose() float64 { return min(max(r.doseJCM2, 0), r.fullJCM2) }

func (r *DepthRibbon) markerAt(x float32) bool {
	const reach = 9
	at := r.axis().at(r.shownDose())
	return r.fullJCM2 > 0 && x >= at-reach && x <= at+reach
}

type ribbonRenderer struct {
	*drawn
	ribbon *DepthRibbon
	looks  *canvas.Image
}

func newRibbonRenderer(w *DepthRibbon) *ribbonRenderer {
	r := &ribbonRenderer{
		ribbon: w,
		looks:  &canvas.Image{FillMode: canvas.ImageFillStretch, ScaleMode: canvas.ImageScaleFastest},
	}
	r.drawn = newDrawn(w, r.minSize, r.paint)
	return r
}

func (r *ribbonRenderer) minSize() fyne.Size {
	return fyne.NewSize(360, ribbonHead+ribbonNames+66+ribbonAxis)
}

func (r *ribbonRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.looks, r.brush.layer}
}

// bands are the rows of a ribbon of some height: from top to looks the names,
// to bars the looks, to axis the histogram.
type bands struct{ names, looks, bars, axis float32 }

func bandsOf(height float32) bands {
	room := max(0, height-ribbonHead-ribbonNames-ribbonAxis)
	looks := float32(ribbonHead + ribbonNames)
	split := looks + float32(math.Round(float64(room)*looksShare))
	return bands{names: ribbonHead, looks: looks, bars: split, axis: looks + room}
}

func (r *ribbonRenderer) paint(b *brush, size fyne.Size) {
	w, rows, a := r.ribbon, bandsOf(size.Height), r.ribbon.axis()
	r.paintHead(b, size)
	if !(w.fullJCM2 > 0) || a.x1 <= a.x0 {
		r.looks.Hide()
		return
	}
	r.placeLooks(rows, a)
	b.bar(a.x0, rows.bars, a.x1, rows.axis, b.colour(theme.ColorNameHeaderBackground))
	r.paintHistogram(b, rows, a)
	r.paintSteps(b, rows, a)
	r.paintScorch(b, rows, a)
	b.frame(a.x0-1, rows.looks-1, a.x1+1, rows.axis+1, 1, b.colour(theme.ColorNameSeparator))
	r.paintBreaks(b, rows, a)
	r.paintAxis(b, rows, a)
	if w.over && !w.dragging {
		x := a.at(w.pointerJCM2)
		b.pair(x, rows.looks, x, rows.axis)
	}
	r.paintMarker(b, rows, a)
	if w.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

func (r *ribbonRenderer) placeLooks(rows bands, a doseAxis) {
	if r.ribbon.looks == nil {
		r.looks.Hide()
		return
	}
	if r.looks.Image != image.Image(r.ribbon.looks) {
		r.looks.Image = r.ribbon.looks
		r.looks.Refresh()
	}
	place(r.looks, a.x0, rows.looks, a.x1-a.x0, rows.bars-rows.looks)
	r.looks.Show()
}

func (r *ribbonRenderer) paintHead(b *brush, size fyne.Size) {
	w, text := r.ribbon, b.size(theme.SizeNameCaptionText)
	right := size.Width - ribbonSide
	if w.uncalibrated {
		notice := lang.X("proof.uncalibrated", "uncalibrated, colours and depth are a guess")
		m := measure(notice, text, fyne.TextStyle{Bold: true})
		right -= m.Width
		b.text(notice, right, (ribbonHead-m.Height)/2, text, fyne.TextStyle{Bold: true}, b.colour(house.Caution))
		const mark = 14
		right -= mark + 4
		b.icon(cautionMark(), right, (ribbonHead-mark)/2, mark)
		right -= 12
	}
	if !(w.fullJCM2 > 0) {
		return
	}
	label, dose := lang.X("ribbon.set", "set to"), w.doseJCM2
	if w.over && !w.dragging {
		label, dose = lang.X("ribbon.here", "at pointer"), w.pointerJCM2
	}
	// The figures keep their places, whichever of the two labels stands before them.
	labelWidth := max(measure(lang.X("ribbon.set", "set to"), text, fyne.TextStyle{}).Width,
		measure(lang.X("ribbon.here", "at pointer"), text, fyne.TextStyle{}).Width)
	doseWidth := measure(doseText(888), text, fyne.TextStyle{Bold: true}).Width
	y := (ribbonHead - measure(label, text, fyne.TextStyle{}).Height) / 2
	x := float32(ribbonSide)
	b.text(label, x, y, text, fyne.TextStyle{}, b.colour(house.Quiet))
	x += labelWidth + 6
	b.text(doseText(dose), x, y, text, fyne.TextStyle{Bold: true}, b.colour(theme.ColorNameForeground))
	x += doseWidth + 10
	if w.Describe != nil {
		what := elide(w.Describe(dose), text, fyne.TextStyle{}, right-x)
		b.text(what, x, y, text, fyne.TextStyle{}, b.colour(theme.ColorNameForeground))
	}
}

func (r *ribbonRenderer) paintHistogram(b *brush, rows bands, a doseAxis) {
	shares := r.ribbon.histogram
	if len(shares) == 0 {
		return
	}
	// What stays untouched may be most of the panel: it does not set the scale
	// unless there is nothing else.
	top := 0.0
	for _, s := range shares[1:] {
		top = max(top, s)
	}
	if top == 0 {
		top = shares[0]
	}
	b.shares(a.x0, rows.bars+2, a.x1, rows.axis, shares, top, b.colour(house.Bar))
}
