package bench

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// powerDrag is the mark by which the moves of the ribbon's marker become one step.
const powerDrag = "power drag"

// ribbon is the depth ribbon along the lower edge: what comes out at every dose, and
// the setting to be moved by hand.
type ribbon struct {
	bench  *Bench
	widget *widgets.DepthRibbon
	object fyne.CanvasObject

	shown  *proof.Ribbon // nil: nothing is known yet
	full   proof.Cut     // at the setting
	came   newest[session.Depths]
	recipe proof.Recipe
}

func newRibbon(b *Bench) *ribbon {
	r := &ribbon{bench: b, widget: widgets.NewDepthRibbon()}
	r.widget.OnDose = r.setDose
	r.widget.OnDoseEnded = func(float64) { b.s.EndDrag() }
	r.widget.Describe = r.describe
	equal := widget.NewButton(lang.X("ribbon.equal", "Same dose..."), b.unasked(b.askEqualDose))
	equal.Importance = widget.LowImportance
	r.object = container.NewBorder(nil, nil, nil, container.NewVBox(layout.NewSpacer(), equal, layout.NewSpacer()), r.widget)
	return r
}

// depthsOut takes what the worker found about doses.
func (b *Bench) depthsOut(d session.Depths) {
	if b.ribbon.came.put(d) {
		b.do(func() { b.ribbon.show(b.ribbon.came.take()) })
	}
}

// show puts what was found on the ribbon. What could not be found is told with the
// picture that fails for the same reason.
func (r *ribbon) show(d session.Depths) {
	if d.Err != nil {
		return
	}
	if d.Ribbon != r.shown {
		r.shown = d.Ribbon
		r.widget.SetLooks(d.Ribbon.Looks, d.Ribbon.FullJCM2)
		r.widget.SetScorch(d.Ribbon.ScorchJCM2)
		breaks := make([]widgets.BreakThrough, len(d.Ribbon.Breaks))
		for i, b := range d.Ribbon.Breaks {
			breaks[i] = widgets.BreakThrough(b)
		}
		r.widget.SetBreakThroughs(breaks)
	}
	r.full = d.Full
	r.widget.SetHistogram(d.Shares)
	r.widget.SetSteps(d.Steps)
	r.bench.cores.showSetting()
}

func (r *ribbon) refresh(d job.Document, p job.Plan) {
	r.recipe = d.Recipe()
	r.widget.SetDose(p.DoseJCM2)
	r.widget.SetUncalibrated(!p.Calibrated)
}

// powerStep is how finely the marker sets the power, in percent.
const powerStep = 0.1

// setDose sets the power at which the marker's dose comes out.
func (r *ribbon) setDose(doseJCM2 float64) {
	power := r.powerFor(doseJCM2)
	r.bench.edit(stepPower(), powerDrag, func(d *job.Document) error {
		d.Setting.PowerPercent = power
		return nil
	})
}

// powerFor is the nearest power that can be set, and burns at all.
func (r *ribbon) powerFor(doseJCM2 float64) float64 {
	steps := math.Round(r.recipe.PowerFor(doseJCM2) / powerStep)
	least := math.Floor(r.recipe.Machine.PowerOffsetPercent/powerStep) + 1
	return min(100, max(steps, least)*10/100)
}

// describe says what shows at a dose, and at which power it comes out.
func (r *ribbon) describe(doseJCM2 float64) string {
	if r.shown == nil {
		return ""
	}
	cut := r.shown.At(doseJCM2)
	return lang.X("ribbon.describe", "{{.Power}} % power: {{.Shows}}, {{.Depth}} µm deep", map[string]any{
		"Power": plainNumber(r.powerFor(doseJCM2)), "Shows": showing(cut, r.recipe.Stack.Ground.Name), "Depth": fmt.Sprintf("%.0f", cut.DepthUM),
	})
}

// showing names the layers that are seen on a fair part of a cut, the largest first.
func showing(c proof.Cut, ground string) string {
	const fair, most = 0.05, 3
	parts := layersOf(c, ground)
	slices.SortStableFunc(parts, func(a, b widgets.Part) int {
		if a.Share > b.Share {
			return -1
		}
		return 1
	})
	var names []string
	for i, p := range parts {
		if i == 0 && p.Share > 1-fair {
			return p.Name
		}
		if p.Share >= fair && len(names) < most {
			names = append(names, fmt.Sprintf("%s %.0f %%", p.Name, 100*p.Share))
		}
	}
	return strings.Join(names, ", ")
}

// layersOf are the shares of the coats, from the top down, and of the ground.
func layersOf(c proof.Cut, ground string) []widgets.Part {
	parts := make([]widgets.Part, 0, len(c.Coats)+1)
	for _, k := range c.Coats {
		parts = append(parts, widgets.Part{Name: k.Name, Colour: k.Colour, Share: k.Shows})
	}
	return append(parts, widgets.Part{Name: ground, Share: c.GroundShows})
}
