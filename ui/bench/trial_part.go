package bench

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/imaging/swatch"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// trialPart prepares a small piece of the job for a scrap. What is typed here belongs to
// no document.
type trialPart struct {
	bench   *Bench
	section *widgets.Drawer
	box     *fyne.Container
	size    *widgets.Field
	powers  *widgets.Field
	across  *widgets.Field
	up      *widgets.Field
	start   *widget.Button
	errand  *errand
	told    *widgets.Remarks
	touched bool // a size was typed: it no longer follows the job
}

// usualTrial is what a scrap holds and a hand can judge.
var usualTrial = layout.Size{W: 60, H: 40}

func newTrialPart(b *Bench) *trialPart {
	t := &trialPart{bench: b, box: container.NewVBox(), told: widgets.NewRemarks(false)}
	t.section = b.newSection(lang.X("trial.title", "Trial piece"), t.box)
	t.errand = b.newErrand(t.changed)
	hint := widgets.NewRemarks(false)
	hint.Set(said(lang.X("trial.what", "Before the panel: a small part of the picture with its very dots, for a scrap painted like the panel. Several powers come side by side.")))
	t.box.Add(hint)
	t.size = t.line(lang.X("trial.size", "Size"), "")
	t.size.OnCommitted = func(string) { t.touched = true }
	t.powers = t.line(lang.X("trial.powers", "Powers"), "%")
	t.across = t.line(lang.X("trial.across", "Middle, x"), "")
	t.up = t.line(lang.X("trial.up", "Middle, y"), "")
	t.told.Set(said(lang.X("trial.empty", "Powers as 20,30,40 or 20:60:10; nothing for the job's own. The middle is measured from the panel's centre; nothing for the most telling part.")))
	t.start = widget.NewButtonWithIcon(lang.X("trial.make", "Prepare a trial piece..."), theme.DocumentSaveIcon(), t.ask)
	for _, o := range []fyne.CanvasObject{t.told, t.start, t.errand.box} {
		t.box.Add(o)
	}
	return t
}

// line adds a line that is read with all the others.
func (t *trialPart) line(name, unit string) *widgets.Field {
	f := widgets.NewField(name, unit)
	f.Validate = func(text string) error { return t.check(f, text) }
	f.OnResized = t.bench.fitColumn
	t.box.Add(f)
	return f
}

// check tells what is wrong with a text that would stand in a line.
func (t *trialPart) check(f *widgets.Field, text string) error {
	texts := map[*widgets.Field]string{}
	for _, l := range []*widgets.Field{t.size, t.powers, t.across, t.up} {
		if l != nil {
			texts[l] = strings.TrimSpace(l.Text())
		}
	}
	texts[f] = strings.TrimSpace(text)
	d := t.bench.s.Document()
	r, err := t.read(d, texts)
	if err == nil && (f == t.size || f == t.powers || r.At != nil) {
		err = d.CheckTrial(r)
	}
	return err
}

// read is the request that the lines make. One coordinate alone leaves the middle open.
func (t *trialPart) read(d job.Document, texts map[*widgets.Field]string) (job.TrialRequest, error) {
	var r job.TrialRequest
	var err error
	if r.Size, err = layout.ParseSize(texts[t.size], d.UnitOf()); err != nil {
		return r, err
	}
	if texts[t.powers] != "" {
		if r.Powers, err = swatch.ParsePowers(texts[t.powers]); err != nil {
			return r, err
		}
	}
	var at layout.Point
	for f, to := range map[*widgets.Field]*layout.MM{t.across: &at.X, t.up: &at.Y} {
		if texts[f] == "" {
			continue
		}
		if *to, err = parseSigned(texts[f], d.UnitOf()); err != nil {
			return r, err
		}
	}
	if texts[t.across] != "" && texts[t.up] != "" {
		r.At = &at
	}
	return r, nil
}

