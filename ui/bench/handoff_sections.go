package bench

import (
	"fmt"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/export"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// sectionsPart lists the sections that a panel is burned in, and how much of a
// misplacement would show between them. It is not there for a panel that is burned in one
// go.
type sectionsPart struct {
	section *widgets.Drawer
	told    *widgets.Remarks
}

func newSectionsPart(b *Bench) *sectionsPart {
	p := &sectionsPart{told: widgets.NewRemarks(true)}
	p.section = b.newSection(lang.X("parts.title", "Sections"), container.NewVBox(p.told))
	p.section.Hide()
	return p
}

// refresh tells of a note. With exact false its sections are cut evenly and not where the
// fewest dots burn, which follows.
func (p *sectionsPart) refresh(n export.Note, exact bool, u layout.Unit) {
	setVisible(p.section, len(n.Sections) > 0)
	if len(n.Sections) == 0 {
		p.told.Set()
		return
	}
	p.section.SetSummary(fmt.Sprint(len(n.Sections)))
	var words []widgets.Remark
	if n.Fit.Turned {
		words = append(words, said(lang.X("parts.turned", "The panel lies turned by a quarter clockwise, its top to the right.")))
	}
	for _, s := range n.Sections {
		words = append(words, sectionWords(s, u)...)
	}
	if !exact {
		words = append(words, said(lang.X("parts.follow", "Cut evenly so far: where the fewest dots burn, and how much a seam shows, is being worked out.")))
	}
	for _, s := range n.Seams {
		words = append(words, seamWords(s, u)...)
	}
	p.told.Set(words...)
}

// sectionWords are where a section lies, how the panel is moved to it, and its two marks.
func sectionWords(s export.NoteSection, u layout.Unit) []widgets.Remark {
	out := []widgets.Remark{said(lang.X("parts.section", "Section {{.N}}: {{.Size}}, its centre at x {{.X}}, y {{.Y}}.", map[string]any{
		"N": s.Number, "Size": u.FormatSize(s.Size), "X": signed(u, s.Centre.X), "Y": signed(u, s.Centre.Y),
	}))}
	point := func(text string) { out = append(out, widgets.Remark{Kind: widgets.Listed, Text: text}) }
	if s.Move != nil {
		point(lang.X("parts.move", "Move the panel {{.By}}, {{.Lead}} end first", map[string]any{"By": u.Format(s.Move.By), "Lead": sideText(s.Move.Lead)}))
	}
	for _, m := range s.Marks {
		point(markText(m, u))
	}
	return out
}

// markText says where a pencil mark is drawn.
func markText(m export.NoteMark, u layout.Unit) string {
	blanks := map[string]any{"Side": sideText(m.Side), "At": u.Format(m.FromEnd), "By": u.Format(max(m.FromCentre, -m.FromCentre))}
	across := m.Side == layout.TopSide || m.Side == layout.BottomSide
	switch {
	case across && m.FromCentre < 0:
		return lang.X("mark.left", "Pencil mark on the {{.Side}} side, {{.At}} from its left end ({{.By}} left of the middle)", blanks)
	case across:
		return lang.X("mark.right", "Pencil mark on the {{.Side}} side, {{.At}} from its left end ({{.By}} right of the middle)", blanks)
	case m.FromCentre < 0:
		return lang.X("mark.below", "Pencil mark on the {{.Side}} side, {{.At}} from its top end ({{.By}} below the middle)", blanks)
	}
	return lang.X("mark.above", "Pencil mark on the {{.Side}} side, {{.At}} from its top end ({{.By}} above the middle)", blanks)
}

func sideText(s layout.Side) string {
	switch s {
	case layout.LeftSide:
		return lang.X("side.left", "left")
	case layout.RightSide:
		return lang.X("side.right", "right")
	case layout.TopSide:
		return lang.X("side.top", "top")
	}
	return lang.X("side.bottom", "bottom")
}

// seamWords say how misplacements of some tenths of a millimetre look along a seam.
func seamWords(s export.NoteSeam, u layout.Unit) []widgets.Remark {
	out := []widgets.Remark{said(lang.X("seam.at", "Seam between {{.A}} and {{.B}}, at {{.At}}: {{.Share}} of the dots beside it burn. How a misplacement shows (mean CIEDE2000):", map[string]any{
		"A": s.Between[0], "B": s.Between[1], "At": signed(u, s.At), "Share": sharePercent(s.Burned),
	}))}
	for _, l := range s.Looks {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: fmt.Sprintf("%s: %s", layout.Millimetre.Format(l.Off), l.Words)})
	}
	return out
}
