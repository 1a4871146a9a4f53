package bench

import (
	"errors"
	"math"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// workshopPart is what the sheets need to know beyond the job: when the painting starts,
// how far a can goes, whose picture it is, the paper, and whether to burn in sections.
type workshopPart struct {
	*shopForm
	length *widgets.Field // of sections
	why    string         // the job cannot be burned in sections of that length; empty: it can
}

// usualSections is the length that is proposed for sections: what a hand moves along with
// ease.
const usualSections layout.MM = 300

func newWorkshopPart(b *Bench, changed func()) *workshopPart {
	w := &workshopPart{shopForm: newShopForm(b, lang.X("shop.title", "Workshop"), changed)}
	w.field(lang.X("shop.start", "Start"), "", startText, writeStart)
	hint := widgets.NewRemarks(true)
	hint.Set(said(lang.X("shop.starthint", "Day and time at which the painting starts, as 2026-05-01 09:00: makes a timetable and a calendar. Leave it empty for neither.")))
	w.box.Add(hint)
	w.pick(lang.X("shop.drying", "Drying"), []string{lang.X("shop.air", "In the open air"), lang.X("shop.warm", "Heat gun")},
		func(w session.Workshop) int { return indexOf(w.Habits.Drying == layout.HeatGun) },
		func(w *session.Workshop, nth int) {
			w.Habits.Drying = []layout.Drying{layout.AirDried, layout.HeatGun}[nth]
		})
	w.number(lang.X("shop.can", "Can covers"), "m²", func(w *session.Workshop) *float64 { return &w.Can.CoversM2 })
	w.field(lang.X("shop.loss", "Paint lost"), "%",
		func(w session.Workshop, _ layout.Unit) string {
			if w.Can.Lost == 0 {
				return ""
			}
			return plainNumber(100 * w.Can.Lost)
		}, writeLoss)
	w.field(lang.X("shop.rights", "Rights"), "",
		func(w session.Workshop, _ layout.Unit) string { return w.Rights },
		func(w *session.Workshop, text string) error { w.Rights = strings.TrimSpace(text); return nil })
	w.pick(lang.X("shop.paper", "Paper"), []string{"A4", "Letter"},
		func(w session.Workshop) int { return indexOf(w.Letter) },
		func(w *session.Workshop, nth int) { w.Letter = nth == 1 })
	w.tick(lang.X("shop.sections", "Sections"), lang.X("shop.shorter", "burn in shorter sections"),
		func(w session.Workshop) bool { return w.Sections != 0 }, w.turnSections)
	w.length = w.field(lang.X("shop.length", "At most"), "", sectionsText, w.writeSections)
	w.shows = append(w.shows, func(now session.Workshop, _ layout.Unit) { w.showLength(now) })
	return w
}

// indexOf is 1 for the second of two ways.
func indexOf(second bool) int {
	if second {
		return 1
	}
	return 0
}

func startText(w session.Workshop, _ layout.Unit) string {
	if w.Start.IsZero() {
		return ""
	}
	return w.Start.Format(job.StartForm)
}

func writeStart(w *session.Workshop, text string) (err error) {
	if text = strings.TrimSpace(text); text == "" {
		w.Start = session.Workshop{}.Start
		return nil
	}
	w.Start, err = job.ParseStart(text)
	return err
}

// writeLoss reads a share of the paint.
func writeLoss(w *session.Workshop, text string) error {
	v, err := parseOptional(text)
	if err != nil {
		return err
	}
	if v < 0 || v > 90 {
		return errors.New(lang.X("shop.lossrange", "{{.Value}} % is not possible: give 0 to 90, or nothing for the usual", map[string]any{"Value": minus(plainNumber(v))}))
	}
	w.Can.Lost = v / 100
	return nil
}

func sectionsText(w session.Workshop, u layout.Unit) string {
	if w.Sections == 0 {
		return ""
	}
	return u.Format(w.Sections)
}

// turnSections proposes a length that this panel can be burned in.
func (w *workshopPart) turnSections(to *session.Workshop, on bool) {
	to.Sections = 0
	if on {
		to.Sections = sectionLength(w.bench.s.Document())
	}
}

// sectionLength is the longest that cuts this panel at all, of the usual length, half the
// panel either way, and ever shorter ones.
func sectionLength(d job.Document) layout.MM {
	size := d.Panel.Size
	tries := []layout.MM{usualSections}
	for parts := layout.MM(2); parts <= 16; parts *= 2 {
		tries = append(tries, max(size.W, size.H)/parts, min(size.W, size.H)/parts)
	}
	for _, l := range tries {
		l = max(1, layout.MM(math.Ceil(float64(l))))
		if fit, err := d.FitIn(l); err == nil && fit.How == layout.InSections {
			return l
		}
	}
	return usualSections // of which the line below says why not
}

// writeSections refuses what this panel cannot be burned in.
func (w *workshopPart) writeSections(to *session.Workshop, text string) error {
	l, err := layout.ParseLength(text, w.unit())
	if err == nil && l == 0 {
		err = errors.New(lang.X("shop.nolength", "sections of no length are not possible: write, for instance, 300 mm"))
	}
	if err == nil {
		_, err = w.bench.s.Document().FitIn(l)
	}
	if err == nil {
		to.Sections = l
	}
	return err
}

// showLength shows the length only where it counts, and below it why the job as it has
// become cannot be burned so.
func (w *workshopPart) showLength(now session.Workshop) {
	if now.Sections == 0 {
		w.length.Hide()
		w.why = ""
		w.length.SetProblem("")
		return
	}
	w.length.Show()
	why := ""
	if _, err := w.bench.s.Document().FitIn(now.Sections); err != nil {
		why = err.Error()
	}
	if why != w.why {
		w.why = why
		w.length.SetProblem(why)
	}
}

// refresh shows what the session holds, and what the heading says of it.
func (w *workshopPart) refresh(u layout.Unit) {
	w.show(u)
	w.box.Refresh()
	now := w.bench.s.Workshop()
	parts := []string{"A4"}
	if now.Letter {
		parts[0] = "Letter"
	}
	if !now.Start.IsZero() {
		parts = append([]string{startText(now, u)}, parts...)
	}
	if now.Sections != 0 {
		parts = append(parts, lang.X("shop.insections", "sections"))
	}
	w.section.SetSummary(strings.Join(parts, ", "))
}
