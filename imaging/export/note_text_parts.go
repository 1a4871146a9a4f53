package export

import (
	"fmt"
	"strconv"

	"undercoat/layout"
)

// walkText is the way round the outline, and what a panel laid down askew looks like.
func (n Note) walkText(p *page) {
	if len(n.Walk) == 0 {
		return
	}
	p.head("OUTLINE WALK (to the edge: what a ruler should show)")
	p.line(fmt.Sprintf("  %-28s%14s%14s%14s", "", "x", "y", "to the edge"))
	for _, s := range n.Walk {
		beside := ""
		if s.Spot != layout.SpotCentre {
			beside = p.unit.Format(s.Beside)
		}
		p.line(fmt.Sprintf("  %-28s%14s%14s%14s", s.Spot, p.signed(s.At.X), p.signed(s.At.Y), beside))
	}
	for _, c := range layout.WalkCautions() {
		p.wrap("  - ", "    ", c)
	}
	for _, s := range n.Slips {
		p.wrap("  - ", "    ", "a panel "+s.In(p.unit))
	}
	if n.Even != nil {
		p.wrap("  - ", "    ", n.Even.In(p.unit))
	}
}

// sectionsText is where each section goes.
func (n Note) sectionsText(p *page) {
	if len(n.Sections) == 0 {
		return
	}
	p.head("SECTIONS (all places from the centre of the whole panel)")
	for _, s := range n.Sections {
		move := ""
		if s.Move != nil {
			move = ": " + s.Move.In(p.unit)
		}
		p.line("")
		p.wrap("  ", "    ", fmt.Sprintf("section %d%s", s.Number, move))
		for _, name := range s.Names() {
			p.item("file", name)
		}
		p.item("raster", fmt.Sprintf("%d x %d dots, %s", s.RasterDots[0], s.RasterDots[1], p.unit.FormatSize(s.Size)))
		for i, name := range [...]string{"upper left", "upper right", "lower right", "lower left"} {
			p.point(name, s.Corners[i])
		}
		p.point("centre", s.Centre)
		for _, m := range s.Marks {
			p.item("pencil mark", m.In(p.unit))
		}
	}
	p.line("")
	p.wrap("  ", "  ", "The line between a section's two marks runs through its centre: lay it level under the head, its middle at the machine's zero, and burn the section there.")
	for _, s := range n.Seams {
		p.line("")
		p.wrap("  ", "    ", fmt.Sprintf("seam between %d and %d, at %s from the centre; how a misplacement shows (mean CIEDE2000):", s.Between[0], s.Between[1], p.signed(s.At)))
		for _, l := range s.Looks {
			p.wrap("    - ", "      ", fmt.Sprintf("%s off: %s", p.unit.Format(l.Off), l.Words))
		}
	}
}

// paintText is what the painting takes.
func (n Note) paintText(p *page) {
	if n.Painting == nil {
		return
	}
	w := n.Painting
	p.head("PAINT")
	p.item("face", number(w.FaceM2)+" m2")
	if w.EdgeM2 > 0 {
		p.item("edges", number(w.EdgeM2)+" m2")
	}
	p.item("a can covers", fmt.Sprintf("%s m2 with one coat, less %s %% that goes past the panel", number(w.CanM2), number(100*w.LostPart)))
	for i, c := range w.Coats {
		p.item(fmt.Sprintf("coat %d", i+1), c.words())
	}
	p.wrap("  ", "  ", "Coats from the top down: the last of them is sprayed first. "+w.Words)
}

func (c NoteCoat) words() string {
	buy := "from the cans above"
	if c.ToBuy > 0 {
		buy = plural(c.ToBuy, "can") + " to buy"
	}
	return fmt.Sprintf("%s, %s um dry: %s of a can, %s", c.Name, number(c.ThicknessUM), number(c.Cans), buy)
}

// timesText is the timetable.
func (n Note) timesText(p *page) {
	if n.Timetable == nil {
		return
	}
	t := n.Timetable
	p.head("TIMETABLE (common practice, no source: the can's own words come first)")
	day := ""
	for _, s := range t.Steps {
		if d := s.Start.Format("Mon 2 Jan 2006"); d != day {
			day = d
			p.line("  " + day)
		}
		p.wrap("    "+s.Start.Format("15:04")+"  ", "           ", s.String())
	}
	p.item("can burn from", t.CanBurn.Format("Mon 2 Jan 2006, 15:04"))
	p.item("burn ends", t.BurnEnds.Format("Mon 2 Jan 2006, 15:04"))
	p.item("can hang from", t.CanHang.Format("Mon 2 Jan 2006, 15:04"))
	for _, c := range t.Cautions {
		p.wrap("  - ", "    ", c)
	}
}

// afterText is what to do after the burn.
func (n Note) afterText(p *page) {
	if len(n.After) == 0 {
		return
	}
	p.head("AFTER THE BURN")
	for i, a := range n.After {
		p.wrap(fmt.Sprintf("  %d. ", i+1), "     ", string(a.What))
		for _, c := range a.Cautions {
			p.wrap("     - ", "       ", c)
		}
	}
}

// priceText is the price.
func (n Note) priceText(p *page) {
	if n.Price == nil {
		return
	}
	p.head("PRICE")
	for _, l := range n.Price.Lines {
		p.line(fmt.Sprintf("  %-36s%-24s%16s", l.What, l.Sum(), fmt.Sprintf("%.2f %s", l.Amount, n.Price.Currency)))
	}
	p.line(fmt.Sprintf("  %-60s%16s", "in all", fmt.Sprintf("%.2f %s", n.Price.Total, n.Price.Currency)))
}

// Sum says how an amount comes about: `7.25 hours x 6.00`.
func (l PriceLine) Sum() string {
	switch l.Unit {
	case "":
		return ""
	case "%":
		return fmt.Sprintf("%s %% of %.2f", number(l.Quantity), l.Rate)
	}
	return fmt.Sprintf("%s %s x %.2f", number(l.Quantity), l.Unit, l.Rate)
}

// number writes a figure as short as it is in the JSON.
func number(v float64) string { return strconv.FormatFloat(roundTo(v, 6), 'f', -1, 64) }

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
