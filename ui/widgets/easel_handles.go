package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

// drawHandles draws what lies over the picture: the border's lines and handles,
// the centre cross, the split line and a caution.
func (r *easelRenderer) drawHandles() {
	e, b := r.easel, r.handles
	if e.mode == Arrange {
		r.drawBorder()
		r.drawCross()
		r.drawLines()
	}
	if e.mode == Level && e.grip.held {
		r.drawLevel()
	}
	if e.other.img != nil {
		r.drawSplit()
	}
	if p := e.selected; p.isEdge() && (e.focused || e.grip.held) {
		x, y := r.handleAt(p)
		r.drawChip(e.unit.Format(*side(&e.border, p)), x, y, p)
	} else if p == pictureArea && e.focused && !e.grip.held {
		x0, y0, x1, y1 := e.view.box(e.area())
		b.frame(x0+3, y0+3, x1-3, y1-3, 2, b.colour(theme.ColorNamePrimary))
		b.frame(x0+5, y0+5, x1-5, y1-5, b.hair(), b.colour(house.Line))
	}
	if e.pin != nil {
		r.drawPin(*e.pin)
	}
	if e.caution != "" {
		r.drawCaution()
	}
}

// Where the caution lies, from the upper edge.
const (
	cautionTop  = 3
	cautionTall = 21
)

// drawCaution writes the caution in the middle of the upper edge, where a panel
// that is shown whole leaves it free.
func (r *easelRenderer) drawCaution() {
	b, room := r.handles, r.easel.view.size.Width
	const mark, pad, gap, top, tall = 14, 8, 5, cautionTop, cautionTall
	size := b.size(theme.SizeNameCaptionText)
	style := fyne.TextStyle{Bold: true}
	text := elide(r.easel.caution, size, style, room-2*pad-mark-gap)
	m := measure(text, size, style)
	w := mark + gap + m.Width + 2*pad
	x := max(0, b.snap((room-w)/2))
	b.plate(x, top, x+w, top+tall, 3, b.colour(theme.ColorNameOverlayBackground), b.colour(house.Caution), 1)
	b.icon(cautionMark(), x+pad, top+(tall-mark)/2, mark)
	b.text(text, x+pad+mark+gap, top+(tall-m.Height)/2, size, style, b.colour(house.Caution))
}

// drawBorder draws each line as a bright hair between two dark ones, and the
// handles in the middle of what can be seen of it.
func (r *easelRenderer) drawBorder() {
	e, b := r.easel, r.handles
	x0, y0, x1, y1 := e.view.box(e.area())
	b.pair(x0, y0, x1, y0)
	b.pair(x0, y1, x1, y1)
	b.pair(x0, y0, x0, y1)
	b.pair(x1, y0, x1, y1)
	for _, p := range []part{leftEdge, rightEdge, topEdge, bottomEdge} {
		x, y := r.handleAt(p)
		r.drawHandle(x, y, p)
	}
}

// pair draws a level or upright line so that it stands out on any paint.
func (b *brush) pair(x0, y0, x1, y1 float32) {
	hair := b.hair()
	x0, y0, x1, y1 = b.snap(x0), b.snap(y0), b.snap(x1), b.snap(y1)
	bright, shade := b.colour(house.Line), b.colour(house.LineShade)
	if y0 == y1 {
		b.bar(x0, y0-hair, x1, y0, shade)
		b.bar(x0, y0, x1, y0+hair, bright)
		b.bar(x0, y0+hair, x1, y0+2*hair, shade)
		return
	}
	b.bar(x0-hair, y0, x0, y1, shade)
	b.bar(x0, y0, x0+hair, y1, bright)
	b.bar(x0+hair, y0, x0+2*hair, y1, shade)
}

// handleAt is the middle of what can be seen of a line.
func (r *easelRenderer) handleAt(p part) (x, y float32) {
	e := r.easel
	x0, y0, x1, y1 := e.view.box(e.area())
	midX := (max(x0, 0) + min(x1, e.view.size.Width)) / 2
	midY := (max(y0, 0) + min(y1, e.view.size.Height)) / 2
	switch p {
	case leftEdge:
		return x0, midY
	case rightEdge:
		return x1, midY
	case topEdge:
		return midX, y0
	case bottomEdge:
		return midX, y1
	}
	return r.handles.snap(e.splitX()), midY
}

