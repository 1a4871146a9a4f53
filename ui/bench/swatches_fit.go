package bench

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/imaging/library"
	"undercoat/imaging/swatch/fit"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// fitStep finds the curve from the readings and hands it to the job.
type fitStep struct {
	*form
	all     *swatchesDrawer
	section *widgets.Drawer
	ready   *widgets.Remarks
	start   *widget.Button
	errand  *errand
	found   *fyne.Container
	coats   *widgets.FittedCoats
	notes   *widgets.Remarks
	next    *widgets.Remarks
	again   *widget.Button
	use     *widget.Button
	keep    *widget.Button
	beam    *beamPart

	result *session.FittedCurve // nil: none yet
	of     int                  // the answers it was found from
}

func newFitStep(all *swatchesDrawer) *fitStep {
	f := &fitStep{all: all, coats: widgets.NewFittedCoats(), notes: widgets.NewRemarks(false), next: widgets.NewRemarks(false)}
	f.form, f.section = all.section(lang.X("fit.step", "3. Fit"), func(d job.Document) string { return f.summary(d) })
	f.errand = f.bench.newErrand(all.again)
	f.ready = f.remarks()
	f.start = widget.NewButtonWithIcon(lang.X("fit.start", "Find the curve"), theme.SearchIcon(), func() { f.run() })
	f.box.Add(f.start)
	f.box.Add(f.errand.box)
	f.again = widget.NewButton(lang.X("fit.again", "Put these into a new chart"), f.chartOfNext)
	f.use = widget.NewButtonWithIcon(lang.X("fit.use", "Use this curve"), theme.ConfirmIcon(), f.put)
	f.use.Importance = widget.HighImportance
	f.keep = widget.NewButtonWithIcon(lang.X("fit.keep", "Keep in the library..."), theme.DocumentSaveIcon(), f.keepStack)
	f.found = container.NewVBox(f.coats, f.use, f.keep, f.notes, f.next, f.again)
	f.box.Add(f.found)
	f.when(f.found, func(job.Document) bool { return f.result != nil })
	f.shows = append(f.shows, f.showFit)
	f.beam = newBeamPart(all, f.form)
	return f
}

func (f *fitStep) summary(d job.Document) string {
	if f.result == nil {
		return ""
	}
	if f.result.InUse(d) {
		return lang.X("fit.inuse", "in use")
	}
	return gradeText(f.result.Grade)
}

func gradeText(g fit.Grade) string {
	switch g {
	case fit.Good:
		return lang.X("fit.good", "good")
	case fit.Fair:
		return lang.X("fit.fair", "fair: something is assumed")
	}
	return lang.X("fit.poor", "poor: the swatches do not fit")
}

func (f *fitStep) showFit(d job.Document) {
	used := 0
	for i := range f.all.readings {
		used += f.all.readings[i].Used()
	}
	enable(f.start, used > 0 && !f.errand.busy())
	ready := []widgets.Remark{said(lang.X("fit.none", "Nothing has been read yet."))}
	if len(f.all.readings) > 0 {
		ready[0] = said(lang.X("fit.ready", "{{.N}} swatches to go by.", map[string]any{"N": used}))
	}
	for _, r := range f.all.readings {
		if r.Stack != nil && !samePaint(d, r) {
			ready = append(ready, warned(lang.X("fit.otherpaint", "{{.Chart}} was made for {{.Stack}}, and this job has other coats", map[string]any{"Chart": r.Name, "Stack": r.Stack.Name})))
		}
	}
	f.ready.Set(ready...)
	if f.result == nil {
		return
	}
	f.coats.Set(f.fittedCoats())
	f.notes.Set(f.says(d)...)
	f.next.Set(f.burnNext()...)
	setVisible(f.again, len(f.result.Next) > 0)
	enable(f.use, f.result.Suits(d) && !f.result.InUse(d))
	enable(f.keep, !f.errand.busy())
}

