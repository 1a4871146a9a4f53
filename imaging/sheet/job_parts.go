package sheet

import (
	"fmt"
	"strconv"

	"undercoat/imaging/export"
	"undercoat/layout"
)

// jobSheet fills the columns of a job sheet.
type jobSheet struct {
	*flow
	n export.Note
}

func (j jobSheet) panel() {
	n, u := j.n, j.unit
	j.head("Panel and raster", 20)
	panel := u.FormatSize(n.Panel)
	if n.PanelKind != "" {
		panel += ", " + string(n.PanelKind)
	}
	if n.EdgeDepth > 0 {
		panel += ", edge " + u.Format(n.EdgeDepth) + " deep"
	}
	j.item("panel", panel)
	j.item("border", sides(n.BorderTrue, u))
	j.item("raster", fmt.Sprintf("%d x %d dots, %s", n.RasterDots[0], n.RasterDots[1], u.FormatSize(n.Size)))
	j.item("pitch", fmt.Sprintf("%.4g mm, %.5g dots per inch, %d per metre", float64(n.Pitch), n.DotsPerInch, n.PerMetre))
	j.item("its centre", fmt.Sprintf("at %s from the panel's centre", j.place(n.Centre)))
	j.item("do not", "scale, smooth or screen the raster again: one dot stays one dot")
}

func (j jobSheet) setting() {
	n, u := j.n, j.unit
	j.head("Machine and setting", 20)
	j.item("machine", n.Machine)
	j.item("bed", u.FormatSize(n.Bed))
	j.item("head travels", fmt.Sprintf("%s, with %s of run-up at both ends", u.FormatSize(n.Travel), u.Format(n.RunUp)))
	fits := n.Fit.Words
	if !n.Fits {
		fits = n.WhyNot
	}
	j.item("fits", fits)
	if len(n.Steps) == 0 {
		j.itemIn(strong, "power", fmt.Sprintf("%.4g %%", n.Setting.PowerPercent))
	}
	for i, s := range n.Steps {
		j.itemIn(strong, fmt.Sprintf("step %d", i+1), fmt.Sprintf("%.4g %%: %s uncovers %s (%.4g J/cm2)", s.PowerPercent, s.File, s.Uncovers, s.DoseJCM2))
	}
	j.itemIn(strong, "speed", fmt.Sprintf("%.6g mm/min", n.Setting.Speed.PerMinute()))
	j.itemIn(strong, "passes", strconv.Itoa(n.Setting.Passes))
	j.item("burn time", "about "+layout.FormatDuration(n.BurnTime()))
	black := "is burned, white is left alone"
	if n.RasterBits == 8 {
		black = "is burned with the power above, grey with a share of it, white is left alone"
	}
	j.item("black", black)
}

func (j jobSheet) paint() {
	w := j.n.Painting
	if w == nil {
		return
	}
	j.head("Paint, from the top coat down", 16)
	cells := []cell{{0.07, 0.5, false}, {0.5, 0.68, true}, {0.7, 0.85, true}, {0.86, 1, true}}
	j.row(smaller, cells, "", "dry, \u00b5m", "cans", "to buy")
	for _, c := range w.Coats {
		buy := "\u2013"
		if c.ToBuy > 0 {
			buy = strconv.Itoa(c.ToBuy)
		}
		j.swatch(c.Colour)
		j.row(plain, cells, c.Name, number(c.ThicknessUM), number(c.Cans), buy)
	}
	j.y += 0.8
	area := number(w.FaceM2) + " m\u00b2 of face"
	if w.EdgeM2 > 0 {
		area += ", " + number(w.EdgeM2) + " m\u00b2 of edges"
	}
	j.text(small, fmt.Sprintf("%s. A can covers %s m\u00b2 with one coat; %s %% goes past the panel. %s", area, number(w.CanM2), number(100*w.LostPart), w.Words))
}

func (j jobSheet) times() {
	t := j.n.Timetable
	if t == nil {
		return
	}
	j.head("Timetable", 20)
	j.itemIn(strong, "can burn from", moment(t.CanBurn))
	j.item("burn ends", moment(t.BurnEnds))
	j.item("can hang from", moment(t.CanHang))
	j.y += 0.6
	cells := []cell{{0, 0.2, false}, {0.2, 0.33, false}, {0.33, 1, false}}
	day := ""
	for _, s := range t.Steps {
		d := s.Start.Format("Mon 2 Jan")
		shown := d
		if d == day {
			shown = ""
		}
		day = d
		j.row(small, cells, shown, s.Start.Format("15:04"), s.String())
	}
	j.y += 0.8
	for _, c := range t.Cautions {
		j.point(small, c)
	}
}

func moment(m export.Moment) string { return m.Format("Mon 2 Jan 2006, 15:04") }

