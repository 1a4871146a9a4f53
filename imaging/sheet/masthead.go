package sheet

import (
	"fmt"

	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/layout"
)

// masthead is the head of the first page; it gives where it ends.
func (p *paper) masthead(kind string, n export.Note) float64 {
	y := margin - 4
	p.stripe(y, paints(n))
	y += 9
	p.at(face{size: 9, shade: grey}, margin, y, kind)
	p.ended(face{size: 9, shade: grey}, p.w-margin, y, p.shortened(label, n.Stack, 90))
	y += 9
	p.at(title, margin, y, p.shortened(title, n.Job, p.w-2*margin))
	y += 4
	if !n.Calibrated {
		p.box(margin, y, p.w-2*margin, 6.4, ink, 0, ink)
		bold, light := face{bold: true, size: 9, shade: white}, face{size: 8, shade: white}
		p.at(bold, margin+2.5, y+4.4, export.Uncalibrated)
		p.ended(light, p.w-margin-2.5, y+4.35, "burn a chart of swatches on a scrap with the same coats first")
		y += 9
	}
	return y
}

// stripe shows the job's paints, from the top coat down to the ground.
func (p *paper) stripe(y float64, colours []colour.Stored) {
	if len(colours) == 0 {
		return
	}
	wide := (p.w - 2*margin) / float64(len(colours))
	for i, c := range colours {
		p.box(margin+float64(i)*wide, y, wide, 2.4, c, 0, c)
	}
	p.pdf.SetDrawColor(int(faint.R), int(faint.G), int(faint.B))
	p.pdf.SetLineWidth(0.15)
	p.pdf.Rect(margin, y, p.w-2*margin, 2.4, "D")
}

func paints(n export.Note) []colour.Stored {
	var out []colour.Stored
	if n.Painting != nil {
		for _, c := range n.Painting.Coats {
			out = append(out, c.Colour)
		}
	}
	return out
}

// fact is one figure of the row under the name.
type fact struct{ name, value string }

// headline is what a maker looks for first.
func headline(n export.Note, u layout.Unit) []fact {
	panel := u.FormatSize(n.Panel)
	fits := string(n.Fit.How)
	if n.Fit.How == layout.InSections {
		fits = fmt.Sprintf("in %d sections", len(n.Sections))
	}
	return []fact{
		{"panel", panel},
		{"raster, dots", fmt.Sprintf("%d x %d", n.RasterDots[0], n.RasterDots[1])},
		{"burn time, about", layout.FormatDuration(n.BurnTime())},
		{"fits the machine", fits},
	}
}

// figures is a row of facts between two rules; it gives where what follows begins.
func (p *paper) figures(y float64, facts []fact) float64 {
	wide := (p.w - 2*margin) / float64(len(facts))
	p.line(margin, y, p.w-margin, y, 0.3, ink)
	for i, f := range facts {
		x := margin + float64(i)*wide
		p.at(smaller, x, y+4.2, f.name)
		p.at(figure, x, y+9.6, p.shortened(figure, f.value, wide-3))
	}
	p.line(margin, y+12, p.w-margin, y+12, 0.3, ink)
	return y + 16
}
