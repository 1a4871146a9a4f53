package bench

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"fyne.io/fyne/v2/lang"

	"undercoat/imaging/job"
	"undercoat/layout"
	"undercoat/ui/session"
)

// handOffDialog asks for the folder.
func (b *Bench) handOffDialog() {
	if b.handOff.stopRun != nil {
		return
	}
	if b.handOff.parts.files.none(b.s.Workshop()) {
		b.complain(noParts())
		return
	}
	b.askFolder(lang.X("handoff.here", "Hand off here"), b.folder, func(folder string) { b.HandOffTo(folder) })
}

// HandOffTo prepares the job into a new folder, named after the job, inside dir.
// The channel is closed once that has ended, one way or the other. One hand-off
// runs at a time: while one does, or where every part is left out, this gives nil.
func (b *Bench) HandOffTo(dir string) (ended <-chan struct{}) {
	if b.handOff.stopRun != nil || b.handOff.parts.files.none(b.s.Workshop()) {
		return nil
	}
	return b.handOff.begin(dir, b.handOff.parts.files.only(b.s.Workshop()))
}

// begin prepares parts of the job, none named for the usual ones, into a new folder inside
// dir.
func (h *handOffDrawer) begin(dir string, only []job.Output) <-chan struct{} {
	h.bench.folder = dir
	w := h.bench.s.Workshop()
	return h.run(job.Request{
		Dir:  filepath.Join(dir, strings.TrimSuffix(h.bench.s.Document().FileName(), job.Extension)),
		Only: only, Sections: w.Sections, Workshop: w.Workshop,
	})
}

// askClient asks for the folder of the client's sheet, and prepares that alone.
func (h *handOffDrawer) askClient() {
	if h.stopRun == nil {
		h.bench.askFolder(lang.X("handoff.here", "Hand off here"), h.bench.folder, func(folder string) { h.client(folder) })
	}
}

// client prepares the client's sheet alone.
func (h *handOffDrawer) client(dir string) <-chan struct{} {
	return h.begin(dir, []job.Output{job.ClientOutput})
}

// run prepares a request.
func (h *handOffDrawer) run(r job.Request) <-chan struct{} {
	ended := make(chan struct{})
	ctx, cancel := context.WithCancel(h.bench.ctx)
	h.stopRun = cancel
	h.foresight.drop()
	h.progress.SetValue(0)
	h.running.Show()
	h.start.Disable()
	h.bench.toolbar.refresh()
	h.drawer.SetOpen(true)
	h.bench.column.Reveal(h.drawer)
	of, wall := foreseen{h.bench.s.Document(), h.bench.s.Workshop()}, h.bench.wall.wall
	h.bench.background.Go(func() {
		defer cancel()
		shown := 0.0
		r.Progress = func(f float64) {
			if f < shown+progressStep && f < 1 {
				return // every step paints the whole window
			}
			shown = f
			h.bench.do(func() { h.progress.SetValue(f) })
		}
		done, err := h.prepare(ctx, r, wall)
		h.bench.do(func() {
			h.ended(r, done, err)
			if err == nil {
				h.foresight.knows(of, done)
			}
			h.changed()
			close(ended)
		})
	})
	return ended
}

// prepare hands off beside the window, with the wall on the client's sheet.
func (h *handOffDrawer) prepare(ctx context.Context, r job.Request, wall session.Wall) (*job.Handoff, error) {
	if slices.Contains(r.Parts(), job.ClientOutput) {
		view, err := h.bench.s.OnSheet(ctx, wall)
		if err != nil {
			return nil, err
		}
		r.Wall = view
	}
	return h.bench.s.HandOff(ctx, r)
}

// stop cancels a hand-off that runs.
func (h *handOffDrawer) stop() {
	if h.stopRun != nil {
		h.stopRun()
	}
}

func (h *handOffDrawer) ended(r job.Request, done *job.Handoff, err error) {
	dir := r.Dir
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
		h.bench.notice.SetAction(lang.X("handoff.replace", "Replace it"), func() { h.replace(r) })
	case err != nil:
		h.bench.complain(err)
	case !slices.Contains(r.Parts(), job.PlacementOutput):
		h.bench.notice.Inform(lang.X("handoff.wrote", "Wrote {{.Files}} into {{.Dir}}.", map[string]any{"Files": baseNames(done.Files), "Dir": dir}),
			lang.X("handoff.nonote", "Nothing of it says where the panel goes: hand off with the placement note before you burn."))
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
func (h *handOffDrawer) replace(r job.Request) {
	h.bench.notice.Hide()
	if h.stopRun == nil {
		r.Force = true
		h.run(r)
	}
}

// baseNames lists files without their folder.
func baseNames(paths []string) string {
	names := make([]string, len(paths))
	for i, p := range paths {
		names[i] = filepath.Base(p)
	}
	return strings.Join(names, ", ")
}

// tellCautions opens the drawer in which the cautions stand.
func (b *Bench) tellCautions() {
	b.handOff.drawer.SetOpen(true)
	b.column.Reveal(b.handOff.drawer)
}