func (j jobSheet) walk() {
	if len(j.n.Walk) == 0 {
		return
	}
	j.head("Outline walk, before the burn", float64(len(j.n.Walk)+1)*small.lineHeight())
	cells := []cell{{0, 0.46, false}, {0.46, 0.64, true}, {0.64, 0.82, true}, {0.82, 1, true}}
	j.row(smaller, cells, "from the panel's centre", "x", "y", "to the edge")
	for _, s := range j.n.Walk {
		beside := ""
		if s.Spot != layout.SpotCentre {
			beside = j.unit.Format(s.Beside)
		}
		j.row(small, cells, string(s.Spot), j.signed(s.At.X), j.signed(s.At.Y), beside)
	}
	j.y += 0.8
	for _, c := range layout.WalkCautions() {
		j.point(small, c)
	}
	for _, s := range j.n.Slips {
		j.point(small, "a panel "+s.In(j.unit))
	}
	if j.n.Even != nil {
		j.point(small, j.n.Even.In(j.unit))
	}
}

func (j jobSheet) sections() {
	if len(j.n.Sections) == 0 {
		return
	}
	j.head("Sections, one after another", 24)
	j.text(small, "The line between a section's two pencil marks runs through its centre: lay it level under the head, its middle at the machine's zero, and burn the section there.")
	for _, s := range j.n.Sections {
		j.y += 0.8
		what := fmt.Sprintf("%d  ", s.Number)
		for i, name := range s.Names() {
			if i > 0 {
				what += ", "
			}
			what += name
		}
		j.text(strong, what)
		if s.Move != nil {
			j.point(small, s.Move.In(j.unit))
		}
		j.point(small, fmt.Sprintf("%d x %d dots, %s, centre at %s", s.RasterDots[0], s.RasterDots[1], j.unit.FormatSize(s.Size), j.place(s.Centre)))
		j.point(small, fmt.Sprintf("corners %s and %s", j.place(s.Corners[0]), j.place(s.Corners[2])))
		for _, m := range s.Marks {
			j.point(small, "mark "+m.In(j.unit))
		}
	}
	for _, s := range j.n.Seams {
		j.y += 0.8
		j.text(small, fmt.Sprintf("Seam between %d and %d, at %s from the centre; how a misplacement shows (mean CIEDE2000):", s.Between[0], s.Between[1], j.signed(s.At)))
		for _, l := range s.Looks {
			j.point(small, fmt.Sprintf("%s off: %s", j.unit.Format(l.Off), l.Words))
		}
	}
}

func (j jobSheet) files() {
	if len(j.n.Files) == 0 {
		return
	}
	j.head("Files and their checksums (SHA-256)", 14)
	for _, f := range j.n.Files {
		j.text(strong, f.Name)
		j.y -= 0.5
		j.text(smaller, f.SHA256)
	}
}

func (j jobSheet) after() {
	if len(j.n.After) == 0 {
		return
	}
	j.head("After the burn", 16)
	for i, a := range j.n.After {
		j.text(strong, fmt.Sprintf("%d  %s", i+1, a.What))
		for _, c := range a.Cautions {
			j.point(small, c)
		}
	}
}

func (j jobSheet) source() {
	pic := j.n.Picture
	if pic == nil {
		return
	}
	j.head("Picture: rights and source", 18)
	j.item("file", pic.File)
	if pic.Rights != "" {
		j.item("rights", pic.Rights)
		return
	}
	j.text(label, "who holds the rights, and where the picture comes from:")
	j.ruled(2)
}

func (j jobSheet) cautions() {
	if j.pdf.PageNo() > 1 && j.col == 0 {
		j.nextColumn()
	}
	cautions(j.flow, "Before you burn", j.n.Cautions, small)
}

// cautions lists a note's cautions.
func cautions(f *flow, title string, texts []string, how face) {
	f.head(title, 16)
	for _, c := range texts {
		f.point(how, c)
	}
}

// notes is what is left of the page to write on: as wide as the page where there is
// room below the columns, else what is left of the last one, else a page more.
func (j jobSheet) notes() {
	const enough = 11 + 4*ruledApart
	below := j.bottom() - max(j.ends, j.y)
	if below >= enough || j.bottom()-j.y < enough {
		j.fullWidth(enough)
	}
	j.head("Notes", 0)
	j.ruled(min(16, int((j.bottom()-j.y)/ruledApart)))
}

func sides(b layout.Border, u layout.Unit) string {
	return fmt.Sprintf("left %s, right %s, top %s, bottom %s", u.Format(b.Left), u.Format(b.Right), u.Format(b.Top), u.Format(b.Bottom))
}

// number writes a figure as short as it is in the note.
func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
