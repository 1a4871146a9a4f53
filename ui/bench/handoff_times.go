package bench

import (
	"fmt"
	"slices"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/burn"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// timesPart says how long the panel burns and when that ends, and offers settings of the
// same dose that burn faster.
type timesPart struct {
	bench   *Bench
	section *widgets.Drawer
	box     *fyne.Container
	told    *widgets.Remarks
	faster  *widgets.PickList
	caution *widgets.Remarks
	offered []burn.EqualSetting
	now     func() time.Time
}

func newTimesPart(b *Bench) *timesPart {
	t := &timesPart{bench: b, told: widgets.NewRemarks(false), faster: widgets.NewPickList(), caution: widgets.NewRemarks(false), now: time.Now}
	t.faster.OnPicked = t.take
	t.box = container.NewVBox(t.told, t.faster, t.caution)
	t.section = b.newSection(lang.X("times.title", "Time"), t.box)
	return t
}

// refresh tells of the job, and of its note as soon as that is known.
func (t *timesPart) refresh(d job.Document, p job.Plan, n *export.Note) {
	burns := d.MostBurnTime(p.Placement.Grid)
	told := lang.X("times.most", "Burns at most {{.Time}}.", map[string]any{"Time": layout.FormatDuration(burns)})
	if n != nil {
		burns = n.BurnTime()
		told = lang.X("times.burns", "Burns about {{.Time}}.", map[string]any{"Time": layout.FormatDuration(burns)})
	}
	t.section.SetSummary(layout.FormatDuration(burns))
	start := t.now()
	_, ends := layout.BurnEnds(start, burns)
	words := []widgets.Remark{said(told), said(lang.X("times.ends", "Begun now, at {{.Now}}, it ends at {{.End}}.", map[string]any{
		"Now": clockText(layout.ClockOf(start, start)), "End": clockText(ends),
	}))}
	if n != nil && n.Timetable != nil {
		words = append(words, timetableWords(*n.Timetable)...)
	}
	t.told.Set(words...)
	t.offer(d)
	t.box.Refresh()
}

// clockText is a time of day, on some day after another.
func clockText(c layout.Clock) string {
	text := fmt.Sprintf("%02d:%02d", c.Hour, c.Minute)
	switch c.Days {
	case 0:
		return text
	case 1:
		return lang.X("clock.next", "{{.Time}} the next day", map[string]any{"Time": text})
	}
	return lang.X("clock.later", "{{.Time}}, {{.N}} days later", map[string]any{"Time": text, "N": c.Days})
}

// timetableWords are what matters of a timetable; every step of it stands in the calendar.
func timetableWords(t export.NoteTimetable) []widgets.Remark {
	at := func(m export.Moment) string { return m.Format("2006-01-02, 15:04") }
	out := []widgets.Remark{said(lang.X("times.painted", "Painting from {{.Start}}: it can be burned from {{.Burn}}, the burn ends {{.End}}, and it can hang from {{.Hang}}.", map[string]any{
		"Start": at(t.Start), "Burn": at(t.CanBurn), "End": at(t.BurnEnds), "Hang": at(t.CanHang),
	}))}
	for _, c := range t.Cautions {
		out = append(out, warned(c))
	}
	return out
}

// fasterMost is how many faster settings are offered.
const fasterMost = 4

// offer lists the settings of the same dose that burn faster, the fastest first.
func (t *timesPart) offer(d job.Document) {
	t.offered = fasterThan(d)
	picks := fasterPicks(t.offered)
	t.faster.Set(picks, -1)
	setVisible(t.faster, len(picks) > 0)
	t.caution.Set()
	if len(picks) > 0 {
		t.told.Set(append(t.told.Remarks(), said(lang.X("times.faster", "Faster, at the same dose, and how long at most; a click takes one:")))...)
		t.caution.Set(warned(burn.EqualDoseCaution))
	}
}

func fasterPicks(offered []burn.EqualSetting) []widgets.Pick {
	var picks []widgets.Pick
	for _, s := range offered {
		picks = append(picks, widgets.Pick{
			Label: fmt.Sprintf("%s, %.4g mm, %s %%", s.Setting.Speed, float64(s.Setting.Pitch), plainNumber(s.Setting.PowerPercent)),
			More:  layout.FormatDuration(s.Time),
		})
	}
	return picks
}

func fasterThan(d job.Document) []burn.EqualSetting {
	all, err := d.EqualDose()
	if err != nil {
		return nil // such a setting has no dose to match, which the burn's drawer says
	}
	now := slices.IndexFunc(all, func(s burn.EqualSetting) bool {
		return s.Setting.Speed == d.Setting.Speed && s.Setting.Pitch == d.Setting.Pitch
	})
	if now < 0 {
		return nil
	}
	most := all[now].Time
	all = slices.DeleteFunc(all, func(s burn.EqualSetting) bool { return s.Time >= most })
	slices.SortStableFunc(all, func(a, b burn.EqualSetting) int { return int(a.Time - b.Time) })
	return all[:min(fasterMost, len(all))]
}

func (t *timesPart) take(nth int) {
	setting := t.offered[nth].Setting
	t.bench.edit(lang.X("step.equal", "setting of the same dose"), "", func(d *job.Document) error {
		d.Setting = setting
		return nil
	})
}
