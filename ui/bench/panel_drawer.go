package bench

import (
	"fyne.io/fyne/v2/lang"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// panelDrawer holds the panel and the border.
type panelDrawer struct {
	*form
	drawer *widgets.Drawer
}

func newPanelDrawer(b *Bench) *panelDrawer {
	f := b.newForm()
	step := lang.X("step.panel", "panel")
	choice(f, lang.X("panel.ready", "Ready-made"), lang.X("panel.choose", "Choose a size"), step, readyPanels(),
		func(d job.Document) layout.Panel { return d.Panel },
		func(d *job.Document, p layout.Panel) error { d.Panel = p; return nil })
	choice(f, lang.X("panel.kind", "Kind"), "", step, []option[layout.PanelKind]{
		{layout.Canvas, lang.X("panel.canvas", "Canvas")},
		{layout.Board, lang.X("panel.board", "Board")},
		{layout.Tile, lang.X("panel.tile", "Tile")},
	}, func(d job.Document) layout.PanelKind { return d.Panel.Kind },
		func(d *job.Document, k layout.PanelKind) error { d.Panel.Kind = k; return nil })
	f.length(lang.X("panel.width", "Width"), step,
		func(d job.Document) layout.MM { return d.Panel.Size.W },
		func(d *job.Document, l layout.MM) { d.Panel.Size.W = l })
	f.length(lang.X("panel.height", "Height"), step,
		func(d job.Document) layout.MM { return d.Panel.Size.H },
		func(d *job.Document, l layout.MM) { d.Panel.Size.H = l })
	f.length(lang.X("panel.edge", "Edge depth"), step,
		func(d job.Document) layout.MM { return d.Panel.EdgeDepth },
		func(d *job.Document, l layout.MM) { d.Panel.EdgeDepth = l })
	f.field(lang.X("panel.border", "Border"), "", stepBorder(),
		func(d job.Document) string { return d.UnitOf().FormatBorder(d.Border) },
		func(d *job.Document, text string) (err error) {
			d.Border, err = layout.ParseBorder(text, d.UnitOf())
			return err
		})
	choice(f, lang.X("panel.unit", "Show in"), "", lang.X("step.unit", "unit"), []option[string]{
		{layout.Millimetre.String(), lang.X("unit.mm", "mm")},
		{layout.Centimetre.String(), lang.X("unit.cm", "cm")},
		{layout.Inches.String(), lang.X("unit.in", "in")},
	}, func(d job.Document) string { return d.Unit },
		func(d *job.Document, u string) error { d.Unit = u; return nil })
	return &panelDrawer{f, widgets.NewDrawer(lang.X("drawer.panel", "Panel"), f.box)}
}

func stepBorder() string { return lang.X("step.border", "border") }

// readyPanels are the starter panels. One that cannot be read is left out.
func readyPanels() []option[layout.Panel] {
	var out []option[layout.Panel]
	for _, name := range assets.PanelNames() {
		if p, title, err := job.FindPanel(name); err == nil {
			out = append(out, option[layout.Panel]{p, title})
		}
	}
	return out
}

func (p *panelDrawer) widget() *widgets.Drawer { return p.drawer }

func (p *panelDrawer) refresh(d job.Document, _ job.Plan) {
	p.show(d)
	u := d.UnitOf()
	p.drawer.SetSummary(lang.X("panel.summary", "{{.Size}}, border {{.Border}}", map[string]any{
		"Size": u.FormatSize(d.Panel.Size), "Border": u.FormatBorder(d.Border),
	}))
}
