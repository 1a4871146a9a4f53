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
	compare    *widget.Button
	strip      *widget.Button
	maps       *widget.Button
	wall       *widget.Button
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
	t.strip = widget.NewButton(stripName(), b.ShowStrip)
	t.maps = widget.NewButton(mapsName(), b.ShowMaps)
	row.Add(t.strip)
	row.Add(t.maps)
	t.wall = widget.NewButton(wallName(), b.ShowWall)
	row.Add(t.wall)
	row.Add(layout.NewSpacer())
	t.compare = quiet(lang.X("bar.compare", "Compare"), theme.ViewRestoreIcon(), b.Compare)
	row.Add(t.compare)
	t.handOff = widget.NewButtonWithIcon(lang.X("bar.handoff", "Hand off"), theme.MailForwardIcon(), b.handOffDialog)
	t.handOff.Importance = widget.HighImportance
	row.Add(t.handOff)
	t.object = container.NewPadded(row)
	return t
}

func (t *toolbar) refresh() {
	undo, redo := t.bench.s.StepNames()
	enable(t.undo, undo != "")
	enable(t.redo, redo != "")
	enable(t.handOff, t.bench.handOff.stopRun == nil)
	b := t.bench
	for v, button := range t.views {
		press(button, b.sheet == nil && v == b.view, widget.MediumImportance)
	}
	press(t.strip, b.sheet == sheet(b.strip), widget.MediumImportance)
	press(t.maps, b.sheet == sheet(b.maps), widget.MediumImportance)
	press(t.wall, b.sheet == sheet(b.wall), widget.MediumImportance)
	press(t.compare, b.split.on, widget.LowImportance)
}

func stripName() string { return lang.X("view.strip", "Powers") }

func mapsName() string { return lang.X("view.maps", "Coats") }

// press makes a button look pressed, or as it looks otherwise.
func press(w *widget.Button, on bool, otherwise widget.Importance) {
	importance := otherwise
	if on {
		importance = widget.HighImportance
	}
	if w.Importance != importance {
		w.Importance = importance
		w.Refresh()
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
