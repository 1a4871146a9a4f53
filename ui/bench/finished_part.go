package bench

import (
	"context"
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// finishedPart lists the finished panels that the job remembers, and compares a
// photograph of one with its proof.
type finishedPart struct {
	bench   *Bench
	section *widgets.Drawer
	box     *fyne.Container
	hint    *widgets.Remarks
	start   *widget.Button
	errand  *errand
	list    *widgets.PickList
	picked  int // -1: none
	words   *widgets.Remarks
}

func newFinishedPart(b *Bench) *finishedPart {
	f := &finishedPart{bench: b, hint: widgets.NewRemarks(false), list: widgets.NewPickList(), words: widgets.NewRemarks(false), picked: -1}
	f.errand = b.newErrand(f.changed)
	f.hint.Set(said(lang.X("finished.hint", "Photograph the burned panel whole, in even light, before the clear coat. The proof beside it is that of the job as it stands.")))
	f.start = widget.NewButtonWithIcon(lang.X("finished.compare", "Compare with a photograph..."), theme.MediaPhotoIcon(), b.compareFinished)
	f.list.OnPicked = f.pick
	f.box = container.NewVBox(f.hint, f.start, f.errand.box, f.list, f.words)
	f.section = widgets.NewSection(lang.X("finished.title", "Finished panels"), f.box)
	f.section.OnResized = b.fitColumn
	return f
}

func (f *finishedPart) refresh(d job.Document) {
	n := len(d.Finished)
	f.section.SetSummary(lang.X("finished.kept", "{{.N}} kept", map[string]any{"N": n}))
	if f.picked >= n {
		f.picked = -1
	}
	picks := make([]widgets.Pick, n)
	for i, p := range d.Finished {
		picks[i] = widgets.Pick{Label: p.Date + "  " + p.Photo, More: timesText(p.DoseFactor)}
	}
	f.list.Set(picks, f.picked)
	f.words.Set(f.told(d)...)
	enable(f.start, !f.errand.busy())
	f.box.Refresh()
}

func (f *finishedPart) pick(nth int) {
	f.picked = nth
	f.changed()
	f.bench.Reveal(f.words)
}

// told is what the record of the picked panel says.
func (f *finishedPart) told(d job.Document) []widgets.Remark {
	if f.picked < 0 {
		return nil
	}
	p := d.Finished[f.picked]
	out := []widgets.Remark{said(lang.X("finished.setting", "Burned at {{.Setting}}.", map[string]any{"Setting": settingText(p.Setting, true, true, true)}))}
	for _, w := range p.Words {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: widgets.Sentence(w)})
	}
	if p.Remark != "" {
		out = append(out, said(lang.X("finished.remarked", "Remark: {{.Remark}}", map[string]any{"Remark": p.Remark})))
	}
	return out
}

// changed shows what changed here and not in the job.
func (f *finishedPart) changed() {
	f.refresh(f.bench.s.Document())
	f.bench.fitColumn()
}

// compareFinished asks for a photograph of the finished panel.
func (b *Bench) compareFinished() {
	if b.handOff.finished.errand.busy() {
		return
	}
	b.askPath(lang.X("finished.open", "Open a photograph of the finished panel"), pictureEndings, func(path string) { b.handOff.finished.open(path) })
}

// show opens the part where it can be seen.
func (f *finishedPart) show() {
	f.bench.handOff.drawer.SetOpen(true)
	f.section.SetOpen(true)
	f.bench.Reveal(f.section)
}

// opened is a photograph and a view of it for its corners to be picked on.
type opened struct {
	photo *session.Photo
	whole turned
}

// open opens a photograph and then asks for the panel's corners in it. The channel is
// closed once it is open; it is nil where something else is still under way.
func (f *finishedPart) open(path string) (ended <-chan struct{}) {
	b := f.bench
	b.folder = filepath.Dir(path)
	wide := b.screenWide()
	f.show()
	return send(f.errand, lang.X("finished.opening", "Opening"), func(ctx context.Context, progress func(float64)) (o opened, err error) {
		if o.photo, err = session.OpenPhoto(ctx, path); err != nil {
			return o, err
		}
		progress(0.5)
		o.whole.view, o.whole.w, o.whole.h, err = o.photo.View(ctx, wide)
		return o, err
	}, func(o opened) { b.unasked(func() { f.askCorners(o, insetCorners(o.whole.w, o.whole.h)) })() }, b.complain)
}

func (f *finishedPart) askCorners(o opened, first [4]layout.PicturePoint) {
	f.bench.pickCorners(o.whole, cornersRequest{
		title: lang.X("finished.corners", "Where are the corners of the panel?"),
		hint:  lang.X("finished.cornershint", "Drag each corner onto that of the panel, as the picture on it stands upright. They are moved by a few pixels where that brings picture and proof together. Tab goes from corner to corner; arrow keys move one."),
		use:   lang.X("finished.use", "Compare"),
		first: first,
		names: cornerNames(),
		check: someRectangle,
		then:  func(corners [4]layout.PicturePoint) { f.compare(o, corners) },
	})
}

// compare holds a photograph against the proof.
func (f *finishedPart) compare(o opened, corners [4]layout.PicturePoint) (ended <-chan struct{}) {
	b := f.bench
	f.show()
	return send(f.errand, lang.X("finished.comparing", "Comparing"), func(ctx context.Context, progress func(float64)) (*session.Comparison, error) {
		return b.s.CompareFinished(ctx, o.photo, corners, progress)
	}, func(c *session.Comparison) {
		b.hush()
		b.unasked(func() { b.showComparison(c) })()
	}, func(err error) {
		b.complain(err)
		b.notice.SetAction(lang.X("finished.again", "Point at the corners again"), b.unasked(func() {
			b.hush()
			f.askCorners(o, corners)
		}))
	})
}

// factorText is a dose factor with its range.
func factorText(factor float64, within [2]float64) string {
	return lang.X("finished.factor", "{{.Factor}} of the dose set ({{.Low}} to {{.High}} with 95 %)", map[string]any{
		"Factor": fmt.Sprintf("%.2f x", factor), "Low": fmt.Sprintf("%.2f", within[0]), "High": fmt.Sprintf("%.2f", within[1]),
	})
}