// samePaint tells whether a job has the coats that a chart was made for. Their colours
// may have been measured since.
func samePaint(d job.Document, r session.ChartReading) bool {
	if len(d.Stack.Coats) != len(r.Stack.Coats) {
		return false
	}
	for i, c := range d.Stack.Coats {
		if c.Name != r.Stack.Coats[i].Name {
			return false
		}
	}
	return true
}

func setVisible(o fyne.CanvasObject, on bool) {
	if on {
		o.Show()
	} else {
		o.Hide()
	}
}

func (f *fitStep) fittedCoats() []widgets.FittedCoat {
	out := make([]widgets.FittedCoat, len(f.result.Coats))
	for i, c := range f.result.Coats {
		out[i] = widgets.FittedCoat{
			Name: c.Name, Before: f.result.Before.Coats[i].Colour, After: c.Colour,
			Value: lang.X("fit.dose", "{{.Dose}} J/cm²", map[string]any{"Dose": doseText(c.BreakThroughJCM2)}),
			Known: lang.X("fit.known", "95 %: {{.Low}} to {{.High}}, spread {{.Spread}}", map[string]any{
				"Low": doseText(c.Low), "High": doseText(c.High), "Spread": fmt.Sprintf("%.2f", c.Spread),
			}),
		}
		if !c.Reached {
			out[i].Value = lang.X("fit.notreached", "not reached")
			out[i].Known = lang.X("fit.guess", "a guess, {{.Dose}} J/cm²", map[string]any{"Dose": doseText(c.BreakThroughJCM2)})
		}
	}
	return out
}

func doseText(jcm2 float64) string { return fmt.Sprintf("%.1f", jcm2) }

// says is the fit in words.
func (f *fitStep) says(d job.Document) []widgets.Remark {
	r := f.result
	out := []widgets.Remark{said(lang.X("fit.grade", "The fit is {{.Grade}}.", map[string]any{"Grade": gradeText(r.Grade)}))}
	if r.ResidualDE00 > 0 {
		out[0].Text += " " + lang.X("fit.residual", "Swatches lie CIEDE2000 {{.Mean}} from the curve on average, {{.Largest}} at the most.", map[string]any{
			"Mean": fmt.Sprintf("%.1f", r.ResidualDE00), "Largest": fmt.Sprintf("%.1f", r.LargestDE00),
		})
	}
	if r.WordsRead > 0 {
		out = append(out, said(lang.X("fit.words", "{{.Agreed}} of {{.Read}} words agree with it.", map[string]any{"Agreed": r.WordsAgreed, "Read": r.WordsRead})))
	}
	if f.of != f.all.answers {
		out = append(out, warned(lang.X("fit.stale", "the readings have changed since: find the curve again")))
	}
	if !r.Suits(d) {
		out = append(out, warned(lang.X("fit.otherstack", "the stack has changed since: find the curve again")))
	}
	if r.Machine != d.Machine.Name {
		out = append(out, warned(lang.X("fit.othermachine", "the charts were burned on {{.Chart}}, this job is for {{.Job}}", map[string]any{"Chart": r.Machine, "Job": d.Machine.Name})))
	}
	for _, n := range r.Notes {
		out = append(out, warned(n))
	}
	return out
}

// burnNext lists the swatches that would tell most.
func (f *fitStep) burnNext() []widgets.Remark {
	if len(f.result.Next) == 0 {
		return nil
	}
	out := []widgets.Remark{said(lang.X("fit.next", "These swatches would tell most, if you burn more:"))}
	for _, s := range f.result.Next {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: settingText(s, true, true, s.Passes > 1)})
	}
	return out
}

// chartOfNext puts the swatches that would tell most into the lines of a new chart.
func (f *fitStep) chartOfNext() {
	c := f.all.made
	next := f.result.Next
	for line, value := range map[*widgets.Field]func(burn.Setting) float64{
		c.powers: func(s burn.Setting) float64 { return s.PowerPercent },
		c.speeds: func(s burn.Setting) float64 { return s.Speed.PerMinute() },
		c.pitch:  func(s burn.Setting) float64 { return float64(s.Pitch) },
		c.passes: func(s burn.Setting) float64 { return float64(s.Passes) },
	} {
		delete(c.follows, line)
		text := list(next, value)
		if line == c.speeds {
			text += " mm/min"
		}
		c.set(line, text)
	}
	c.kind.SetSelectedIndex(0)
	c.section.SetOpen(true)
	f.all.again()
	f.bench.Reveal(c.section)
}

