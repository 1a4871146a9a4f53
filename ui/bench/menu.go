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

// ctrl is held with the keys of the menu.
const ctrl = fyne.KeyModifierShortcutDefault

// menu names every action once more, with its key.
func (b *Bench) menu() *fyne.MainMenu {
	return fyne.NewMainMenu(b.fileMenu(), b.editMenu(), b.viewMenu(), b.panelMenu(), b.helpMenu())
}

// item is an entry that waits while a question is on show; without a key it has none.
func (b *Bench) item(label string, do func(), key fyne.KeyName, mods fyne.KeyModifier) *fyne.MenuItem {
	m := fyne.NewMenuItem(label, b.unasked(do))
	if key != "" {
		m.Shortcut = &desktop.CustomShortcut{KeyName: key, Modifier: mods}
	}
	return m
}

func (b *Bench) fileMenu() *fyne.Menu {
	quit := b.item(lang.X("menu.quit", "Quit"), b.Quit, fyne.KeyQ, ctrl)
	quit.IsQuit = true
	return fyne.NewMenu(lang.X("menu.file", "File"),
		b.item(lang.X("menu.new", "New job"), b.newJob, fyne.KeyN, ctrl),
		b.item(lang.X("menu.open", "Open a job or picture..."), b.open, fyne.KeyO, ctrl),
		b.recentMenu(),
		b.item(lang.X("menu.save", "Save the job"), func() { b.save(nil) }, fyne.KeyS, ctrl),
		b.item(lang.X("menu.saveas", "Save the job as..."), func() { b.saveAs(nil) }, fyne.KeyS, ctrl|fyne.KeyModifierShift),
		fyne.NewMenuItemSeparator(),
		b.item(lang.X("menu.handoff", "Hand off..."), b.handOffDialog, fyne.KeyH, ctrl),
		fyne.NewMenuItemSeparator(),
		quit,
	)
}

// editMenu has the keys that a line being typed in keeps for itself, in a question too:
// they do not wait for its answer. The toolkit has shortcuts of its own for these keys,
// and no others match them.
func (b *Bench) editMenu() *fyne.Menu {
	own := func(label string, s, forwarded fyne.Shortcut, do func()) *fyne.MenuItem {
		m := fyne.NewMenuItem(label, func() { b.forward(forwarded, b.unasked(do)) })
		m.Shortcut = s
		return m
	}
	clipboard := &fyne.ShortcutPaste{Clipboard: fyne.CurrentApp().Clipboard()}
	return fyne.NewMenu(lang.X("menu.edit", "Edit"),
		own(lang.X("menu.undo", "Undo"), &fyne.ShortcutUndo{}, &fyne.ShortcutUndo{}, b.undo),
		own(lang.X("menu.redo", "Redo"), &fyne.ShortcutRedo{}, &fyne.ShortcutRedo{}, b.redo),
		fyne.NewMenuItemSeparator(),
		own(lang.X("menu.paste", "Paste a copied file"), &fyne.ShortcutPaste{}, clipboard, b.paste),
		b.item(lang.X("menu.removepicture", "Remove the picture"), b.removePicture, "", 0))
}

func (b *Bench) viewMenu() *fyne.Menu {
	return fyne.NewMenu(lang.X("menu.view", "View"),
		b.item(viewName(session.PictureView), func() { b.Show(session.PictureView) }, fyne.Key1, ctrl),
		b.item(viewName(session.DotsView), func() { b.Show(session.DotsView) }, fyne.Key2, ctrl),
		b.item(viewName(session.ProofView), func() { b.Show(session.ProofView) }, fyne.Key3, ctrl),
		b.item(stripName(), b.ShowStrip, fyne.Key4, ctrl),
		b.item(mapsName(), b.ShowMaps, fyne.Key5, ctrl),
		b.item(wallName(), b.ShowWall, fyne.Key6, ctrl),
		fyne.NewMenuItemSeparator(),
		b.item(lang.X("menu.compare", "Compare"), b.Compare, fyne.KeyK, ctrl),
		b.item(lang.X("menu.equal", "Settings of the same dose..."), b.askEqualDose, fyne.KeyD, ctrl),
		b.item(lang.X("menu.unpin", "Drop the pinned core"), b.cores.unpin, "", 0),
		fyne.NewMenuItemSeparator(),
		b.item(lang.X("menu.whole", "Whole panel"), b.easel.Fit, fyne.Key0, ctrl),
		b.item(lang.X("menu.truesize", "True size"), b.TrueSize, fyne.Key8, ctrl),
		b.item(lang.X("menu.todots", "Down to dots"), b.easel.ZoomToDots, fyne.Key9, ctrl),
		b.item(lang.X("menu.measure", "Measure the screen..."), b.askScreen, "", 0),
		fyne.NewMenuItemSeparator(),
		b.item(lang.X("menu.light", "Light"), func() { b.dress(theme.VariantLight) }, "", 0),
		b.item(lang.X("menu.dark", "Dark"), func() { b.dress(theme.VariantDark) }, "", 0),
	)
}

func (b *Bench) panelMenu() *fyne.Menu {
	return fyne.NewMenu(lang.X("menu.panel", "Panel"),
		b.item(lang.X("finished.compare", "Compare with a photograph..."), b.compareFinished, "", 0))
}

func (b *Bench) helpMenu() *fyne.Menu {
	return fyne.NewMenu(lang.X("menu.help", "Help"),
		b.item(lang.X("menu.guide", "Guide"), b.ShowGuide, fyne.KeyG, ctrl),
		b.item(lang.X("menu.keys", "Keys (?)"), b.AskKeys, "", 0),
		b.item(lang.X("menu.tour", "Tour of the window"), b.Tour, "", 0),
		b.item(lang.X("menu.about", "About Undercoat"), b.About, "", 0))
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
