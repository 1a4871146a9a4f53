package bench

import (
	"fmt"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// burnDrawer holds the machine and the setting.
type burnDrawer struct {
	*form
	drawer *widgets.Drawer
	facts  *widgets.Remarks
}

func newBurnDrawer(b *Bench) *burnDrawer {
	f := b.newForm()
	r := &burnDrawer{form: f}
	choiceOf(f, lang.X("burn.machine", "Machine"), lang.X("burn.choose", "Choose a machine"), lang.X("step.machine", "machine"),
		func(job.Document) []option[string] { return optionsOf(b.shelf.machines) },
		func(d job.Document) string { return nameOf(b.shelf.machineOf(d.Machine)) },
		func(d *job.Document, name string) (err error) {
			d.Machine, err = called(b.shelf.machines, name)
			return err
		})
	f.field(lang.X("burn.power", "Power"), "%", stepPower(),
		func(d job.Document) string { return plainNumber(d.Setting.PowerPercent) },
		func(d *job.Document, text string) (err error) {
			d.Setting.PowerPercent, err = parseNumber(text)
			return err
		})
	f.field(lang.X("burn.speed", "Speed"), "", lang.X("step.speed", "speed"),
		func(d job.Document) string { return d.Setting.Speed.String() },
		func(d *job.Document, text string) (err error) {
			d.Setting.Speed, err = layout.ParseSpeed(text)
			return err
		})
	f.field(lang.X("burn.pitch", "Pitch"), "", lang.X("step.pitch", "pitch"),
		func(d job.Document) string { return plainNumber(float64(d.Setting.Pitch)) + " mm" },
		func(d *job.Document, text string) (err error) {
			d.Setting.Pitch, err = layout.ParsePitch(text)
			return err
		})
	f.whole(lang.X("burn.passes", "Passes"), "", lang.X("step.passes", "passes"), "1",
		func(d job.Document) int { return d.Setting.Passes },
		func(d *job.Document, n int) { d.Setting.Passes = n })
	f.screen()
	r.facts = f.remarks()
	r.drawer = widgets.NewDrawer(lang.X("drawer.burn", "Burn"), f.box)
	b.offersShelf(r.drawer)
	return r
}

func stepPower() string { return lang.X("step.power", "power") }

func (r *burnDrawer) widget() *widgets.Drawer { return r.drawer }

func (r *burnDrawer) refresh(d job.Document, p job.Plan) {
	r.show(d)
	facts := []widgets.Remark{said(lang.X("burn.dose", "Full dose {{.Dose}} J/cm², {{.DPI}} dots per inch.", map[string]any{
		"Dose": fmt.Sprintf("%.1f", p.DoseJCM2), "DPI": fmt.Sprintf("%.5g", layout.DPI(d.Setting.Pitch)),
	}))}
	if strings.HasSuffix(d.Machine.Name, starterValues) {
		facts = append(facts, said(lang.X("burn.starter", "The machine has starter values: none was measured on yours.")))
	}
	r.facts.Set(append(facts, r.bench.shelf.troubles(library.Machine)...)...)
	r.drawer.SetSummary(fmt.Sprintf("%s %%, %s", plainNumber(d.Setting.PowerPercent), d.Setting.Speed))
}
