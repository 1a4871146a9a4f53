package export

import (
	"fmt"
	"strings"
	"unicode"

	"undercoat/layout"
)

// textWidth is the longest line of a note in characters, so that it prints on
// one sheet's width whatever the font.
const textWidth = 78

// Text is the note as a page of plain text, lengths in unit u, to be read beside
// the machine. Lines are at most 78 characters wide, but for a name that is longer.
func (n Note) Text(u layout.Unit) string {
	p := page{unit: u}
	p.line("PLACEMENT NOTE")
	p.item("job", n.Job)
	p.item("stack", n.Stack)
	if !n.Calibrated {
		p.line("")
		p.wrap("!! ", "!! ", Uncalibrated+": burn a chart of swatches on a scrap with the same coats before you trust the proof")
	}
	n.trialText(&p)
	n.panelText(&p)
	n.placeText(&p)
	n.walkText(&p)
	n.sectionsText(&p)
	n.machineText(&p)
	n.paintText(&p)
	n.timesText(&p)
	n.afterText(&p)
	n.priceText(&p)
	n.filesText(&p)
	p.list("BEFORE YOU BURN", n.Cautions)
	return p.text.String()
}

func (n Note) panelText(p *page) {
	p.head("PANEL AND RASTER (width x height)")
	panel := p.unit.FormatSize(n.Panel)
	if n.PanelKind != "" {
		panel += ", " + string(n.PanelKind)
	}
	if n.EdgeDepth > 0 {
		panel += ", edge " + p.unit.Format(n.EdgeDepth) + " deep"
	}
	p.item("panel", panel)
	asked, left := p.border(n.Border), p.border(n.BorderTrue)
	p.item("border", asked)
	if left != asked {
		p.item("to whole dots", left)
	}
	p.item("raster", fmt.Sprintf("%d x %d dots", n.RasterDots[0], n.RasterDots[1]))
	p.item("pitch", fmt.Sprintf("%.4g mm (%.5g dots per inch, %d dots per metre)", float64(n.Pitch), n.DotsPerInch, n.PerMetre))
	p.item("true size", p.unit.FormatSize(n.Size))
}

func (n Note) placeText(p *page) {
	p.head("WHERE THE RASTER GOES")
	p.wrap("  ", "  ", "Measured from the centre of the panel: x to the right, y up.")
	p.line("")
	p.line(fmt.Sprintf("  %-14s%14s%14s", "", "x", "y"))
	for i, name := range [...]string{"upper left", "upper right", "lower right", "lower left"} {
		p.point(name, n.Corners[i])
	}
	p.point("centre", n.Centre)
	p.line("")
	p.line("             upper left +-------------+ upper right    y")
	p.line("                        |             |                ^")
	p.line("                        |   centre +  |                |")
	p.line("                        |             |                +--> x")
	p.line("             lower left +-------------+ lower right")
	p.head("HOW TO PLACE IT")
	p.wrap("  1. ", "     ", "Find the centre of the panel: put tape on the middle of each side, mark the middle on it, and stretch a thread between opposite marks. The threads cross at the centre.")
	p.wrap("  2. ", "     ", fmt.Sprintf("Lay the panel square to the machine and make its centre the machine's zero. Give the raster its true size, %s, and put its centre at x %s, y %s. One dot stays one dot: do not scale, smooth, turn or screen it again. %s", p.unit.FormatSize(n.Size), p.signed(n.Centre.X), p.signed(n.Centre.Y), n.blackAndWhite()))
	p.wrap("  3. ", "     ", fmt.Sprintf("Before the burn walk the outline below. Between raster and panel edge there must be: %s.", p.border(n.BorderTrue)))
	if n.Fit.Turned {
		p.wrap("  4. ", "     ", "The panel lies turned by a quarter clockwise, its top to the right: turn the raster by the same quarter in the machine's program, and read the places above as seen on the panel.")
	}
}

// blackAndWhite says what the values of the raster mean.
func (n Note) blackAndWhite() string {
	switch {
	case n.RasterBits == 8:
		return "Black is burned with the power below, white is left alone, grey is a share of the power in proportion to its value."
	case len(n.Steps) > 0:
		return "Black is burned, white is left alone. Burn the steps in their order, all in the same place."
	}
	return "Black is burned, white is left alone."
}