func (r *easelRenderer) drawHandle(x, y float32, p part) {
	e, b := r.easel, r.handles
	w, h := float32(handleLong)/2, float32(handleShort)/2
	if p.upright() {
		w, h = h, w
	}
	fill, rim := b.colour(house.Line), b.colour(house.LineShade)
	if p == e.selected || p == e.grip.part && e.grip.held {
		fill, rim = b.colour(theme.ColorNamePrimary), b.colour(theme.ColorNameForegroundOnPrimary)
	} else if p == e.hovered && !e.grip.held {
		w, h = w+1, h+1
	}
	b.plate(x-w, y-h, x+w+1, y+h+1, handleShort/2, fill, rim, 1.5)
}

// drawPin rings a point, so that it can be told from the cross at the centre.
func (r *easelRenderer) drawPin(p layout.Point) {
	const ring, arm = 7, 4
	b := r.handles
	x, y := r.easel.view.at(p)
	b.plate(x-ring-1, y-ring-1, x+ring+1, y+ring+1, ring+1, color.Transparent, b.colour(house.LineShade), 3)
	b.plate(x-ring, y-ring, x+ring, y+ring, ring, color.Transparent, b.colour(house.Line), 1.5)
	for _, side := range []float32{-1, 1} {
		b.line(x+side*ring, y, x+side*(ring+arm), y, 1.5, b.colour(house.Line))
		b.line(x, y+side*ring, x, y+side*(ring+arm), 1.5, b.colour(house.Line))
	}
}

func (r *easelRenderer) drawCross() {
	const arm = 9
	x, y := r.easel.view.at(layout.Point{})
	r.handles.pair(x-arm, y, x+arm+1, y)
	r.handles.pair(x, y-arm, x, y+arm+1)
}

// drawChip writes a length beside a handle, on the side of the panel's middle.
func (r *easelRenderer) drawChip(text string, x, y float32, p part) {
	b := r.handles
	size := b.size(theme.SizeNameCaptionText)
	m := measure(text, size, fyne.TextStyle{})
	const padX, padY, gap = 6, 2, 10
	w, h := m.Width+2*padX, m.Height+2*padY
	switch p {
	case leftEdge:
		x, y = x+gap, y-h/2
	case rightEdge:
		x, y = x-gap-w, y-h/2
	case topEdge:
		x, y = x-w/2, y+gap
	case bottomEdge:
		x, y = x-w/2, y-gap-h
	}
	b.chip(text, x, y, w, h, size)
}

// drawSplit draws the line between two compared pictures and their names.
func (r *easelRenderer) drawSplit() {
	e, b := r.easel, r.handles
	x0, y0, x1, y1 := e.view.box(e.area())
	x, y := r.handleAt(splitLine)
	b.pair(x, max(y0, 0), x, min(y1, e.view.size.Height))
	fill, rim, ink := b.colour(house.Line), b.colour(house.LineShade), b.colour(house.LineShade)
	if e.selected == splitLine && e.focused {
		fill, rim, ink = b.colour(theme.ColorNamePrimary), b.colour(theme.ColorNameForegroundOnPrimary), b.colour(theme.ColorNameForegroundOnPrimary)
	}
	b.plate(x-8, y-8, x+9, y+9, 8.5, fill, rim, 1.5)
	b.line(x-1.5, y-4, x-5.5, y+0.5, 1.5, ink)
	b.line(x-5.5, y+0.5, x-1.5, y+5, 1.5, ink)
	b.line(x+2.5, y-4, x+6.5, y+0.5, 1.5, ink)
	b.line(x+6.5, y+0.5, x+2.5, y+5, 1.5, ink)

	size := b.size(theme.SizeNameCaptionText)
	const padX, padY, gap = 6, 2, 8
	top := max(y0, 0) + gap
	if e.caution != "" {
		top = max(top, cautionTop+cautionTall+gap)
	}
	for i, name := range e.names {
		m := measure(name, size, fyne.TextStyle{})
		w, h := m.Width+2*padX, m.Height+2*padY
		at := x - gap - w
		room := x - max(x0, 0)
		if i == 1 {
			at, room = x+gap, min(x1, e.view.size.Width)-x
		}
		if name != "" && w+2*gap <= room {
			b.chip(name, at, top, w, h, size)
		}
	}
}
