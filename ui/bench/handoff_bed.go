package bench

import (
	"fmt"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/export"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// bedPart says how the panel is laid down: where the outline runs, and what becomes of
// the border where the panel lies askew.
type bedPart struct {
	section *widgets.Drawer
	told    *widgets.Remarks
}

func newBedPart(b *Bench) *bedPart {
	p := &bedPart{told: widgets.NewRemarks(true)}
	p.section = b.newSection(lang.X("bed.title", "On the bed"), container.NewVBox(p.told))
	return p
}

// refresh tells of a note that follows from lengths alone.
func (p *bedPart) refresh(n export.Note, u layout.Unit) {
	words := []widgets.Remark{said(lang.X("bed.walk", "Walk the outline, from the panel's centre over corners and middles, and back:"))}
	for _, s := range n.Walk[:len(n.Walk)-2] { // then back to the first two
		words = append(words, widgets.Remark{Kind: widgets.Listed, Text: stopText(s, u)})
	}
	for _, c := range layout.WalkCautions() {
		words = append(words, warned(c))
	}
	if len(n.Slips) > 0 {
		words = append(words, said(lang.X("bed.slips", "Laid down askew, the border comes out like this:")))
	}
	for _, s := range n.Slips {
		words = append(words, widgets.Remark{Kind: widgets.Listed, Text: slipText(s, u)})
	}
	even := lang.X("bed.noeven", "No border of this panel looks even when it is laid down with usual care.")
	p.section.SetSummary("")
	if e := n.Even; e != nil {
		even = lang.X("bed.even", "Laid down to {{.Shift}} and {{.Degrees}}°, a border of {{.Least}} or more looks even from {{.From}} m.", map[string]any{
			"Shift": u.Format(e.Shift), "Degrees": plainNumber(e.Degrees), "Least": u.Format(e.Least), "From": plainNumber(float64(e.From) / 1000),
		})
		p.section.SetSummary(lang.X("bed.summary", "even from a border of {{.Least}}", map[string]any{"Least": u.Format(e.Least)}))
	}
	p.told.Set(append(words, said(even))...)
}

// stopText is a place of the outline and what a ruler should show there.
func stopText(s export.NoteStop, u layout.Unit) string {
	at := fmt.Sprintf("%s: x %s, y %s", spotText(s.Spot), signed(u, s.At.X), signed(u, s.At.Y))
	if s.Spot == layout.SpotCentre {
		return at
	}
	return lang.X("bed.beside", "{{.At}}; {{.Beside}} to the edge", map[string]any{"At": at, "Beside": u.Format(s.Beside)})
}

func spotText(s layout.Spot) string {
	switch s {
	case layout.SpotCentre:
		return lang.X("spot.centre", "Centre")
	case layout.SpotUpperLeft:
		return lang.X("spot.upperleft", "Upper left corner")
	case layout.SpotTop:
		return lang.X("spot.top", "Middle of the top")
	case layout.SpotUpperRight:
		return lang.X("spot.upperright", "Upper right corner")
	case layout.SpotRight:
		return lang.X("spot.right", "Middle of the right side")
	case layout.SpotLowerRight:
		return lang.X("spot.lowerright", "Lower right corner")
	case layout.SpotBottom:
		return lang.X("spot.bottom", "Middle of the bottom")
	case layout.SpotLowerLeft:
		return lang.X("spot.lowerleft", "Lower left corner")
	case layout.SpotLeft:
		return lang.X("spot.left", "Middle of the left side")
	}
	return string(s)
}

// slipText says what a slip leaves of the border, and whether anybody sees it.
func slipText(s export.NoteSlip, u layout.Unit) string {
	what := lang.X("slip.shift", "{{.By}} too far right", map[string]any{"By": u.Format(s.Shift)})
	if s.Degrees != 0 {
		what = lang.X("slip.turn", "{{.Degrees}}° askew", map[string]any{"Degrees": plainNumber(s.Degrees)})
	}
	side := func(least, most layout.MM) string {
		if a, b := signed(u, least), signed(u, most); a != b {
			return a + " – " + b
		}
		return signed(u, least)
	}
	blanks := map[string]any{
		"What": what, "From": plainNumber(float64(s.From) / 1000),
		"Left": side(s.Least.Left, s.Most.Left), "Right": side(s.Least.Right, s.Most.Right),
		"Top": side(s.Least.Top, s.Most.Top), "Bottom": side(s.Least.Bottom, s.Most.Bottom),
	}
	if min(s.Least.Left, s.Least.Right, s.Least.Top, s.Least.Bottom) < 0 {
		return lang.X("slip.over", "{{.What}}: left {{.Left}}, right {{.Right}}, top {{.Top}}, bottom {{.Bottom}}; the picture runs over the panel's edge", blanks)
	}
	if s.Shows {
		return lang.X("slip.shows", "{{.What}}: left {{.Left}}, right {{.Right}}, top {{.Top}}, bottom {{.Bottom}}; it shows from {{.From}} m", blanks)
	}
	return lang.X("slip.hides", "{{.What}}: left {{.Left}}, right {{.Right}}, top {{.Top}}, bottom {{.Bottom}}; nobody sees it from {{.From}} m", blanks)
}