// list writes the values that settings have, each once, in rising order.
func list(settings []burn.Setting, value func(burn.Setting) float64) string {
	var all []float64
	for _, s := range settings {
		all = append(all, value(s))
	}
	slices.Sort(all)
	var texts []string
	for _, v := range slices.Compact(all) {
		texts = append(texts, plainNumber(v))
	}
	return strings.Join(slices.Compact(texts), ", ")
}

// run finds the curve. The channel is closed once that has ended; it is nil where
// nothing has begun.
func (f *fitStep) run() (ended <-chan struct{}) {
	charts := make([]session.ChartReading, len(f.all.readings))
	for i, r := range f.all.readings {
		r.Readings.Swatches = slices.Clone(r.Readings.Swatches)
		charts[i] = r
	}
	of := f.all.answers
	return send(f.errand, lang.X("fit.fitting", "Fitting"), func(ctx context.Context, progress func(float64)) (*session.FittedCurve, error) {
		return f.bench.s.FitCurve(ctx, charts, progress)
	}, func(r *session.FittedCurve) {
		f.bench.hush()
		f.result, f.of = r, of
		f.all.again()
		f.bench.Reveal(f.use)
	}, f.bench.complain)
}

// put puts the fitted curve into the job.
func (f *fitStep) put() {
	b := f.bench
	if err := b.s.UseCurve(lang.X("step.fitted", "fitted curve"), f.result); err != nil {
		b.complain(err)
		return
	}
	b.notice.Inform(
		lang.X("fit.used", "The job has the curve of {{.Date}}.", map[string]any{"Date": f.result.Stack.Curve.Origin.Date}),
		lang.X("fit.usednext", "Look at the proof: tones and power may want another look."))
}

// keepStack asks under which name the library shall keep the calibrated stack and the
// readings that it was found from.
func (f *fitStep) keepStack() {
	b, lib := f.bench, library.Open()
	askName(b, nameRequest{
		title: lang.X("fit.keeptitle", "Keep the calibrated stack"),
		name:  libraryName(f.result.Stack.Name),
		check: library.CheckName,
		taken: func(name string) bool { return slices.Contains(lib.Names(library.Stack), name) },
		then: func(name string, replace bool) error {
			if err := b.s.KeepCurve(lang.X("step.kept", "keeping the stack"), f.result, lib, name, replace); err != nil {
				return err
			}
			if f.of == f.all.answers {
				f.all.keptAs(f.result.Stack.Curve.Origin.Readings)
			}
			f.all.again()
			b.restock()
			b.notice.Inform(lang.X("fit.kept", "The library keeps {{.Name}} and the readings of its charts.", map[string]any{"Name": name}), "")
			return nil
		},
	})
}

// libraryName proposes a name for an entry of the library.
func libraryName(title string) string {
	name := strings.TrimSpace(strings.Map(func(r rune) rune {
		if strings.ContainsRune(`/\:*?"<>|`, r) || unicode.IsControl(r) {
			return '-'
		}
		return r
	}, title))
	return strings.TrimLeft(name, "-. ")
}

// off is how far, in CIEDE2000, the reading of a chart's swatch lies from the curve;
// false where the fit says nothing of it.
func (f *fitStep) off(chart int, id string) (float64, bool) {
	if f.result == nil || f.of != f.all.answers {
		return 0, false
	}
	if len(f.all.readings) > 1 {
		id = fmt.Sprintf("%d/%s", chart+1, id)
	}
	for _, s := range f.result.Swatches {
		if s.ID == id {
			return s.DE00, s.DE00 > 0
		}
	}
	return 0, false
}
