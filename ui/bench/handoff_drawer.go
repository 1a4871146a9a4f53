package bench

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
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
	facts    *widget.Label
	cautions *widget.Label
	start    *widget.Button
	progress *widget.ProgressBar
	cancel   *widget.Button
	running  *fyne.Container

	stopRun context.CancelFunc // nil while nothing runs
}

func newHandOffDrawer(b *Bench) *handOffDrawer {
	h := &handOffDrawer{bench: b}
	h.facts, h.cautions = widget.NewLabel(""), widget.NewLabel("")
	h.facts.Wrapping, h.cautions.Wrapping = fyne.TextWrapWord, fyne.TextWrapWord
	standing := widget.NewLabel(standingCautions())
	standing.Wrapping = fyne.TextWrapWord
	standing.SizeName = theme.SizeNameCaptionText
	h.start = widget.NewButtonWithIcon(lang.X("handoff.start", "Hand off into a folder..."), theme.MailForwardIcon(), b.handOffDialog)
	h.start.Importance = widget.HighImportance
	h.progress = widget.NewProgressBar()
	h.cancel = widget.NewButtonWithIcon(lang.X("handoff.cancel", "Cancel"), theme.CancelIcon(), h.stop)
	h.running = container.NewBorder(nil, nil, nil, h.cancel, h.progress)
	h.running.Hide()
	h.drawer = widgets.NewDrawer(lang.X("drawer.handoff", "Hand-off"),
		container.NewVBox(h.facts, h.cautions, h.start, h.running, standing))
	return h
}

func standingCautions() string {
	text := ""
	for _, c := range export.Cautions() {
		text += "\u2022 " + c + "\n"
	}
	return text
}

func (h *handOffDrawer) widget() *widgets.Drawer { return h.drawer }

func (h *handOffDrawer) refresh(d job.Document, p job.Plan) {
	u := d.UnitOf()
	facts := lang.X("handoff.facts", "Raster {{.Size}}, head travels {{.Travel}}, bed {{.Bed}}.", map[string]any{
		"Size":   u.FormatSize(p.Placement.Grid.Size()),
		"Travel": u.FormatSize(p.Travel),
		"Bed":    u.FormatSize(d.Machine.Bed),
	})
	h.facts.SetText(facts)
	text := ""
	for _, c := range p.Cautions {
		text += "! " + sentence(c) + "\n"
	}
	h.cautions.SetText(text)
	summary := lang.X("handoff.fits", "fits")
	if !p.Fits {
		summary = lang.X("handoff.unfit", "does not fit the machine")
	}
	h.drawer.SetSummary(summary)
}

// handOffDialog asks for the folder.
func (b *Bench) handOffDialog() {
	if b.handOff.stopRun != nil {
		return
	}
	d := dialog.NewFolderOpen(func(folder fyne.ListableURI, err error) {
		if err != nil {
			b.complain(err)
			return
		}
		if folder != nil {
			b.HandOffTo(folder.Path())
		}
	}, b.win)
	d.SetConfirmText(lang.X("handoff.here", "Hand off here"))
	d.Resize(dialogSize(b.win))
	d.Show()
}

// HandOffTo prepares the job into a new folder, named after the job, inside dir.
// The channel is closed once that has ended, one way or the other. One hand-off
// runs at a time: while one does, this gives nil.
func (b *Bench) HandOffTo(dir string) (ended <-chan struct{}) {
	if b.handOff.stopRun != nil {
		return nil
	}
	return b.handOff.run(filepath.Join(dir, b.s.Document().Name))
}

func (h *handOffDrawer) run(dir string) <-chan struct{} {
	ended := make(chan struct{})
	ctx, cancel := context.WithCancel(h.bench.ctx)
	h.stopRun = cancel
	h.progress.SetValue(0)
	h.running.Show()
	h.start.Disable()
	h.drawer.SetOpen(true)
	h.bench.background.Go(func() {
		defer cancel()
		done, err := h.bench.s.HandOff(ctx, dir, false, func(f float64) {
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
	switch {
	case errors.Is(err, context.Canceled):
		h.bench.notice.Inform(lang.X("handoff.cancelled", "The hand-off was cancelled."), lang.X("handoff.nothing", "Nothing was written."))
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

// tellCautions opens the drawer in which the cautions stand.
func (b *Bench) tellCautions() {
	b.handOff.drawer.SetOpen(true)
	p, err := b.s.Plan()
	if err != nil || len(p.Cautions) == 0 {
		return
	}
	text := ""
	for i, c := range p.Cautions {
		text += fmt.Sprintf("%d. %s ", i+1, sentence(c))
	}
	b.notice.Inform(text, "")
}
