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

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// handOffDrawer says whether the job fits and what to beware of, and prepares
// the hand-off.
type handOffDrawer struct {
	bench    *Bench
	drawer   *widgets.Drawer
	facts    *widgets.Remarks
	start    *widget.Button
	progress *widget.ProgressBar
	cancel   *widget.Button
	running  *fyne.Container
	finished *finishedPart

	stopRun context.CancelFunc // nil while nothing runs
}

func newHandOffDrawer(b *Bench) *handOffDrawer {
	h := &handOffDrawer{bench: b, facts: widgets.NewRemarks(false)}
	standing := widgets.NewRemarks(true)
	standing.Set(standingCautions()...)
	h.start = widget.NewButtonWithIcon(lang.X("handoff.start", "Hand off into a folder..."), theme.MailForwardIcon(), b.handOffDialog)
	h.start.Importance = widget.HighImportance
	h.progress = widget.NewProgressBar()
	h.cancel = widget.NewButtonWithIcon(lang.X("handoff.cancel", "Cancel"), theme.CancelIcon(), h.stop)
	h.running = container.NewBorder(nil, nil, nil, h.cancel, h.progress)
	h.running.Hide()
	h.finished = newFinishedPart(b)
	h.drawer = widgets.NewDrawer(lang.X("drawer.handoff", "Hand-off"),
		container.NewVBox(h.facts, h.start, h.running, standing, h.finished.section))
	return h
}

// standingCautions are those that go with every job.
func standingCautions() []widgets.Remark {
	var out []widgets.Remark
	for _, c := range export.Cautions() {
		out = append(out, widgets.Remark{Kind: widgets.Listed, Text: c})
	}
	return out
}

func (h *handOffDrawer) widget() *widgets.Drawer { return h.drawer }

func (h *handOffDrawer) refresh(d job.Document, p job.Plan) {
	h.finished.refresh(d)
	u := d.UnitOf()
	facts := lang.X("handoff.facts", "Raster {{.Size}}, head travels {{.Travel}}, bed {{.Bed}}.", map[string]any{
		"Size":   u.FormatSize(p.Placement.Grid.Size()),
		"Travel": u.FormatSize(p.Travel),
		"Bed":    u.FormatSize(d.Machine.Bed),
	})
	remarks := []widgets.Remark{said(facts)}
	for _, c := range p.Cautions {
		remarks = append(remarks, warned(c))
	}
	h.facts.Set(remarks...)
	h.drawer.SetSummary(fitText(p.Fit))
}

// fitText says in few words how the panel fits the machine.
func fitText(f layout.Fit) string {
	switch f.How {
	case layout.Upright:
		return lang.X("fit.upright", "fits")
	case layout.Turned:
		return lang.X("fit.turned", "fits turned")
	case layout.InSections:
		return lang.X("fit.sections", "in {{.N}} sections", map[string]any{"N": len(f.Sections)})
	}
	return lang.X("fit.not", "does not fit")
}

// handOffDialog asks for the folder.
func (b *Bench) handOffDialog() {
	if b.handOff.stopRun != nil {
		return
	}
	b.askFolder(lang.X("handoff.here", "Hand off here"), b.folder, func(folder string) { b.HandOffTo(folder) })
}

// HandOffTo prepares the job into a new folder, named after the job, inside dir.
// The channel is closed once that has ended, one way or the other. One hand-off
// runs at a time: while one does, this gives nil.
func (b *Bench) HandOffTo(dir string) (ended <-chan struct{}) {
	if b.handOff.stopRun != nil {
		return nil
	}
	b.folder = dir
	return b.handOff.run(filepath.Join(dir, strings.TrimSuffix(b.s.Document().FileName(), job.Extension)), false)
}

// run prepares the job into dir; with replace, over what an earlier hand-off left
// there.
func (h *handOffDrawer) run(dir string, replace bool) <-chan struct{} {
	ended := make(chan struct{})
	ctx, cancel := context.WithCancel(h.bench.ctx)
	h.stopRun = cancel
	h.progress.SetValue(0)
	h.running.Show()
	h.start.Disable()
	h.bench.toolbar.refresh()
	h.drawer.SetOpen(true)
	h.bench.column.Reveal(h.drawer)
	h.bench.background.Go(func() {
		defer cancel()
		shown := 0.0
		done, err := h.bench.s.HandOff(ctx, dir, replace, func(f float64) {
			if f < shown+progressStep && f < 1 {
				return // every step paints the whole window
			}
			shown = f
			h.bench.do(func() { h.progress.SetValue(f) })
		})
		h.bench.do(func() {
			h.ended(dir, done, err)
			close(ended)
		})
	})
	return ended
}

// stop cancels a hand-off that runs.
func (h *handOffDrawer) stop() {
	if h.stopRun != nil {
		h.stopRun()
	}
}

func (h *handOffDrawer) ended(dir string, done *job.Handoff, err error) {
	h.stopRun = nil
	h.running.Hide()
	h.start.Enable()
	h.bench.toolbar.refresh()
	h.bench.fitColumn()
	switch {
	case errors.Is(err, context.Canceled):
		h.bench.notice.Inform(lang.X("handoff.cancelled", "The hand-off was cancelled."), lang.X("handoff.nothing", "Nothing was written."))
	case errors.Is(err, fs.ErrExist):
		h.bench.notice.Tell(
			lang.X("handoff.exists", "There is a hand-off in {{.Dir}} already.", map[string]any{"Dir": dir}),
			lang.X("handoff.choose", "Replace it, or hand off into another folder."))
		h.bench.notice.SetAction(lang.X("handoff.replace", "Replace it"), func() { h.replace(dir) })
	case err != nil:
		h.bench.complain(err)
	default:
		h.bench.notice.Inform(
			lang.X("handoff.done", "Handed off {{.N}} files into {{.Dir}}.", map[string]any{"N": len(done.Files), "Dir": dir}),
			lang.X("handoff.read", "Read {{.File}} before you place the panel; it burns about {{.Time}}.", map[string]any{
				"File": job.PlacementTextFile, "Time": layout.FormatDuration(done.Note.BurnTime()),
			}))
	}
}

// progressStep is the least progress that is shown.
const progressStep = 0.02

// replace hands off once more, over what is there.
func (h *handOffDrawer) replace(dir string) {
	h.bench.notice.Hide()
	if h.stopRun == nil {
		h.run(dir, true)
	}
}

// tellCautions opens the drawer in which the cautions stand.
func (b *Bench) tellCautions() {
	b.handOff.drawer.SetOpen(true)
	b.column.Reveal(b.handOff.drawer)
}
