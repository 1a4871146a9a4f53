package bench

import (
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// readingsPart lists what the swatches of the picked chart look like. One of them is
// picked, and the list below is for what the maker says about it.
type readingsPart struct {
	step    *photoStep
	box     *fyne.Container
	list    *widgets.PickList
	scroll  *container.Scroll
	picked  int // -1: none
	seen    *widget.Select
	row     *widgets.Named
	answers []session.Answer // that the list below offers
	asks    int              // the one of them that asks for a colour
	white   *widget.Button
	reason  *widgets.Remarks
	showing bool
}

// readingsTall is how much of the readings is seen at once.
const readingsTall = 8 * 26

func newReadingsPart(p *photoStep) *readingsPart {
	r := &readingsPart{step: p, picked: -1, list: widgets.NewPickList(), seen: widget.NewSelect(nil, nil), reason: widgets.NewRemarks(false)}
	r.scroll = container.NewVScroll(r.list)
	r.list.OnPicked = r.pick
	r.seen.OnChanged = func(string) { r.answer() }
	r.row = widgets.NewNamed(lang.X("reading.shows", "What shows"), r.seen)
	keep := widget.NewButtonWithIcon(lang.X("reading.keep", "Keep readings..."), theme.DocumentSaveIcon(), r.keep)
	remove := widget.NewButtonWithIcon(lang.X("reading.remove", "Remove"), theme.DeleteIcon(), p.remove)
	r.white = widget.NewButton("", r.askWhite)
	r.box = container.NewVBox(r.scroll, r.row, r.reason, r.white, container.NewGridWithColumns(2, keep, remove))
	p.box.Add(r.box)
	p.when(r.box, func(job.Document) bool { return len(p.all.readings) > 0 })
	p.shows = append(p.shows, r.show)
	return r
}

// chart is the picked chart's readings; nil where none was read.
func (r *readingsPart) chart() *session.ChartReading {
	if r.step.picked < len(r.step.all.readings) {
		return &r.step.all.readings[r.step.picked]
	}
	return nil
}

// pick turns the list below over to a swatch; -1 is none.
func (r *readingsPart) pick(nth int) {
	r.picked = nth
	r.step.all.again()
}

func (r *readingsPart) show(d job.Document) {
	c := r.chart()
	if c == nil {
		return
	}
	texts := settingTexts(c.Readings.Swatches)
	picks := make([]widgets.Pick, len(c.Readings.Swatches))
	for i, s := range c.Readings.Swatches {
		picks[i] = widgets.Pick{Label: s.ID + "  " + texts[i], More: r.more(i, s)}
		picks[i].Chip = widgets.EmptyChip
		if s.LinearRGB != nil {
			picks[i].Chip = s.LinearRGB.Stored()
		} else if seen, ok := paintSeen(s, d.Stack); ok {
			picks[i].Chip = seen
		}
	}
	r.list.Set(picks, r.picked)
	r.scroll.SetMinSize(fyne.NewSize(0, min(readingsTall, r.list.MinSize().Height)))
	r.showWhite(c)
	r.showPicked(c, d)
}

// paintSeen is the paint that somebody saw most of; false where nobody saw any.
func paintSeen(s swatch.Reading, stack coat.Stack) (paint colour.Stored, ok bool) {
	seen, err := swatch.ParseSeen(s.Seen, stack)
	switch {
	case err != nil:
		return paint, false
	case seen.Scorched:
		return stack.Curve.ScorchColour, true
	case seen.Layer < len(stack.Coats):
		return stack.Coats[seen.Layer].Colour, true
	}
	return stack.Ground.Colour, true
}

// more is what stands behind a swatch: what was seen on it, that it is left out, or how
// far it is from where the curve puts it.
func (r *readingsPart) more(nth int, s swatch.Reading) string {
	switch {
	case s.LeftOut != "":
		return lang.X("reading.out", "left out")
	case s.Seen != "":
		return s.Seen
	}
	if off, ok := r.step.all.fit.off(r.step.picked, s.ID); ok {
		return lang.X("reading.off", "off by {{.DE}}", map[string]any{"DE": fmt.Sprintf("%.1f", off)})
	}
	return ""
}

// showPicked shows what can be said about the picked swatch.
func (r *readingsPart) showPicked(c *session.ChartReading, d job.Document) {
	if r.picked < 0 || r.picked >= len(c.Readings.Swatches) {
		r.row.Hide()
		r.reason.Set(remarksOf(c.Cautions)...)
		return
	}
	s := c.Readings.Swatches[r.picked]
	r.answers = r.answers[:0]
	var labels []string
	offer := func(label string, a session.Answer) {
		labels, r.answers = append(labels, label), append(r.answers, a)
	}
	if c.Measured(r.picked) {
		offer(lang.X("reading.asread", "As it was read"), session.Answer{Measured: true})
	}
	for _, word := range swatch.SeenChoices(d.Stack) {
		offer(word, session.Answer{Seen: word})
	}
	answered := c.Answered(r.picked)
	if answered.Picked {
		offer(lang.X("reading.picked", "The colour {{.Colour}}", map[string]any{"Colour": answered.Colour.String()}), answered)
	}
	r.asks = len(labels)
	offer(lang.X("reading.pick", "Pick a colour..."), session.Answer{})
	offer(lang.X("reading.leave", "Leave it out"), session.Answer{})
	r.showing = true
	r.seen.SetOptions(labels)
	r.seen.ClearSelected()
	for i, a := range r.answers {
		if a == answered && i != r.asks && !c.Unseen(r.picked) {
			r.seen.SetSelectedIndex(i)
		}
	}
	r.showing = false
	r.row.SetName(lang.X("reading.on", "{{.ID}} shows", map[string]any{"ID": s.ID}))
	r.row.Show()
	r.reason.Set()
	if s.LeftOut != "" {
		r.reason.Set(warned(s.ID + ": " + s.LeftOut))
	}
}

func remarksOf(cautions []string) []widgets.Remark {
	out := make([]widgets.Remark, len(cautions))
	for i, c := range cautions {
		out[i] = warned(c)
	}
	return out
}

// answer takes what the maker says about the picked swatch. By eye, it goes on to the
// next that nobody has looked at.
func (r *readingsPart) answer() {
	c, i := r.chart(), r.seen.SelectedIndex()
	if r.showing || c == nil || i < 0 {
		return
	}
	if i == r.asks {
		r.askColour(c)
		return
	}
	r.take(c, r.answers[i])
}

// take takes an answer for the picked swatch.
func (r *readingsPart) take(c *session.ChartReading, a session.Answer) {
	first := c.Unseen(r.picked)
	c.Answer(r.picked, a)
	r.step.all.answered()
	if next := c.NextUnseen(r.picked); first && next >= 0 {
		r.picked = next
		r.reveal()
	}
	r.step.all.again()
}

// askColour asks for the colour that shows on the picked swatch.
func (r *readingsPart) askColour(c *session.ChartReading) {
	b, nth := r.step.bench, r.picked
	s, first := c.Readings.Swatches[nth], b.s.Document().Stack.Coats[0].Colour
	if s.LinearRGB != nil {
		first = s.LinearRGB.Stored()
	} else if seen, ok := paintSeen(s, b.s.Document().Stack); ok {
		first = seen
	}
	r.step.all.again() // the list shows what holds until a colour is taken
	b.ask(widgets.NewColourPicker(lang.X("reading.on", "{{.ID}} shows", map[string]any{"ID": s.ID}),
		lang.X("reading.pickhint", "Hold the swatch to the screen in even white light, and match it."), first, func(picked colour.Stored) {
			if now := r.chart(); now == c && r.picked == nth {
				r.take(c, session.Answer{Picked: true, Colour: picked})
			}
		}, b.win))
}

// reveal scrolls the list so that the picked swatch can be seen.
func (r *readingsPart) reveal() {
	top := float32(r.picked) * r.list.MinSize().Height / float32(max(1, r.list.Len()))
	if y := r.scroll.Offset.Y; top < y || top > y+readingsTall*0.85 {
		r.scroll.ScrollToOffset(fyne.NewPos(0, max(0, top-readingsTall/2)))
	}
}

// keep asks where to write the picked chart's readings.
func (r *readingsPart) keep() {
	c := r.chart()
	data, err := c.Readings.JSON()
	if err != nil {
		r.step.bench.complain(err)
		return
	}
	name := strings.TrimSuffix(c.Name, chartEnding)
	r.step.bench.keepFile(lang.X("reading.keeptitle", "Keep the readings"), job.NameOf(name)+" readings", data)
}

// keepFile asks where to write a file of the program's own.
func (b *Bench) keepFile(title, name string, data []byte) {
	newFileQuestion(b, saveRequest{title: title, name: name, ending: chartEnding, write: func(path string) {
		if err := export.WriteFile(path, true, func(w io.Writer) error {
			_, err := w.Write(data)
			return err
		}); err != nil {
			b.complain(err)
			return
		}
		b.notice.Inform(lang.X("keep.done", "Wrote {{.File}}.", map[string]any{"File": path}), "")
	}}).show()
}

// settingTexts are the settings of swatches by what differs among them, the power in any
// case.
func settingTexts(all []swatch.Reading) []string {
	var speeds, pitches, passes bool
	first := all[0].Setting
	for _, s := range all {
		speeds = speeds || s.Setting.Speed != first.Speed
		pitches = pitches || s.Setting.Pitch != first.Pitch
		passes = passes || s.Setting.Passes != first.Passes
	}
	texts := make([]string, len(all))
	for i, s := range all {
		texts[i] = settingText(s.Setting, speeds, pitches, passes)
		if s.Tint > 0 {
			texts[i] = lang.X("swatch.tint", "tint {{.Tint}} %", map[string]any{"Tint": plainNumber(100 * s.Tint)})
		}
	}
	return texts
}

// settingText is a setting in short: its power, and what else is asked for.
func settingText(s burn.Setting, speed, pitch, passes bool) string {
	parts := []string{fmt.Sprintf("%.3g %%", s.PowerPercent)}
	if speed {
		parts = append(parts, fmt.Sprintf("%.6g mm/min", s.Speed.PerMinute()))
	}
	if pitch {
		parts = append(parts, fmt.Sprintf("%.4g mm", float64(s.Pitch)))
	}
	if passes {
		parts = append(parts, lang.X("swatch.passes", "{{.N}} x", map[string]any{"N": s.Passes}))
	}
	return strings.Join(parts, ", ")
}
