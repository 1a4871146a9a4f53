package sheet

import (
	"fmt"
	"strings"

	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/layout"
)

// drawing is the panel to scale in a box of the page.
type drawing struct {
	*paper
	note   export.Note
	x, y   float64 // of the panel's upper left corner
	mm     float64 // of the page for one of the panel
	pw, ph float64 // the panel on the page
}

// What is kept free round the panel for dimensions, in mm of the page.
const (
	dimensionRoom = 9.0
	cornerRoom    = 22.0 // where corners are named beside a narrow panel
	narrow        = 50.0 // below this the corners' names do not fit inside
)

// drawPanel draws the panel with its dimensions, the raster on it, and the centre that all
// is measured from.
func (p *paper) drawPanel(n export.Note, x, y, w, h float64) {
	d := drawing{paper: p, note: n}
	pw, ph := float64(n.Panel.W), float64(n.Panel.H)
	side := 0.0
	d.mm = min((w-dimensionRoom)/pw, (h-dimensionRoom)/ph)
	if float64(n.Size.W)*d.mm < narrow {
		side = cornerRoom
		d.mm = min((w-dimensionRoom-2*side)/pw, (h-dimensionRoom)/ph)
	}
	d.pw, d.ph = pw*d.mm, ph*d.mm
	d.x = x + dimensionRoom + (w-dimensionRoom-d.pw)/2
	if side > 0 {
		d.x = max(d.x, x+dimensionRoom+side)
	}
	d.y = y + dimensionRoom + (h-dimensionRoom-d.ph)/2
	p.box(d.x, d.y, d.pw, d.ph, white, 0.35, ink)
	c := n.Corners
	ux, uy := d.on(c[0])
	lx, ly := d.on(c[2])
	p.box(ux, uy, lx-ux, ly-uy, pale, 0.2, grey)
	d.sections()
	d.dimensions(side)
	d.borders(ux, uy, lx, ly)
	d.centre(ux, uy, lx, ly)
	d.corners(side, ux, uy, lx, ly)
}

// on takes a place on the panel to the page.
func (d drawing) on(at layout.Point) (x, y float64) {
	return d.x + d.pw/2 + float64(at.X)*d.mm, d.y + d.ph/2 - float64(at.Y)*d.mm
}

// dimensions are the panel's own.
func (d drawing) dimensions(side float64) {
	y := d.y - 5
	d.span(d.x, y, d.x+d.pw, y)
	d.onLine(d.x+d.pw/2, y, d.unit.Format(d.note.Panel.W), 0)
	x := d.x - 5 - side
	d.span(x, d.y, x, d.y+d.ph)
	d.onLine(x, d.y+d.ph/2, d.unit.Format(d.note.Panel.H), 90)
}

// span is a dimension line with its two ends.
func (d drawing) span(x0, y0, x1, y1 float64) {
	const tick = 1.3
	d.line(x0, y0, x1, y1, 0.15, grey)
	for _, e := range [2][2]float64{{x0, y0}, {x1, y1}} {
		if y0 == y1 {
			d.line(e[0], e[1]-tick, e[0], e[1]+tick, 0.15, grey)
		} else {
			d.line(e[0]-tick, e[1], e[0]+tick, e[1], 0.15, grey)
		}
	}
}

// onLine writes a figure over a line that it interrupts.
func (d drawing) onLine(x, y float64, text string, turn float64) {
	wide := d.width(strong, text) + 2
	high := strong.size * ptMM
	d.pdf.TransformBegin()
	if turn != 0 {
		d.pdf.TransformRotate(turn, x, y)
	}
	d.box(x-wide/2, y-high/2, wide, high, white, 0, white)
	d.centred(strong, x, y+high*0.35, text)
	d.pdf.TransformEnd()
}

// borders names what is left of each border beside the raster.
func (d drawing) borders(ux, uy, lx, ly float64) {
	b, f := d.note.BorderTrue, small
	show := d.unit.Format
	third := uy + (ly-uy)*0.2
	arrow := func(x0, y0, x1, y1 float64) { d.line(x0, y0, x1, y1, 0.3, ink) }
	arrow(d.x, third, ux, third)
	d.at(f, ux+1, third+0.8, show(b.Left))
	arrow(lx, third, d.x+d.pw, third)
	d.ended(f, lx-1, third+0.8, show(b.Right))
	middle := ux + (lx-ux)*0.5
	arrow(middle, d.y, middle, uy)
	d.centred(f, middle, uy+3.2, show(b.Top))
	arrow(middle, ly, middle, d.y+d.ph)
	d.centred(f, middle, ly-1.4, show(b.Bottom))
}

