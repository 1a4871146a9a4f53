package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"
	"fyne.io/fyne/v2/widget"
)

// question is something asked over the window.
type question interface {
	dialog.Dialog
	SetOnClosed(func())
}

// ask shows a question. The work beneath waits until it is answered or, by Escape,
// put away.
func (b *Bench) ask(q question) {
	b.asking = append(b.asking, q)
	q.SetOnClosed(func() { b.answered(q) })
	q.Show()
}

func (b *Bench) answered(q question) {
	for i, asked := range b.asking {
		if asked == q {
			b.asking = append(b.asking[:i:i], b.asking[i+1:]...)
			return
		}
	}
}

// typed takes the keys that nothing in the window took.
func (b *Bench) typed(ev *fyne.KeyEvent) {
	switch {
	case len(b.asking) > 0:
		if ev.Name == fyne.KeyEscape {
			b.asking[len(b.asking)-1].Dismiss()
		}
	case ev.Name == fyne.KeyF1:
		b.ShowGuide()
	case b.sheet == sheet(b.guide):
		b.guide.typed(ev.Name)
	}
}

// unasked makes an action of the window wait while a question is on show: the keys
// of the menu reach beneath it.
func (b *Bench) unasked(do func()) func() {
	return func() {
		if len(b.asking) == 0 {
			do()
		}
	}
}

// askFolder asks for a folder, beginning at one, which may be empty.
func (b *Bench) askFolder(confirm, begin string, then func(folder string)) {
	d := dialog.NewFolderOpen(func(folder fyne.ListableURI, err error) {
		if err != nil {
			b.complain(err)
			return
		}
		if folder != nil {
			then(folder.Path())
		}
	}, b.win)
	d.SetConfirmText(confirm)
	d.SetTitleText(lang.X("ask.folder", "Choose a folder"))
	b.askFiles(d, begin)
}

// askFiles shows one of the toolkit's questions for files.
func (b *Bench) askFiles(d *dialog.FileDialog, begin string) {
	if begin != "" {
		if at, err := storage.ListerForURI(storage.NewFileURI(begin)); err == nil {
			d.SetLocation(at)
		}
	}
	size := b.win.Canvas().Size()
	d.Resize(fyne.NewSize(size.Width*0.8, size.Height*0.8))
	b.ask(d)
}

// keeping goes on with what would throw the job away, once its changes are saved
// or the maker lets them go. While another question is on show it does nothing.
func (b *Bench) keeping(goOn func()) {
	if len(b.asking) > 0 {
		return
	}
	if !b.s.Dirty() {
		goOn()
		return
	}
	text := widget.NewLabel(lang.X("keep.text", "The job has changes that are not saved."))
	d := dialog.NewCustomWithoutButtons(lang.X("keep.title", "Unsaved changes"), text, b.win)
	answer := func(label string, then func()) *widget.Button {
		return widget.NewButton(label, func() {
			d.Hide()
			then()
		})
	}
	save := answer(lang.X("keep.save", "Save"), func() { b.save(goOn) })
	save.Importance = widget.HighImportance
	d.SetButtons([]fyne.CanvasObject{
		answer(lang.X("keep.stay", "Keep working"), func() {}),
		answer(lang.X("keep.drop", "Do not save"), goOn),
		save,
	})
	b.ask(d)
}
