package widgets

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	house "undercoat/ui/theme"
)

const (
	coreCut     = 0.44 // the cut's share of the width
	notchShare  = 0.46 // the notch's share of the cut
	groundShare = 0.26 // the ground's share of the cut's height
	coreRows    = 4    // of readout below the cut
)

// coreScale lays depths over pixels: the surface at y0, the lowest coat's lower
// face at ground, where the ground begins, and the cut's end at y1.
type coreScale struct {
	y0, ground, y1 float32
	perUM          float32
}

func scaleOf(coats []Layer, y0, y1 float32) coreScale {
	total := 0.0
	for _, l := range coats {
		total += l.ThicknessUM
	}
	s := coreScale{y0: y0, ground: y0 + (y1-y0)*(1-groundShare), y1: y1}
	if total > 0 {
		s.perUM = (s.ground - y0) / float32(total)
	} else {
		s.ground = y0
	}
	return s
}

// at is the height of a depth; a depth far in the ground ends inside the cut.
func (s coreScale) at(depthUM float64) float32 {
	return min(s.y0+float32(depthUM)*s.perUM, s.y1-8)
}

func (c *Core) paint(b *brush, size fyne.Size) {
	if len(c.coats) == 0 {
		return
	}
	row := measure("Xg", b.size(theme.SizeNameCaptionText), fyne.TextStyle{}).Height + 3
	const airAbove = 10
	s := scaleOf(c.coats, airAbove, size.Height-coreRows*row-10)
	cut := b.snap(size.Width * coreCut)
	c.paintLayers(b, s, cut)
	if c.burned {
		c.paintNotch(b, s, cut)
	}
	c.paintNames(b, s, cut, size.Width)
	c.paintReading(b, s.y1+10, size.Width, row)
}

func (c *Core) paintLayers(b *brush, s coreScale, cut float32) {
	b.bar(0, 0, cut, s.y0, b.colour(house.Surround)) // the air above
	depth := 0.0
	for _, l := range c.coats {
		b.bar(0, s.y0+float32(depth)*s.perUM, cut, s.y0+float32(depth+l.ThicknessUM)*s.perUM, l.Colour)
		depth += l.ThicknessUM
	}
	b.bar(0, s.ground, cut, s.y1, c.ground.Colour)
	// Where two paints are alike a hair still parts them.
	depth = 0
	for _, l := range c.coats {
		depth += l.ThicknessUM
		y := s.y0 + float32(depth)*s.perUM
		b.bar(0, y, cut, y+b.hair(), b.colour(house.Fold))
	}
	rim := b.colour(theme.ColorNameInputBorder)
	b.bar(0, s.y0, b.hair(), s.y1, rim)
	b.bar(cut-b.hair(), s.y0, cut, s.y1, rim)
	b.bar(0, s.y0, cut, s.y0+b.hair(), rim)
	// The ground goes on: its lower edge is open.
	for _, l := range hatch(0, s.y1, cut, s.y1+6, 6) {
		b.line(l.x0, l.y0, l.x1, l.y1, 1, rim)
	}
}

// paintNotch cuts out what the burn takes away and lays the look on its floor.
func (c *Core) paintNotch(b *brush, s coreScale, cut float32) {
	x0, x1 := b.snap(cut*(1-notchShare)/2), b.snap(cut*(1+notchShare)/2)
	floor := b.snap(s.at(c.reading.DepthUM))
	air := b.colour(house.Surround)
	b.bar(x0, s.y0-1, x1, floor, air)
	rim := b.colour(theme.ColorNameInputBorder)
	if floor > s.y0+1 {
		b.bar(x0-b.hair(), s.y0, x0, floor, rim)
		b.bar(x1, s.y0, x1+b.hair(), floor, rim)
	}
	b.bar(x0, floor, x1, floor+4, c.reading.Look)
	b.bar(x0, floor, x1, floor+b.hair(), rim)
	b.bar(x0, floor+4, x1, floor+4+b.hair(), rim)

	// An arrow from the surface to the floor.
	ink, x := b.colour(theme.ColorNameForeground), b.snap((x0+x1)/2)
	if floor-s.y0 < 9 {
		return
	}
	b.bar(x, s.y0, x+b.hair(), floor-2, ink)
	b.line(x+0.5, floor-1, x-3, floor-5, 1, ink)
	b.line(x+0.5, floor-1, x+4, floor-5, 1, ink)
}

