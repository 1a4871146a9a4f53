package bench

import (
	"context"
	"errors"
	"path/filepath"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/session"
	"undercoat/ui/widgets"
)

// takenText says that another window has a file.
func takenText(path string, l *job.LockedError) string {
	file := filepath.Base(path)
	if l.Process == 0 { // its lock cannot be read
		return lang.X("taken.somewhere", "{{.File}} is open in another window.", map[string]any{"File": file})
	}
	return lang.X("taken.text", "{{.File}} is open in another window, on {{.Host}} since {{.Since}}.", map[string]any{
		"File": file, "Host": l.Host, "Since": l.Since.Local().Format("2006-01-02 15:04"),
	})
}

func restoredCopy() string {
	return lang.X("restore.copy", "What was kept is open as a copy that has no file yet.")
}

// askCopy offers a copy of a job that another window has.
func (b *Bench) askCopy(path string, l *job.LockedError) {
	text := widgets.NewRemarks(false)
	text.Set(
		said(takenText(path, l)),
		said(lang.X("taken.copytext", "A copy can be worked on here. It has no file until you save it under another name, and the file in the other window stays as it is.")),
	)
	d := dialog.NewCustomWithoutButtons(lang.X("taken.title", "Open in another window"), text, b.win)
	open := answer(d, lang.X("taken.copy", "Open a copy"), func() {
		b.load(path, func(ctx context.Context) error { return b.s.OpenCopy(ctx, path, copyName) })
	})
	open.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{answer(d, lang.X("taken.leave", "Leave it"), func() {}), open})
	b.askWide(d)
}

// copyName is what a copy of a job is called.
func copyName(name string) string {
	return lang.X("taken.copyname", "{{.Job}} (copy)", map[string]any{"Job": name})
}

// takenByAnother says what stands in the way of saving at a path; it is empty when
// nothing does.
func (b *Bench) takenByAnother(path string) string {
	locked := new(job.LockedError)
	if path == b.s.Path() || !errors.As(b.s.Taken(path), &locked) {
		return ""
	}
	return takenText(path, locked)
}

// doubtful tells whether saving failed because the job's own file may be another
// window's by now.
func (b *Bench) doubtful(path string, err error) bool {
	lost, locked := new(session.LostError), new(job.LockedError)
	return errors.As(err, &lost) || errors.As(err, &locked) && path == b.s.Path()
}

// askSaveOver asks whether to save where another window may have saved meanwhile.
func (b *Bench) askSaveOver(path string, err error, next func()) {
	file := filepath.Base(path)
	first := lang.X("lost.text", "{{.File}} was given up by this window: its lock is gone, as after a long sleep. Another window may have saved the job since.", map[string]any{"File": file})
	if locked := new(job.LockedError); errors.As(err, &locked) {
		first = takenText(path, locked)
	}
	text := widgets.NewRemarks(false)
	text.Set(said(first), warned(lang.X("lost.over", "saving here replaces what was saved from there")))
	d := dialog.NewCustomWithoutButtons(lang.X("lost.title", "Save over {{.File}}?", map[string]any{"File": file}), text, b.win)
	other := answer(d, lang.X("lost.other", "Save under another name..."), func() { b.saveAs(next) })
	other.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{
		answer(d, lang.X("keep.stay", "Keep working"), func() {}),
		answer(d, lang.X("lost.save", "Save here all the same"), func() { b.saved(path, b.s.SaveOver(path), next) }),
		other,
	})
	b.askWide(d)
}

// answer is a button that puts a question away and then goes on.
func answer(d dialog.Dialog, label string, then func()) *widget.Button {
	return widget.NewButton(label, func() {
		d.Hide()
		then()
	})
}

// askWide shows a question of whole sentences.
func (b *Bench) askWide(d *dialog.CustomDialog) {
	b.ask(d)
	d.Resize(fyne.NewSize(560, 0))
}
