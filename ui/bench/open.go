package bench

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"

	"undercoat/imaging/job"
)

// pictureEndings are the files that the dialogs offer as pictures.
var pictureEndings = []string{".jpg", ".jpeg", ".png", ".JPG", ".JPEG", ".PNG"}

// open asks for a job or a picture.
func (b *Bench) open() { b.ask(append([]string{job.Extension}, pictureEndings...)) }

// openPicture asks for a picture.
func (b *Bench) openPicture() { b.ask(pictureEndings) }

func (b *Bench) ask(endings []string) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			b.complain(err)
			return
		}
		if r == nil {
			return // nothing chosen
		}
		path := r.URI().Path()
		_ = r.Close() // opened again below, where errors are put plainly
		b.OpenPath(path)
	}, b.win)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	d.Resize(dialogSize(b.win))
	d.Show()
}

func dialogSize(w fyne.Window) fyne.Size {
	s := w.Canvas().Size()
	return fyne.NewSize(s.Width*0.8, s.Height*0.8)
}

// dropped opens the first file that was dropped on the window.
func (b *Bench) dropped(_ fyne.Position, files []fyne.URI) {
	if len(files) > 0 {
		b.OpenPath(files[0].Path())
	}
}

// OpenPath opens the job or the picture at path. It reads in the background and
// says in the notice bar what went wrong.
func (b *Bench) OpenPath(path string) {
	if strings.EqualFold(filepath.Ext(path), job.Extension) {
		b.keeping(func() { b.load(func(ctx context.Context) error { return b.s.OpenJob(ctx, path) }) })
		return
	}
	b.load(func(ctx context.Context) error {
		data, err := job.ReadBytes(path)
		if err != nil {
			return err
		}
		return b.s.OpenPicture(ctx, filepath.Base(path), data)
	})
}

// load runs a reading off the main goroutine.
func (b *Bench) load(read func(context.Context) error) {
	b.background.Go(func() {
		err := read(b.ctx)
		if errors.Is(err, context.Canceled) {
			return
		}
		b.do(func() {
			if err != nil {
				b.complain(err)
				return
			}
			b.notice.Hide()
		})
	})
}

// keeping goes on with what would throw the job away, once its changes are saved
// or the maker lets them go.
func (b *Bench) keeping(goOn func()) {
	if !b.s.Dirty() {
		goOn()
		return
	}
	d := dialog.NewConfirm(
		lang.X("keep.title", "Unsaved changes"),
		lang.X("keep.text", "The job has changes that are not saved. Save them first?"),
		func(save bool) {
			if save {
				b.save(goOn)
				return
			}
			goOn()
		}, b.win)
	d.SetConfirmText(lang.X("keep.save", "Save"))
	d.SetDismissText(lang.X("keep.drop", "Do not save"))
	d.Show()
}

// save writes the job to its file, asking for one if it has none, and then goes
// on with next, which may be nil.
func (b *Bench) save(next func()) {
	if path := b.s.Path(); path != "" {
		b.saveTo(path, next)
		return
	}
	b.saveAs(next)
}

func (b *Bench) saveAs(next func()) {
	d := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		if err != nil {
			b.complain(err)
			return
		}
		if w == nil {
			return // nothing chosen
		}
		path := w.URI().Path()
		// The dialog has made an empty file; the job is written whole in its place.
		_ = w.Close()
		if !strings.EqualFold(filepath.Ext(path), job.Extension) {
			_ = os.Remove(path) // still empty
			path += job.Extension
		}
		b.saveTo(path, next)
	}, b.win)
	d.SetFileName(b.s.Document().Name + job.Extension)
	d.SetFilter(storage.NewExtensionFileFilter([]string{job.Extension}))
	d.Resize(dialogSize(b.win))
	d.Show()
}

func (b *Bench) saveTo(path string, next func()) {
	if err := b.s.Save(path); err != nil {
		b.complain(err)
		return
	}
	b.notice.Hide()
	if next != nil {
		next()
	}
}
