package bench

import (
	"errors"
	"fmt"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/export"
	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// filesPart lists the files that the hand-off will write, and lets parts be left out.
type filesPart struct {
	bench   *Bench
	section *widgets.Drawer
	box     *fyne.Container
	ticks   map[job.Output]*widget.Check
	chosen  map[job.Output]bool // by the maker; what is not in it is as usual
	showing bool
	told    *widgets.Remarks
}

func newFilesPart(b *Bench, changed func()) *filesPart {
	f := &filesPart{bench: b, ticks: map[job.Output]*widget.Check{}, chosen: map[job.Output]bool{}, told: widgets.NewRemarks(true)}
	f.box = container.NewVBox()
	for _, o := range job.Outputs() {
		tick := widget.NewCheck(outputName(o), nil)
		tick.OnChanged = func(on bool) {
			if !f.showing {
				f.chosen[o] = on
				changed()
			}
		}
		f.ticks[o] = tick
		f.box.Add(tick)
	}
	f.box.Add(f.told)
	f.section = b.newSection(lang.X("files.title", "Files"), f.box)
	return f
}

func outputName(o job.Output) string {
	switch o {
	case job.RasterOutput:
		return lang.X("files.raster", "Raster, for the machine")
	case job.PlacementOutput:
		return lang.X("files.placement", "Placement note")
	case job.ProofOutput:
		return lang.X("files.proof", "Proof")
	case job.SheetOutput:
		return lang.X("files.sheet", "Job sheet")
	case job.ClientOutput:
		return lang.X("files.client", "Sheet for the client")
	}
	return lang.X("files.calendar", "Calendar of the work")
}

// only is the choice of parts; nil is the usual ones, and empty that none is left. A calendar without a start cannot
// be, and is left out.
func (f *filesPart) only(w session.Workshop) []job.Output {
	usual := job.Request{Workshop: w.Workshop}.Parts()
	out := []job.Output{}
	for _, o := range job.Outputs() {
		on, chosen := f.chosen[o]
		if !chosen {
			on = slices.Contains(usual, o)
		}
		if on && (o != job.CalendarOutput || !w.Start.IsZero()) {
			out = append(out, o)
		}
	}
	if slices.Equal(out, usual) {
		return nil
	}
	return out
}

// none tells whether every part was left out.
func (f *filesPart) none(w session.Workshop) bool {
	only := f.only(w)
	return only != nil && len(only) == 0
}

// noParts is for a hand-off without any part.
func noParts() error {
	return errors.New(lang.X("files.none", "nothing is left to hand off: tick at least one part"))
}

// refresh lists the files by a note; with exact false how many rasters there are is not
// known yet.
func (f *filesPart) refresh(n export.Note, exact bool) {
	w := f.bench.s.Workshop()
	r := job.Request{Workshop: w.Workshop, Only: f.only(w)}
	f.showing = true
	parts := r.Parts()
	if f.none(w) {
		parts = nil
	}
	for o, tick := range f.ticks {
		tick.SetChecked(slices.Contains(parts, o))
	}
	f.showing = false
	enable(f.ticks[job.CalendarOutput], !w.Start.IsZero())
	if len(parts) == 0 {
		f.section.SetSummary("")
		f.told.Set(warned(noParts().Error()))
		return
	}
	names := r.FileNames(n)
	f.section.SetSummary(fmt.Sprint(len(names)))
	var words []widgets.Remark
	for _, name := range names {
		words = append(words, widgets.Remark{Kind: widgets.Listed, Text: name})
	}
	if !exact {
		words = append(words, said(lang.X("files.follow", "How many rasters there are is being worked out.")))
	}
	f.told.Set(words...)
	f.box.Refresh()
}
