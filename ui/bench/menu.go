package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/ui/session"
	house "undercoat/ui/theme"
)

// menu names every action once more, with its key.
func (b *Bench) menu() *fyne.MainMenu {
	item := func(label string, do func(), key fyne.KeyName, mods fyne.KeyModifier) *fyne.MenuItem {
		m := fyne.NewMenuItem(label, b.unasked(do))
		if key != "" {
			m.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mods}
		}
		return m
	}
	const ctrl = fyne.KeyModifierShortcutDefault
	quit := item(lang.X("menu.quit", "Quit"), b.Quit, fyne.KeyQ, ctrl)
	quit.IsQuit = true
	file := fyne.NewMenu(lang.X("menu.file", "File"),
		item(lang.X("menu.open", "Open a job or picture..."), b.open, fyne.KeyO, ctrl),
		item(lang.X("menu.save", "Save the job"), func() { b.save(nil) }, fyne.KeyS, ctrl),
		item(lang.X("menu.saveas", "Save the job as..."), func() { b.saveAs(nil) }, fyne.KeyS, ctrl|fyne.KeyModifierShift),
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.handoff", "Hand off..."), b.handOffDialog, fyne.KeyH, ctrl),
		fyne.NewMenuItemSeparator(),
		quit,
	)
	// A line in a question keeps its own undo too, so these do not wait for the answer.
	undo := fyne.NewMenuItem(lang.X("menu.undo", "Undo"), func() { b.forward(&fyne.ShortcutUndo{}, b.unasked(b.undo)) })
	redo := fyne.NewMenuItem(lang.X("menu.redo", "Redo"), func() { b.forward(&fyne.ShortcutRedo{}, b.unasked(b.redo)) })
	// The toolkit has shortcuts of its own for these keys, and no others match them.
	undo.Shortcut, redo.Shortcut = &fyne.ShortcutUndo{}, &fyne.ShortcutRedo{}
	edit := fyne.NewMenu(lang.X("menu.edit", "Edit"), undo, redo,
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.removepicture", "Remove the picture"), b.removePicture, "", 0))
	view := fyne.NewMenu(lang.X("menu.view", "View"),
		item(viewName(session.PictureView), func() { b.Show(session.PictureView) }, fyne.Key1, ctrl),
		item(viewName(session.DotsView), func() { b.Show(session.DotsView) }, fyne.Key2, ctrl),
		item(viewName(session.ProofView), func() { b.Show(session.ProofView) }, fyne.Key3, ctrl),
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.whole", "Whole panel"), b.easel.Fit, fyne.Key0, ctrl),
		item(lang.X("menu.todots", "Down to dots"), b.easel.ZoomToDots, fyne.Key9, ctrl),
		fyne.NewMenuItemSeparator(),
		item(lang.X("menu.light", "Light"), func() { b.dress(theme.VariantLight) }, "", 0),
		item(lang.X("menu.dark", "Dark"), func() { b.dress(theme.VariantDark) }, "", 0),
	)
	return fyne.NewMainMenu(file, edit, view)
}

// forward gives a shortcut to the text line that has the focus, and else does the
// window's own work: a line being typed in keeps its own undo.
func (b *Bench) forward(s fyne.Shortcut, own func()) {
	if line, ok := b.win.Canvas().Focused().(fyne.Shortcutable); ok {
		if _, typing := line.(fyne.Focusable); typing {
			line.TypedShortcut(s)
			return
		}
	}
	own()
}

var _ fyne.Shortcutable = (*widget.Entry)(nil) // what forward finds in a field

func (b *Bench) dress(variant fyne.ThemeVariant) {
	fyne.CurrentApp().Settings().SetTheme(house.Forced(variant))
}

func (b *Bench) undo() { b.s.Undo() }

func (b *Bench) redo() { b.s.Redo() }

// Quit ends the program once unsaved changes are seen to.
func (b *Bench) Quit() { b.keeping(b.quit) }