func (n Note) machineText(p *page) {
	p.head("MACHINE AND SETTING")
	p.item("machine", n.Machine)
	p.item("head travels", fmt.Sprintf("%s, with %s of run-up at both ends of a line", p.unit.FormatSize(n.Travel), p.unit.Format(n.RunUp)))
	p.item("bed", p.unit.FormatSize(n.Bed))
	p.item("fits", n.fitWords())
	if len(n.Steps) == 0 {
		p.item("power", fmt.Sprintf("%.4g %%", n.Setting.PowerPercent))
	}
	for i, s := range n.Steps {
		p.item(fmt.Sprintf("step %d", i+1), s.words())
	}
	p.item("speed", fmt.Sprintf("%.6g mm/min", n.Setting.Speed.PerMinute()))
	p.item("passes", fmt.Sprint(n.Setting.Passes))
	p.item("burn time", "about "+layout.FormatDuration(n.BurnTime())+n.Motion.words())
}

// words says what a step is burned at and what for.
func (s NoteStep) words() string {
	uncovers := ""
	if s.Uncovers != "" {
		uncovers = ": uncovers " + s.Uncovers
	}
	return fmt.Sprintf("%s at %.4g %%%s (%.4g J/cm2)", s.File, s.PowerPercent, uncovers, s.DoseJCM2)
}

// fitWords says in one sentence whether the panel fits.
func (n Note) fitWords() string {
	switch {
	case n.Fits:
		return "yes: " + n.Fit.Words
	case n.Fit.How == layout.InSections:
		return "IN SECTIONS: " + n.WhyNot
	}
	return "NO: " + n.WhyNot
}

// words says what the burn time counts.
func (m NoteMotion) words() string {
	if m.AccelerationMMPerS2 == 0 {
		return ""
	}
	blank := "every line counts from edge to edge"
	if m.SkipsBlank {
		blank = "blank lines and line ends are skipped"
	}
	return fmt.Sprintf(": each line from rest to rest, with run-up, at %.6g mm/s2; %s", m.AccelerationMMPerS2, blank)
}

func (n Note) filesText(p *page) {
	if len(n.Files) == 0 {
		return
	}
	p.head("FILES")
	for _, f := range n.Files {
		p.line("  " + oneLine(f.Name))
		p.line("    sha256 " + f.SHA256)
	}
}

// page gathers lines of text.
type page struct {
	unit layout.Unit
	text strings.Builder
}

func (p *page) line(text string) {
	p.text.WriteString(strings.TrimRight(text, " "))
	p.text.WriteByte('\n')
}

func (p *page) head(text string) {
	p.line("")
	p.line(text)
}

// item is a labelled value; one without a value is left out.
func (p *page) item(label, value string) {
	if value != "" {
		p.wrap(fmt.Sprintf("  %-14s", label), strings.Repeat(" ", 16), value)
	}
}

// list is a heading over points; without a point it is left out.
func (p *page) list(head string, points []string) {
	if len(points) == 0 {
		return
	}
	p.head(head)
	for _, text := range points {
		p.wrap("  - ", "    ", text)
	}
}

// wrap breaks text at spaces; first opens the first line, then the others.
func (p *page) wrap(first, then, text string) {
	line, empty := first, true
	for _, word := range strings.Fields(oneLine(text)) {
		if !empty && len([]rune(line))+1+len([]rune(word)) > textWidth {
			p.line(line)
			line, empty = then, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	p.line(line)
}

func (p *page) point(name string, at layout.Point) {
	p.line(fmt.Sprintf("  %-14s%14s%14s", name, p.signed(at.X), p.signed(at.Y)))
}

// signed shows the direction of every length but 0.
func (p *page) signed(l layout.MM) string {
	text := p.unit.Format(l)
	if strings.HasPrefix(text, "-") || text == p.unit.Format(0) {
		return text
	}
	return "+" + text
}

func (p *page) border(b layout.Border) string {
	return fmt.Sprintf("left %s, right %s, top %s, bottom %s",
		p.unit.Format(b.Left), p.unit.Format(b.Right), p.unit.Format(b.Top), p.unit.Format(b.Bottom))
}

// oneLine keeps a name that someone typed from breaking the page.
func oneLine(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) {
			return ' '
		}
		return r
	}, text)
}
