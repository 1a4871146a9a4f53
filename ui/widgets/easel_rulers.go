package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

const (
	rulerText  = 10 // pixels
	levelGap   = 64 // between the labels of the top ruler
	uprightGap = 44 // between those of the left one
	markGap    = 5
)

// inUnit is a length as a number of its unit, and back.
func inUnit(l layout.MM, u layout.Unit) float64 { return float64(l / unitLength(u)) }

func unitLength(u layout.Unit) layout.MM {
	switch u {
	case layout.Centimetre:
		return 10
	case layout.Inches:
		return layout.Inch
	}
	return 1
}

// drawRulers draws both rulers, with zero at the panel's centre, the extent of
// the picture area as a bar, and a mark that follows the pointer.
func (r *easelRenderer) drawRulers() {
	e, b := r.easel, r.rulers
	w, h := r.size.Width, r.size.Height
	back, hairline := b.colour(house.Ruler), b.colour(theme.ColorNameSeparator)
	b.bar(0, 0, w, rulerTop, back)
	b.bar(0, rulerTop, rulerLeft, h, back)
	if e.view.scale > 0 {
		r.drawTopRuler()
		r.drawLeftRuler()
		r.drawExtent()
	}
	b.bar(0, 0, rulerLeft, rulerTop, back)
	b.bar(0, rulerTop-b.hair(), w, rulerTop, hairline)
	b.bar(rulerLeft-b.hair(), 0, rulerLeft, h, hairline)
	name := unitName(e.unit)
	m := measure(name, rulerText, fyne.TextStyle{})
	b.text(name, (rulerLeft-m.Width)/2, (rulerTop-m.Height)/2, rulerText, fyne.TextStyle{}, b.colour(house.RulerInk))
	if e.over && e.view.scale > 0 {
		r.drawPointerMarks()
	}
}

func (r *easelRenderer) drawTopRuler() {
	e, b := r.easel, r.rulers
	unit := unitLength(e.unit)
	ink, quiet := b.colour(house.RulerInk), b.colour(theme.ColorNameInputBorder)
	perUnit := e.view.scale * float64(unit)
	from, to := e.view.point(fyne.NewPos(-levelGap, 0)), e.view.point(fyne.NewPos(e.view.size.Width, 0))
	planTicks(perUnit, levelGap, markGap).each(inUnit(from.X, e.unit), inUnit(to.X, e.unit), func(value float64, major bool, label string) {
		x := rulerLeft + e.view.atX(layout.MM(value)*unit)
		if major {
			b.bar(x, 2, x+b.hair(), rulerTop, ink)
			if x+3 >= rulerLeft { // a number half under the corner reads as another
				b.text(label, x+3, 0, rulerText, fyne.TextStyle{}, ink)
			}
			return
		}
		b.bar(x, rulerTop-5, x+b.hair(), rulerTop, quiet)
	})
}

func (r *easelRenderer) drawLeftRuler() {
	e, b := r.easel, r.rulers
	unit := unitLength(e.unit)
	ink, quiet := b.colour(house.RulerInk), b.colour(theme.ColorNameInputBorder)
	perUnit := e.view.scale * float64(unit)
	from, to := e.view.point(fyne.NewPos(0, e.view.size.Height+uprightGap)), e.view.point(fyne.NewPos(0, 0))
	planTicks(perUnit, uprightGap, markGap).each(inUnit(from.Y, e.unit), inUnit(to.Y, e.unit), func(value float64, major bool, label string) {
		y := rulerTop + e.view.atY(layout.MM(value)*unit)
		if major {
			m := measure(label, rulerText, fyne.TextStyle{})
			b.bar(rulerLeft-8, y, rulerLeft, y+b.hair(), ink)
			if y-m.Height/2 >= rulerTop {
				b.text(label, max(1, rulerLeft-11-m.Width), y-m.Height/2, rulerText, fyne.TextStyle{}, ink)
			}
			return
		}
		b.bar(rulerLeft-5, y, rulerLeft, y+b.hair(), quiet)
	})
}

// drawExtent marks on both rulers how far the picture area reaches.
func (r *easelRenderer) drawExtent() {
	e, b := r.easel, r.rulers
	x0, y0, x1, y1 := e.view.box(e.area())
	ink := b.colour(theme.ColorNamePrimary)
	b.bar(rulerLeft+max(x0, 0), rulerTop-3, rulerLeft+min(x1, e.view.size.Width), rulerTop-1, ink)
	b.bar(rulerLeft-3, rulerTop+max(y0, 0), rulerLeft-1, rulerTop+min(y1, e.view.size.Height), ink)
}

func (r *easelRenderer) drawPointerMarks() {
	e, b := r.easel, r.rulers
	ink := b.colour(theme.ColorNameForeground)
	if x := e.pointer.X; x >= 0 && x <= e.view.size.Width {
		b.bar(rulerLeft+x, 0, rulerLeft+x+b.hair(), rulerTop, ink)
	}
	if y := e.pointer.Y; y >= 0 && y <= e.view.size.Height {
		b.bar(0, rulerTop+y, rulerLeft, rulerTop+y+b.hair(), ink)
	}
}

func unitName(u layout.Unit) string {
	switch u {
	case layout.Centimetre:
		return lang.X("unit.cm", "cm")
	case layout.Inches:
		return lang.X("unit.in", "in")
	}
	return lang.X("unit.mm", "mm")
}