func (t *trialPart) request(d job.Document) (job.TrialRequest, error) {
	texts := map[*widgets.Field]string{}
	for _, f := range []*widgets.Field{t.size, t.powers, t.across, t.up} {
		texts[f] = strings.TrimSpace(f.Text())
	}
	if (texts[t.across] == "") != (texts[t.up] == "") {
		return job.TrialRequest{}, errors.New(lang.X("trial.half", "the middle of the piece has one number: give both x and y, or neither"))
	}
	r, err := t.read(d, texts)
	if err == nil {
		err = d.CheckTrial(r)
	}
	return r, err
}

func (t *trialPart) refresh(d job.Document, p job.Plan) {
	whole := p.Placement.Grid.Size()
	if !t.touched {
		t.size.SetText(d.UnitOf().FormatSize(layout.Size{W: min(usualTrial.W, whole.W), H: min(usualTrial.H, whole.H)}))
	}
	t.section.SetSummary(t.size.Text())
}

func (t *trialPart) changed() {
	enable(t.start, !t.errand.busy())
	t.box.Refresh()
	t.bench.fitColumn()
}

func (t *trialPart) ask() {
	if t.errand.busy() {
		return
	}
	if _, err := t.request(t.bench.s.Document()); err != nil {
		t.bench.complain(err)
		return
	}
	t.bench.askFolder(lang.X("trial.here", "Prepare it here"), t.bench.folder, func(folder string) { t.writeIn(folder) })
}

// writeIn prepares the piece in a new folder inside dir, named after the job. The channel
// is closed once that has ended.
func (t *trialPart) writeIn(dir string) (ended <-chan struct{}) {
	t.bench.folder = dir
	name := strings.TrimSuffix(t.bench.s.Document().FileName(), job.Extension)
	return t.write(filepath.Join(dir, lang.X("trial.folder", "{{.Job}} trial", map[string]any{"Job": name})), false)
}

func (t *trialPart) write(dir string, replace bool) (ended <-chan struct{}) {
	b := t.bench
	r, err := t.request(b.s.Document())
	if err != nil {
		b.complain(err)
		return nil
	}
	r.Dir, r.Force = dir, replace
	return send(t.errand, lang.X("trial.writing", "Trial piece"), func(ctx context.Context, progress func(float64)) (*job.Handoff, error) {
		r.Progress = progress
		return b.s.Trial(ctx, r)
	}, func(h *job.Handoff) { t.written(h, dir) }, func(err error) {
		if !errors.Is(err, fs.ErrExist) {
			b.complain(err)
			return
		}
		b.notice.Tell(lang.X("trial.exists", "There is a trial piece in {{.Dir}} already.", map[string]any{"Dir": dir}),
			lang.X("trial.choose", "Replace it, or prepare this one in another folder."))
		b.notice.SetAction(lang.X("trial.replace", "Replace it"), func() {
			b.hush()
			t.write(dir, true)
		})
	})
}

func (t *trialPart) written(h *job.Handoff, dir string) {
	u, n := t.bench.s.Document().UnitOf(), h.Note
	t.told.Set(said(lang.X("trial.piece", "{{.Size}} about x {{.X}}, y {{.Y}}: {{.Why}}. It takes a scrap of {{.Scrap}} or more.", map[string]any{
		"Size": u.FormatSize(n.Trial.Size), "X": signed(u, n.Trial.Centre.X), "Y": signed(u, n.Trial.Centre.Y), "Why": n.Trial.Why, "Scrap": u.FormatSize(n.Panel),
	})))
	t.bench.notice.Inform(lang.X("trial.written", "Wrote {{.N}} files into {{.Dir}}.", map[string]any{"N": len(h.Files), "Dir": dir}),
		lang.X("trial.next", "Burn it on a scrap painted like the panel, about {{.Time}}, and hold it beside {{.Proof}}.", map[string]any{
			"Time": layout.FormatDuration(n.BurnTime()), "Proof": job.ProofFile,
		}))
}
