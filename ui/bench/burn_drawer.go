package bench

import (
	"fmt"
	"strconv"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/assets"
	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/imaging/screen"
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
	choice(f, lang.X("burn.machine", "Machine"), lang.X("burn.choose", "Choose a machine"), lang.X("step.machine", "machine"), readyMachines(),
		func(d job.Document) burn.Machine { return d.Machine },
		func(d *job.Document, m burn.Machine) error { d.Machine = m; return nil })
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
	f.field(lang.X("burn.passes", "Passes"), "", lang.X("step.passes", "passes"),
		func(d job.Document) string { return strconv.Itoa(d.Setting.Passes) },
		func(d *job.Document, text string) error {
			n, err := strconv.Atoi(text)
			if err != nil {
				return fmt.Errorf("%q is not a whole number: write, for instance, 1", text)
			}
			d.Setting.Passes = n
			return nil
		})
	choice(f, lang.X("burn.kind", "Screen"), lang.X("burn.choosescreen", "Choose a screen"), lang.X("step.screen", "screen"), screenKinds(),
		func(d job.Document) screen.Kind { return d.Screen.Kind },
		func(d *job.Document, k screen.Kind) error { d.Screen.Kind = k; return nil })
	f.check(lang.X("burn.rows", "Rows"), lang.X("burn.oneway", "every row left to right"), lang.X("step.screen", "screen"),
		func(d job.Document) bool { return d.Screen.OneWay },
		func(d *job.Document, on bool) { d.Screen.OneWay = on })
	r.facts = f.remarks()
	r.drawer = widgets.NewDrawer(lang.X("drawer.burn", "Burn"), f.box)
	return r
}

func stepPower() string { return lang.X("step.power", "power") }

// screenKinds are the screens a job can have, the usual one first. One without a
// name of its own here goes by its own.
func screenKinds() []option[screen.Kind] {
	labels := map[screen.Kind]string{
		screen.FloydSteinberg:    lang.X("screen.fs", "Fine grain (Floyd-Steinberg)"),
		screen.BlueNoise:         lang.X("screen.blue", "Even grain (blue noise)"),
		screen.JarvisJudiceNinke: lang.X("screen.jjn", "Crisp (Jarvis-Judice-Ninke)"),
		screen.Stucki:            lang.X("screen.stucki", "Crisper (Stucki)"),
		screen.Burkes:            lang.X("screen.burkes", "In between (Burkes)"),
		screen.Sierra:            lang.X("screen.sierra", "Soft crisp (Sierra)"),
		screen.SierraTwoRow:      lang.X("screen.sierra2", "Softer (Sierra, two rows)"),
		screen.SierraLite:        lang.X("screen.sierralite", "Plain (Sierra lite)"),
		screen.Atkinson:          lang.X("screen.atkinson", "Open, drawn (Atkinson)"),
		screen.Clustered:         lang.X("screen.clustered", "Dots in cells"),
		screen.Bayer:             lang.X("screen.bayer", "Woven (Bayer)"),
		screen.Threshold:         lang.X("screen.threshold", "All or nothing"),
	}
	var out []option[screen.Kind]
	for _, k := range screen.Kinds() {
		label, ok := labels[k]
		if !ok {
			label = string(k)
		}
		out = append(out, option[screen.Kind]{k, label})
	}
	return out
}

// readyMachines are the starter machines.
func readyMachines() []option[burn.Machine] {
	var out []option[burn.Machine]
	for _, name := range assets.MachineNames() {
		if m, err := job.FindMachine(name); err == nil {
			out = append(out, option[burn.Machine]{m, starterLabel(m.Name)})
		}
	}
	return out
}

func (r *burnDrawer) widget() *widgets.Drawer { return r.drawer }

func (r *burnDrawer) refresh(d job.Document, p job.Plan) {
	r.show(d)
	facts := []widgets.Remark{said(lang.X("burn.dose", "Full dose {{.Dose}} J/cm², {{.DPI}} dots per inch.", map[string]any{
		"Dose": fmt.Sprintf("%.1f", p.DoseJCM2), "DPI": fmt.Sprintf("%.5g", layout.DPI(d.Setting.Pitch)),
	}))}
	if strings.HasSuffix(d.Machine.Name, starterValues) {
		facts = append(facts, said(lang.X("burn.starter", "The machine has starter values: none was measured on yours.")))
	}
	r.facts.Set(facts...)
	r.drawer.SetSummary(fmt.Sprintf("%s %%, %s", plainNumber(d.Setting.PowerPercent), d.Setting.Speed))
}
