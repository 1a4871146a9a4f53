package bench

import (
	"context"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// handOffDrawer says whether the job fits, what the hand-off will say and what to beware
// of, asks for what that takes from the workshop, and prepares the hand-off.
type handOffDrawer struct {
	bench    *Bench
	drawer   *widgets.Drawer
	facts    *widgets.Remarks
	instead  *widget.Button // sets the border with which the panel would fit
	start    *widget.Button
	progress *widget.ProgressBar
	cancel   *widget.Button
	running  *fyne.Container
	parts    handOffParts
	finished *finishedPart

	foresight *foresight
	border    *layout.Border // with which the panel would fit; nil: none is needed, or there is none

	stopRun context.CancelFunc // nil while nothing runs
}

// handOffParts are the sections that fold away.
type handOffParts struct {
	workshop *workshopPart
	price    *pricePart
	times    *timesPart
	bed      *bedPart
	sections *sectionsPart
	files    *filesPart
	wall     *wallPart
	trial    *trialPart
}

func newHandOffDrawer(b *Bench) *handOffDrawer {
	h := &handOffDrawer{bench: b, facts: widgets.NewRemarks(false)}
	standing := widgets.NewRemarks(true)
	standing.Set(standingCautions()...)
	h.instead = widget.NewButton(lang.X("handoff.instead", "Set a border that fits"), h.setBorder)
	h.instead.Hide()
	h.start = widget.NewButtonWithIcon(lang.X("handoff.start", "Hand off into a folder..."), theme.MailForwardIcon(), b.handOffDialog)
	h.start.Importance = widget.HighImportance
	h.progress = widget.NewProgressBar()
	h.cancel = widget.NewButtonWithIcon(lang.X("handoff.cancel", "Cancel"), theme.CancelIcon(), h.stop)
	h.running = container.NewBorder(nil, nil, nil, h.cancel, h.progress)
	h.running.Hide()
	h.foresight = newForesight(b, h.changed)
	h.parts = handOffParts{
		workshop: newWorkshopPart(b, h.changed), price: newPricePart(b, h.changed),
		times: newTimesPart(b), bed: newBedPart(b), sections: newSectionsPart(b),
		files: newFilesPart(b, h.changed), wall: newWallPart(b), trial: newTrialPart(b),
	}
	h.finished = newFinishedPart(b)
	p := h.parts
	h.drawer = widgets.NewDrawer(lang.X("drawer.handoff", "Hand-off"), container.NewVBox(h.facts, h.instead, h.start, h.running, standing,
		p.files.section, p.times.section, p.bed.section, p.sections.section, p.workshop.section, p.price.section,
		p.wall.section, p.trial.section, h.finished.section))
	h.drawer.OnResized = h.changed
	return h
}

// standingCautions are those that go with every job.
func standingCautions() []widgets.Remark {
	var out []widgets.Remark
	for _, c := range export.Cautions() {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: c})
	}
	return out
}

func (h *handOffDrawer) widget() *widgets.Drawer { return h.drawer }

func (h *handOffDrawer) refresh(d job.Document, p job.Plan) {
	h.finished.refresh(d)
	u := d.UnitOf()
	facts := lang.X("handoff.facts", "Raster {{.Size}}, head travels {{.Travel}}, bed {{.Bed}}.", map[string]any{
		"Size":   u.FormatSize(p.Placement.Grid.Size()),
		"Travel": u.FormatSize(p.Travel),
		"Bed":    u.FormatSize(d.Machine.Bed),
	})
	fit := h.fit(d, p)
	remarks := []widgets.Remark{said(facts), said(fitSentence(fit))}
	for _, c := range p.Cautions {
		remarks = append(remarks, warned(c))
	}
	h.border = p.Fit.Instead
	setVisible(h.instead, h.border != nil)
	h.drawer.SetSummary(fitText(fit))
	h.foresee(d)
	note := h.foresight.note()
	if err := h.foresight.err; err != nil {
		remarks = append(remarks, warned(err.Error()))
	}
	h.facts.Set(remarks...)
	h.parts.times.refresh(d, p, note)
	h.parts.workshop.refresh(u)
	h.parts.price.refresh(u, note)
	exact := note != nil
	if !exact {
		rough := export.NewNote(p.Placement, d.Reach(), fit)
		note = &rough
	}
	h.parts.bed.refresh(*note, u)
	h.parts.sections.refresh(*note, exact, u)
	h.parts.files.refresh(*note, exact)
	h.parts.wall.refresh()
	h.parts.trial.refresh(d, p)
	enable(h.start, h.stopRun == nil && !h.parts.files.none(h.bench.s.Workshop()))
}

// fit is how the panel is burned, in the sections that the maker asks for.
func (h *handOffDrawer) fit(d job.Document, p job.Plan) layout.Fit {
	if longest := h.bench.s.Workshop().Sections; longest != 0 {
		if fit, err := d.FitIn(longest); err == nil {
			return fit
		}
	}
	return p.Fit
}

// foresee begins to work out what the hand-off will say, where that is looked at.
func (h *handOffDrawer) foresee(d job.Document) {
	switch {
	case h.stopRun != nil: // which will say it
	case h.drawer.IsOpen():
		h.foresight.follow(d)
	default:
		h.foresight.drop()
	}
}

// changed shows what changed here and not in the job.
func (h *handOffDrawer) changed() {
	d := h.bench.s.Document()
	p, err := h.bench.plan()
	if err != nil {
		return // which was told when the job became so
	}
	h.refresh(d, p)
	h.bench.fitColumn()
}

// setBorder takes the border with which the panel fits.
func (h *handOffDrawer) setBorder() {
	if h.border == nil {
		return
	}
	border := *h.border
	h.bench.edit(stepBorder(), "", func(d *job.Document) error {
		d.Border = border
		return nil
	})
}

// fitSentence says how the panel lies on the bed.
func fitSentence(f layout.Fit) string {
	switch f.How {
	case layout.Upright:
		return lang.X("fits.upright", "The panel fits as it is.")
	case layout.Turned:
		return lang.X("fits.turned", "The panel fits turned by a quarter clockwise, its top to the right, and its raster with it.")
	case layout.InSections:
		return lang.X("fits.sections", "The panel is burned in {{.N}} sections, and moved along between them.", map[string]any{"N": len(f.Sections)})
	}
	return lang.X("fits.not", "The panel does not fit, upright or turned.")
}

// fitText says in few words how the panel fits the machine.
func fitText(f layout.Fit) string {
	switch f.How {
	case layout.Upright:
		return lang.X("fit.upright", "fits")
	case layout.Turned:
		return lang.X("fit.turned", "fits turned")
	case layout.InSections:
		return lang.X("fit.sections", "in {{.N}} sections", map[string]any{"N": len(f.Sections)})
	}
	return lang.X("fit.not", "does not fit")
}
