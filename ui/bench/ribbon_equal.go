package bench

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// askEqualDose shows the settings that give the same dose, to pick one.
func (b *Bench) askEqualDose() {
	doc := b.s.Document()
	settings, err := doc.EqualDose()
	if err != nil {
		b.complain(err)
		return
	}
	caution := widgets.NewRemarks(false)
	caution.Set(warned(burn.EqualDoseCaution))
	var d *dialog.CustomDialog
	list := widgets.NewPickList()
	picks, now := equalPicks(settings, doc.Setting)
	list.Set(picks, now)
	list.OnPicked = func(nth int) {
		d.Hide()
		b.edit(lang.X("step.equal", "setting of the same dose"), "", func(d *job.Document) error {
			d.Setting = settings[nth].Setting
			return nil
		})
	}
	scroll := container.NewVScroll(list)
	scroll.SetMinSize(fyne.NewSize(460, 300))
	d = dialog.NewCustomWithoutButtons(lang.X("equal.title", "Settings of the same dose"), container.NewBorder(caution, nil, nil, nil, scroll), b.win)
	d.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("equal.leave", "Leave it"), d.Hide)})
	d.Resize(fyne.NewSize(520, 460))
	b.ask(d)
}

// equalPicks puts settings into words, and tells which is the present one; -1 if none.
func equalPicks(settings []burn.EqualSetting, present burn.Setting) (picks []widgets.Pick, now int) {
	now = -1
	for i, s := range settings {
		if s.Setting == present {
			now = i
		}
		picks = append(picks, widgets.Pick{
			Label: lang.X("equal.setting", "{{.Speed}}, pitch {{.Pitch}} mm: {{.Power}} %", map[string]any{
				"Speed": s.Setting.Speed.String(), "Pitch": fmt.Sprintf("%.4g", float64(s.Setting.Pitch)), "Power": fmt.Sprintf("%.1f", s.Setting.PowerPercent),
			}),
			More: lang.X("equal.time", "at most {{.Time}}", map[string]any{"Time": layout.FormatDuration(s.Time)}),
		})
	}
	return picks, now
}
