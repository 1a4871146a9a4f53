package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/layout"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/ui/session"
)

// toolbar is the row of buttons above the easel.
type toolbar struct {
	bench      *Bench
	object     fyne.CanvasObject
	undo, redo *widget.Button
	handOff    *widget.Button
	views      map[session.View]*widget.Button
}

func newToolbar(b *Bench) *toolbar {
	t := &toolbar{bench: b, views: map[session.View]*widget.Button{}}
	quiet := func(label string, icon fyne.Resource, tapped func()) *widget.Button {
		w := widget.NewButtonWithIcon(label, icon, tapped)
		w.Importance = widget.LowImportance
		return w
	}
	t.undo = quiet("", theme.ContentUndoIcon(), b.undo)
	t.redo = quiet("", theme.ContentRedoIcon(), b.redo)
	row := container.NewHBox(
		quiet(lang.X("bar.open", "Open"), theme.FolderOpenIcon(), b.open),
		quiet(lang.X("bar.save", "Save"), theme.DocumentSaveIcon(), func() { b.save(nil) }),
		t.undo, t.redo,
		layout.NewSpacer(),
		widget.NewLabel(lang.X("bar.view", "View")),
	)
	for _, v := range []session.View{session.PictureView, session.DotsView, session.ProofView} {
		t.views[v] = widget.NewButton(viewName(v), func() { b.Show(v) })
		row.Add(t.views[v])
	}
	t.handOff = widget.NewButtonWithIcon(lang.X("bar.handoff", "Hand off"), theme.MailForwardIcon(), b.handOffDialog)
	t.handOff.Importance = widget.HighImportance
	row.Add(layout.NewSpacer())
	row.Add(t.handOff)
	t.object = container.NewPadded(row)
	return t
}

func (t *toolbar) refresh() {
	undo, redo := t.bench.s.StepNames()
	enable(t.undo, undo != "")
	enable(t.redo, redo != "")
	enable(t.handOff, t.bench.handOff.stopRun == nil)
	for v, button := range t.views {
		importance := widget.MediumImportance
		if v == t.bench.view {
			importance = widget.HighImportance
		}
		if button.Importance != importance {
			button.Importance = importance
			button.Refresh()
		}
	}
}

func enable(w fyne.Disableable, on bool) {
	if on == !w.Disabled() {
		return
	}
	if on {
		w.Enable()
	} else {
		w.Disable()
	}
}
