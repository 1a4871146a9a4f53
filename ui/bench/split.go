package bench

import (
	"fmt"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	box "fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/proof"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// split compares the job with another on the easel, on the two sides of a line, and
// is the bar above the easel that says with which.
type split struct {
	bench *Bench
	bar   *fyne.Container
	with  *widget.Select
	power *widget.Entry
	box   *fyne.Container // the power to compare with

	cases []rival
	on    bool
	now   rival

	detail *session.Picture // the sharper part on show; nil: none
}

// rival is something to compare the job with.
type rival struct {
	label   string
	byPower bool
	other   session.Other
	// names are what the two sides are called.
	names func(d job.Document) [2]string
}

func newSplit(b *Bench) *split {
	s := &split{bench: b}
	s.with = widget.NewSelect(nil, nil)
	s.with.OnChanged = func(string) { s.choose(s.with.SelectedIndex()) }
	s.power = widget.NewEntry()
	s.power.OnSubmitted = func(string) { s.takePower() }
	s.box = container.NewHBox(&fyne.Container{Layout: fixedWidth(64), Objects: []fyne.CanvasObject{s.power}}, widget.NewLabel("%"))
	end := widget.NewButtonWithIcon(lang.X("compare.end", "End comparing"), theme.CancelIcon(), func() { s.end() })
	end.Importance = widget.LowImportance
	s.bar = container.NewPadded(container.NewHBox(
		widget.NewLabel(lang.X("compare.with", "Compare with")),
		&fyne.Container{Layout: fixedWidth(340), Objects: []fyne.CanvasObject{widgets.NewRimmed(s.with)}},
		s.box,
		box.NewSpacer(),
		end,
	))
	s.bar.Hide()
	return s
}

// toggle begins to compare, or ends it.
func (s *split) toggle() {
	if s.on {
		s.end()
		return
	}
	b := s.bench
	if b.sheet != nil {
		b.Show(b.view)
	}
	s.on = true
	d := b.s.Document()
	s.power.SetText(plainNumber(rivalPower(d.Setting.PowerPercent)))
	s.offer(d)
	s.bar.Show()
	s.with.SetSelectedIndex(0)
	s.choose(0)
	b.toolbar.refresh()
}

// offer lists what a job can be compared with.
func (s *split) offer(d job.Document) {
	s.cases = s.rivals(d)
	labels := make([]string, len(s.cases))
	for i, c := range s.cases {
		labels[i] = c.label
	}
	s.with.SetOptions(labels)
}

// restock takes what the library has now into the list. What is compared with stays.
func (s *split) restock() {
	if s.on {
		s.offer(s.bench.s.Document())
	}
}

func (s *split) end() {
	if !s.on {
		return
	}
	s.on, s.detail = false, nil
	s.with.ClearSelected()
	s.bar.Hide()
	b := s.bench
	b.s.Compare(nil)
	b.easel.SetOther(nil, b.visible.Area, "", "")
	b.toolbar.refresh()
	b.requestPictures()
}

func (s *split) choose(nth int) {
	if !s.on || nth < 0 || nth >= len(s.cases) {
		return
	}
	s.now = s.cases[nth]
	if s.now.byPower {
		s.box.Show()
		s.takePower()
		return
	}
	s.box.Hide()
	s.compare()
}

// takePower compares with the power that is typed in.
func (s *split) takePower() {
	power, err := parseNumber(s.power.Text)
	if err == nil {
		err = s.bench.s.Check(withPower(power))
	}
	if err != nil {
		s.bench.complain(err)
		return
	}
	s.now.other = session.Other{Change: withPower(power)}
	s.now.names = func(d job.Document) [2]string {
		return [2]string{percentOf(d.Setting.PowerPercent), percentOf(power)}
	}
	s.compare()
}

func withPower(percent float64) func(*job.Document) error {
	return func(d *job.Document) error {
		d.Setting.PowerPercent = percent
		return nil
	}
}

func percentOf(v float64) string {
	return lang.X("compare.power", "{{.Power}} % power", map[string]any{"Power": plainNumber(v)})
}

func (s *split) compare() {
	other := s.now.other
	s.detail = nil
	s.bench.s.Compare(&other)
	s.bench.requestPictures()
}

// frames are those of the other job that go with frames of the job itself.
func (s *split) frames(own []session.Frame) []session.Frame {
	if !s.on {
		return nil
	}
	others := make([]session.Frame, len(own))
	for i, f := range own {
		f.Other = true
		others[i] = f
	}
	return others
}

// show puts a picture of the other job on its side of the line.
func (s *split) show(p session.Picture) {
	switch {
	case !s.on:
	case p.Err != nil:
		s.bench.complain(p.Err)
	case p.Frame.Part == session.Whole:
		names := s.now.names(s.bench.s.Document())
		s.bench.easel.SetOther(p.Image, p.Area, names[0], names[1])
		// As beside it: until the next detail comes the last is better than none.
		if s.detail != nil && s.bench.detail != nil {
			s.bench.easel.SetOtherDetail(s.detail.Image, s.detail.Area)
		}
	case s.bench.detail != nil:
		s.detail = &p
		s.bench.easel.SetOtherDetail(p.Image, p.Area)
	}
}

// rivalPower is a quarter more or, where that cannot be, a fifth less.
func rivalPower(now float64) float64 {
	if now*1.25 <= 100 {
		return math.Round(now*12.5) / 10
	}
	return math.Round(now*8) / 10
}

// rivals are what a job can be compared with.
func (s *split) rivals(d job.Document) []rival {
	out := []rival{
		{label: lang.X("compare.otherpower", "another power"), byPower: true},
		{label: lang.X("compare.laststep", "before the last step"), other: session.Other{LastStep: true}, names: func(job.Document) [2]string {
			return [2]string{lang.X("compare.now", "now"), lang.X("compare.before", "before")}
		}},
	}
	for _, v := range proof.Variations()[1:] {
		name := variationName(v)
		out = append(out, rival{label: name, other: session.Other{Burn: v}, names: func(job.Document) [2]string {
			return [2]string{variationName(proof.AsSet), name}
		}})
	}
	for _, e := range s.bench.shelf.stacks {
		if !e.value.Equal(d.Stack) {
			out = append(out, s.rivalStack(e))
		}
	}
	return out
}

// rivalStack compares with a stack of the library. A stack that the job's was changed from
// may bear the same title.
func (s *split) rivalStack(e onShelf[coat.Stack]) rival {
	return rival{
		label: lang.X("compare.stack", "stack: {{.Name}}", map[string]any{"Name": e.label}),
		other: session.Other{Change: func(d *job.Document) error { d.Stack = e.value.Clone(); return nil }},
		names: func(d job.Document) [2]string {
			own := s.bench.shelf.labelOf(d.Stack)
			if own == e.label {
				own = lang.X("compare.now", "now")
			}
			return [2]string{own, e.label}
		},
	}
}

func variationName(v proof.Variation) string {
	switch v {
	case proof.AsSet:
		return lang.X("vary.asset", "as set")
	case proof.LessLight:
		return lang.X("vary.less", "10 % less light")
	case proof.MoreLight:
		return lang.X("vary.more", "10 % more light")
	case proof.ThinnerPaint:
		return lang.X("vary.thinner", "paint 10 % thinner")
	case proof.ThickerPaint:
		return lang.X("vary.thicker", "paint 10 % thicker")
	case proof.OutOfFocus:
		return lang.X("vary.focus", "out of focus")
	}
	return fmt.Sprint(v)
}