// centre is the panel's, which all places are measured from, and the raster's where that
// is another.
func (d drawing) centre(ux, uy, lx, ly float64) {
	x, y := d.on(layout.Point{})
	const arm = 8.0
	d.line(x-3, y, x+arm, y, 0.25, ink)
	d.line(x, y+3, x, y-arm, 0.25, ink)
	d.line(x+arm, y, x+arm-1.6, y-0.8, 0.25, ink)
	d.line(x+arm, y, x+arm-1.6, y+0.8, 0.25, ink)
	d.line(x, y-arm, x-0.8, y-arm+1.6, 0.25, ink)
	d.line(x, y-arm, x+0.8, y-arm+1.6, 0.25, ink)
	d.at(small, x+arm+0.8, y+0.8, "x")
	d.centred(small, x, y-arm-0.9, "y")
	d.pdf.SetFillColor(int(ink.R), int(ink.G), int(ink.B))
	d.pdf.Circle(x, y, 0.7, "F")
	d.centred(small, x, y+6.2, "0, 0")
	if c := d.note.Centre; c != (layout.Point{}) {
		cx, cy := d.on(c)
		d.pdf.SetDrawColor(int(ink.R), int(ink.G), int(ink.B))
		d.pdf.Circle(cx, cy, 0.9, "D")
	}
	size := d.unit.FormatSize(d.note.Size)
	at := min(max(y+11.5, uy+(ly-uy)*0.72), ly-8)
	const least = 25 // a narrow raster's size stands out over its sides
	for _, line := range d.wrapped(small, "raster "+size, max(lx-ux-2, least)) {
		d.centred(small, (ux+lx)/2, at, line)
		at += small.lineHeight()
	}
}

// corners names the raster's corners.
func (d drawing) corners(side, ux, uy, lx, ly float64) {
	c := d.note.Corners
	name := func(at layout.Point) string { return d.place(at) }
	f := face{bold: true, size: 6.8, shade: ink}
	if side > 0 {
		d.ended(f, d.x-1.5, uy+2, name(c[0]))
		d.at(f, d.x+d.pw+1.5, uy+2, name(c[1]))
		d.at(f, d.x+d.pw+1.5, ly-0.5, name(c[2]))
		d.ended(f, d.x-1.5, ly-0.5, name(c[3]))
	} else {
		d.at(f, ux+1.2, uy+3.2, name(c[0]))
		d.ended(f, lx-1.2, uy+3.2, name(c[1]))
		d.ended(f, lx-1.2, ly-1.4, name(c[2]))
		d.at(f, ux+1.2, ly-1.4, name(c[3]))
	}
	d.pdf.SetFillColor(int(ink.R), int(ink.G), int(ink.B))
	for _, corner := range c {
		x, y := d.on(corner)
		d.pdf.Circle(x, y, 0.55, "F")
	}
}

// place is a place on the panel as the drawing writes it.
func (p *paper) place(at layout.Point) string { return p.signed(at.X) + ", " + p.signed(at.Y) }

// signed is a length with its direction, without its unit.
func (p *paper) signed(l layout.MM) string {
	text := strings.TrimSuffix(p.unit.Format(l), " "+p.unit.String())
	if l > 0 && text != "0" {
		return "+" + text
	}
	return text
}

// sections are the cuts, dashed, and the numbers of what lies between.
func (d drawing) sections() {
	for i, s := range d.note.Sections {
		x0, y0 := d.on(s.Corners[0])
		x1, y1 := d.on(s.Corners[2])
		if i > 0 {
			d.pdf.SetDashPattern([]float64{1.2, 0.8}, 0)
			if s.Cols[0] > 0 {
				d.line(x0, y0, x0, y1, 0.3, ink)
			} else {
				d.line(x0, y0, x1, y0, 0.3, ink)
			}
			d.pdf.SetDashPattern(nil, 0)
		}
		mark := face{bold: true, size: 11, shade: colour.Stored{R: 0x9a, G: 0x9d, B: 0xa4}}
		// In the lower right corner: the borders and the raster are told elsewhere.
		d.ended(mark, x1-2, y1-2, fmt.Sprint(s.Number))
	}
}