// coreLabel names a layer beside the cut.
type coreLabel struct {
	name, more string
	middle, y  float32
}

// paintNames writes each layer's name, its thickness and how much of the burned
// area shows it; labels of thin coats move apart, with a line to their coat.
func (c *Core) paintNames(b *brush, s coreScale, cut, width float32) {
	size := b.size(theme.SizeNameCaptionText)
	line := measure("Xg", size, fyne.TextStyle{}).Height
	var labels []coreLabel
	depth := 0.0
	for i, l := range c.coats {
		middle := s.y0 + float32(depth+l.ThicknessUM/2)*s.perUM
		labels = append(labels, coreLabel{l.Name, joined(depthText(l.ThicknessUM), c.share(i)), middle, 0})
		depth += l.ThicknessUM
	}
	labels = append(labels, coreLabel{c.ground.Name, joined(lang.X("core.ground", "ground"), c.share(len(c.coats))), (s.ground + s.y1) / 2, 0})
	tall := 2*line + 2
	apart(labels, tall, s.y1+6)

	x := cut + 18
	for _, l := range labels {
		leader := b.colour(theme.ColorNameInputBorder)
		b.line(cut+2, l.middle, cut+6, l.middle, 1, leader)
		b.line(cut+6, l.middle, cut+14, l.y+tall/2, 1, leader)
		b.text(elide(l.name, size, fyne.TextStyle{Bold: true}, width-x), x, l.y, size, fyne.TextStyle{Bold: true}, b.colour(theme.ColorNameForeground))
		b.text(elide(l.more, size, fyne.TextStyle{}, width-x), x, l.y+line, size, fyne.TextStyle{}, b.colour(house.Quiet))
	}
}

// share is the part of the burned area that shows a layer, in words; nothing
// where that is not known.
func (c *Core) share(i int) string {
	if !c.burned || i >= len(c.reading.Shares) {
		return ""
	}
	return fmt.Sprintf("%.0f %%", c.reading.Shares[i]*100)
}

func joined(a, b string) string {
	if b == "" {
		return a
	}
	return a + " · " + b
}

// apart centres labels on their middles and then pushes those down that would run
// into the one above, and all up that would leave the cut at its lower end.
func apart(labels []coreLabel, tall, end float32) {
	next := float32(0)
	for i := range labels {
		labels[i].y = max(labels[i].middle-tall/2, next)
		next = labels[i].y + tall
	}
	for i := len(labels) - 1; i >= 0; i-- {
		labels[i].y = min(labels[i].y, end-tall)
		end = labels[i].y
	}
}

// paintReading writes what the notch shows, in rows that keep their places.
func (c *Core) paintReading(b *brush, y, width, row float32) {
	size := b.size(theme.SizeNameCaptionText)
	plain, bold := fyne.TextStyle{}, fyne.TextStyle{Bold: true}
	quiet, ink := b.colour(house.Quiet), b.colour(theme.ColorNameForeground)
	if !c.burned {
		b.text(elide(lang.X("core.none", "point at the picture"), size, plain, width), 0, y, size, plain, quiet)
		return
	}
	b.text(elide(c.reading.Where, size, plain, width), 0, y, size, plain, quiet)
	rows := []struct{ name, value string }{
		{lang.X("core.shows", "shows"), c.reading.Shows},
		{lang.X("core.dose", "dose"), doseText(c.reading.DoseJCM2)},
		{lang.X("core.depth", "depth"), depthText(c.reading.DepthUM)},
	}
	left := float32(0)
	for _, r := range rows {
		left = max(left, measure(r.name, size, plain).Width+10)
	}
	for i, r := range rows {
		at := y + float32(i+1)*row
		b.text(r.name, 0, at, size, plain, quiet)
		x := left
		if i == 0 {
			side := row - 5
			b.plate(x, at+1, x+side, at+1+side, 2, c.reading.Look, b.colour(theme.ColorNameInputBorder), 1)
			x += side + 6
		}
		b.text(elide(r.value, size, bold, width-x), x, at, size, bold, ink)
	}
}
