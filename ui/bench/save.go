package bench

import (
	"errors"
	"os"
	"path/filepath"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/imaging/job"
	"undercoat/ui/widgets"
)

// save writes the job to its file, asking for one if it has none, and then goes
// on with next, which may be nil.
func (b *Bench) save(next func()) {
	if path := b.s.Path(); path != "" {
		b.saveTo(path, next)
		return
	}
	b.saveAs(next)
}

func (b *Bench) saveTo(path string, next func()) {
	b.saved(path, b.s.Save(path), next)
}

// saved goes on after the job was written to path, or could not be.
func (b *Bench) saved(path string, err error, next func()) {
	if b.doubtful(path, err) {
		b.askSaveOver(path, err, next)
		return
	}
	if locked := new(job.LockedError); errors.As(err, &locked) {
		b.notice.Tell(takenText(path, locked), lang.X("taken.othername", "Save the job under another name, or close the file there."))
		return
	}
	if err != nil {
		b.complain(err)
		return
	}
	b.folder = filepath.Dir(path)
	b.hush()
	if next != nil {
		next()
	}
}

// saveAs asks for the name of the job's file and its folder.
func (b *Bench) saveAs(next func()) {
	newSaveQuestion(b, next).show()
}

// newSaveQuestion asks where to save the job.
func newSaveQuestion(b *Bench, next func()) *saveQuestion {
	name := strings.TrimSuffix(b.s.Document().FileName(), job.Extension)
	own := b.s.Path()
	if own != "" {
		name = job.NameOf(own)
	}
	return newFileQuestion(b, saveRequest{
		title: lang.X("save.title", "Save the job"), name: name, ending: job.Extension, own: own,
		refused: b.takenByAnother,
		write:   func(path string) { b.saveTo(path, next) },
	})
}

// saveRequest is what a file is to be written for.
type saveRequest struct {
	title  string
	name   string // proposed, without the ending
	ending string
	own    string // a file that may be replaced without a question; empty: none
	// refused says why a file cannot be written; it may be nil, and empty: it can.
	refused func(path string) string
	write   func(path string)
}

// saveQuestion asks under which name to save something. The toolkit's own question
// would empty a file that is to be replaced before the new one is written.
type saveQuestion struct {
	saveRequest
	bench    *Bench
	dialog   *dialog.CustomDialog
	name     *widget.Entry
	folder   *widget.Label
	dir      string
	trouble  *widgets.Remarks
	confirm  *widget.Button
	replaces string // the file that was warned of: the next press replaces it
}

func newFileQuestion(b *Bench, r saveRequest) *saveQuestion {
	q := &saveQuestion{saveRequest: r, bench: b, name: widget.NewEntry(), folder: widget.NewLabel(""), trouble: widgets.NewRemarks(false)}
	q.name.SetText(r.name)
	q.name.OnChanged = func(string) { q.warn("") }
	q.name.OnSubmitted = func(string) { q.answer() }
	q.folder.Truncation = fyne.TextTruncateEllipsis
	other := widget.NewButton(lang.X("save.other", "Other folder..."), q.chooseFolder)
	content := container.NewVBox(
		widgets.NewNamed(lang.X("save.name", "Name"), container.NewBorder(nil, nil, nil, widget.NewLabel(r.ending), q.name)),
		widgets.NewNamed(lang.X("save.folder", "Folder"), container.NewBorder(nil, nil, nil, other, q.folder)),
		q.trouble,
	)
	q.dialog = dialog.NewCustomWithoutButtons(r.title, content, b.win)
	q.confirm = widget.NewButton(saveWord(), q.answer)
	q.confirm.Importance = widget.HighImportance
	q.dialog.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("save.cancel", "Cancel"), q.dialog.Hide), q.confirm})
	q.setDir(b.saveFolder())
	return q
}

func saveWord() string { return lang.X("save.save", "Save") }

// saveFolder is where a job is saved unless told otherwise: beside its file, where
// a file was last opened, or in the home folder.
func (b *Bench) saveFolder() string {
	if path := b.s.Path(); path != "" {
		return filepath.Dir(path)
	}
	if b.folder != "" {
		return b.folder
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "."
	}
	return home
}

func (q *saveQuestion) show() {
	q.bench.ask(q.dialog)
	q.dialog.Resize(fyne.NewSize(560, 0))
	q.bench.win.Canvas().Focus(q.name)
}

func (q *saveQuestion) setDir(dir string) {
	q.dir = dir
	q.folder.SetText(dir)
	q.warn("")
}

func (q *saveQuestion) chooseFolder() {
	q.bench.askFolder(lang.X("save.here", "Save here"), q.dir, q.setDir)
}

// warn says what is in the way; an empty text takes that back.
func (q *saveQuestion) warn(text string) {
	q.replaces = ""
	q.confirm.SetText(saveWord())
	if text == "" {
		q.trouble.Set()
		return
	}
	q.trouble.Set(warned(text))
	q.dialog.Resize(fyne.NewSize(560, 0)) // the warning needs room
}

// path is the file that was asked for.
func (q *saveQuestion) path() (string, error) {
	name := strings.TrimSuffix(strings.TrimSpace(q.name.Text), q.ending)
	switch {
	case name == "":
		return "", errors.New(lang.X("save.noname", "the file has no name yet: write one"))
	case strings.ContainsAny(name, `/\`):
		return "", errors.New(lang.X("save.badname", "a file's name has no / and no \\ in it: leave them out"))
	}
	return filepath.Join(q.dir, name+q.ending), nil
}

func (q *saveQuestion) answer() {
	path, err := q.path()
	if err != nil {
		q.warn(err.Error())
		return
	}
	if q.refused != nil {
		if why := q.refused(path); why != "" {
			q.warn(why)
			return
		}
	}
	if _, err := os.Stat(path); err == nil && path != q.replaces && path != q.own {
		q.warn(lang.X("save.exists", "{{.File}} is there already: replace it, or choose another name", map[string]any{"File": filepath.Base(path)}))
		q.replaces = path
		q.confirm.SetText(lang.X("save.replace", "Replace"))
		return
	}
	q.dialog.Hide()
	q.write(path)
}
