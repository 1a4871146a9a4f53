package bench

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/ui/widgets"
)

// nameRequest is what something is to be kept in the library for.
type nameRequest struct {
	title string
	name  string                                // proposed
	check func(name string) error               // why it cannot be one
	taken func(name string) bool                // by something that would be replaced
	then  func(name string, replace bool) error // keeps it
}

// askName asks under which name the library shall keep something. What is there already
// is replaced only after a warning.
func askName(b *Bench, r nameRequest) {
	entry, trouble := widget.NewEntry(), widgets.NewRemarks(false)
	entry.SetText(r.name)
	d := dialog.NewCustomWithoutButtons(r.title, container.NewVBox(widgets.NewNamed(lang.X("save.name", "Name"), entry), trouble), b.win)
	confirm := widget.NewButton(saveWord(), nil)
	confirm.Importance = widget.HighImportance
	replaces := ""
	warn := func(text string) {
		replaces = ""
		confirm.SetText(saveWord())
		trouble.Set()
		if text != "" {
			trouble.Set(warned(text))
			d.Resize(fyne.NewSize(nameWide, 0)) // the warning needs room
		}
	}
	answer := func() {
		name := strings.TrimSpace(entry.Text)
		if err := r.check(name); err != nil {
			warn(err.Error())
			return
		}
		if r.taken(name) && name != replaces {
			warn(lang.X("name.taken", "The library has {{.Name}} already: replace it, or choose another name.", map[string]any{"Name": name}))
			replaces = name
			confirm.SetText(lang.X("save.replace", "Replace"))
			return
		}
		if err := r.then(name, name == replaces); err != nil {
			warn(err.Error())
			return
		}
		d.Hide()
	}
	entry.OnChanged = func(string) { warn("") }
	entry.OnSubmitted = func(string) { answer() }
	confirm.OnTapped = answer
	d.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("save.cancel", "Cancel"), d.Hide), confirm})
	b.ask(d)
	d.Resize(fyne.NewSize(nameWide, 0))
	b.win.Canvas().Focus(entry)
}

// nameWide is the width of the question for a name.
const nameWide = 480
