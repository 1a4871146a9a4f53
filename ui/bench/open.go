package bench

import (
	"context"
	"errors"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/storage"

	"undercoat/imaging/job"
)

// pictureEndings are the files that the dialogs offer as pictures.
var pictureEndings = []string{
	".jpg", ".jpeg", ".png", ".gif", ".webp", ".tif", ".tiff", ".bmp",
	".JPG", ".JPEG", ".PNG", ".GIF", ".WEBP", ".TIF", ".TIFF", ".BMP",
}

// open asks for a job or a picture.
func (b *Bench) open() {
	b.askFile(lang.X("open.both", "Open a job or a picture"), append([]string{job.Extension}, pictureEndings...))
}

// openPicture asks for a picture.
func (b *Bench) openPicture() { b.askFile(lang.X("open.picture", "Open a picture"), pictureEndings) }

func (b *Bench) askFile(title string, endings []string) { b.askPath(title, endings, b.OpenPath) }

// askPath asks for a file with one of some endings.
func (b *Bench) askPath(title string, endings []string, then func(path string)) {
	d := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		if err != nil {
			b.complain(err)
			return
		}
		if r == nil {
			return // nothing chosen
		}
		path := r.URI().Path()
		_ = r.Close() // opened again later, where errors are put plainly
		then(path)
	}, b.win)
	d.SetTitleText(title)
	d.SetFilter(storage.NewExtensionFileFilter(endings))
	b.askFiles(d, b.folder)
}

// dropped opens the first file that was dropped on the window.
func (b *Bench) dropped(_ fyne.Position, files []fyne.URI) {
	if len(files) > 0 && len(b.asking) == 0 {
		b.OpenPath(files[0].Path())
	}
}

// OpenPath opens the job or the picture at path. It reads in the background and
// says in the notice bar what went wrong.
func (b *Bench) OpenPath(path string) {
	b.folder = filepath.Dir(path)
	if strings.EqualFold(filepath.Ext(path), job.Extension) {
		b.keeping(func() {
			b.load(path, func(ctx context.Context) error { return b.s.OpenJob(ctx, path) })
		})
		return
	}
	b.load(path, func(ctx context.Context) error {
		data, err := job.ReadBytes(path)
		if err != nil {
			return err
		}
		return b.s.OpenPicture(ctx, filepath.Base(path), data)
	})
}

// load reads a file off the main goroutine. The file asked for last counts: what
// is still being read by then is let go.
func (b *Bench) load(path string, read func(context.Context) error) {
	b.loadThen(path, read, func() {})
}

// loadThen is load that goes on once the file is open.
func (b *Bench) loadThen(path string, read func(context.Context) error, then func()) {
	b.stopLoad()
	ctx, cancel := context.WithCancel(b.ctx)
	b.stopLoad = cancel
	b.status.opening(filepath.Base(path))
	b.background.Go(func() {
		err := read(ctx)
		b.do(func() {
			if ctx.Err() != nil {
				return // another file was asked for, or the window is gone
			}
			cancel()
			b.status.opening("")
			if locked := new(job.LockedError); errors.As(err, &locked) {
				b.askCopy(path, locked)
				return
			}
			if err != nil {
				b.complain(err)
				return
			}
			b.notice.Hide()
			then()
		})
	})
}

// newJob begins an empty job on the same panel, coats, machine and setting.
func (b *Bench) newJob() {
	b.keeping(func() {
		b.stopLoad()
		b.status.opening("")
		if err := b.s.OpenNew(); err != nil {
			b.complain(err)
			return
		}
		b.notice.Hide()
	})
}
