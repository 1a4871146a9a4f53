package bench

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/ui/widgets"
)

// typedRune takes the letters that nothing in the window took.
func (b *Bench) typedRune(r rune) {
	if r == '?' {
		b.unasked(b.AskKeys)()
	}
}

// AskKeys shows the keys: those of the menu, and those of the instruments.
func (b *Bench) AskKeys() {
	list := container.NewVBox()
	group := func(title string, keys []keyOf) {
		list.Add(widget.NewLabelWithStyle(title, fyne.TextAlignLeading, fyne.TextStyle{Bold: true}))
		picks := make([]widgets.Pick, len(keys))
		for i, k := range keys {
			picks[i] = widgets.Pick{Label: k.does, More: k.keys}
		}
		rows := widgets.NewPickList()
		rows.Set(picks, -1)
		list.Add(rows)
	}
	for _, m := range b.menu().Items {
		if keys := menuKeys(m); len(keys) > 0 {
			group(m.Label, keys)
		}
	}
	group(lang.X("keys.easel", "On the easel"), easelKeys())
	group(lang.X("keys.others", "Elsewhere"), otherKeys())
	scroll := container.NewVScroll(list)
	scroll.SetMinSize(fyne.NewSize(520, 420))
	d := dialog.NewCustomWithoutButtons(lang.X("keys.title", "Keys"), scroll, b.win)
	d.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("keys.close", "Close"), d.Hide)})
	b.ask(d)
}

// keyOf is a key and what it does.
type keyOf struct{ keys, does string }

// menuKeys are the keys of a menu's entries.
func menuKeys(m *fyne.Menu) []keyOf {
	var out []keyOf
	for _, item := range m.Items {
		if name := shortcutName(item.Shortcut); name != "" {
			out = append(out, keyOf{name, item.Label})
		}
	}
	return out
}

func shortcutName(s fyne.Shortcut) string {
	switch s := s.(type) {
	case *fyne.ShortcutUndo:
		return ctrlName() + "Z"
	case *fyne.ShortcutRedo:
		return ctrlName() + "Y"
	case *fyne.ShortcutPaste:
		return ctrlName() + "V"
	case *desktop.CustomShortcut:
		name := ""
		if s.Modifier&fyne.KeyModifierShortcutDefault != 0 {
			name = ctrlName()
		}
		if s.Modifier&fyne.KeyModifierShift != 0 {
			name += lang.X("keys.shift", "Shift") + "+"
		}
		return name + string(s.KeyName)
	}
	return ""
}

func ctrlName() string {
	if fyne.KeyModifierShortcutDefault == fyne.KeyModifierSuper {
		return "\u2318"
	}
	return lang.X("keys.ctrl", "Ctrl") + "+"
}

func easelKeys() []keyOf {
	return []keyOf{
		{lang.X("keys.tab", "Tab"), lang.X("keys.handles", "to the next handle: split line, edges of the border, picture, line of lettering")},
		{lang.X("keys.arrows", "arrow keys"), lang.X("keys.nudge", "move it by 0.1 mm, the picture by a dot, the split line by 1 %; with Shift ten times as far")},
		{lang.X("keys.arrows", "arrow keys"), lang.X("keys.pan", "with no handle chosen: move the view")},
		{"+  -", lang.X("keys.zoom", "zoom; so does the wheel, about the pointer")},
		{"0", lang.X("keys.fit", "the whole panel")},
		{"1", lang.X("keys.dots", "a dot to a pixel")},
		{lang.X("keys.space", "Space"), lang.X("keys.grab", "held: dragging moves the view")},
		{lang.X("keys.wheel", "Ctrl or Alt + wheel"), lang.X("keys.crop", "make the picture larger or smaller on the panel")},
		{lang.X("keys.enter", "Enter, or a click"), lang.X("keys.pin", "pin a core at the pointer")},
		{lang.X("keys.escape", "Escape"), lang.X("keys.leave", "leave the handle")},
	}
}

func otherKeys() []keyOf {
	return []keyOf{
		{"?", lang.X("keys.this", "this list")},
		{"F1", lang.X("keys.guide", "the guide; Space, Page up and Page down turn its pages")},
		{lang.X("keys.leftright", "left, right"), lang.X("keys.marker", "on the depth ribbon: move the setting; with Shift ten times as far")},
		{lang.X("keys.leftright", "left, right"), lang.X("keys.drawer", "on a drawer's heading: close it, open it; so do Space and Enter")},
		{lang.X("keys.altarrows", "Alt + up, down"), lang.X("keys.coat", "on a coat of the stack: move it up or down among the others")},
		{lang.X("keys.entry", "Enter, Tab"), lang.X("keys.take", "in a line: take what was typed")},
		{lang.X("keys.escape", "Escape"), lang.X("keys.revert", "in a line: put back what stood there; in a question: put it away")},
	}
}

// forwardKeys hands what the instruments have no use for to the window.
func (b *Bench) forwardKeys() {
	b.easel.OnRune = b.typedRune
	b.ribbon.widget.OnRune = b.typedRune
	b.easel.OnKey = b.typed
	b.ribbon.widget.OnKey = b.typed
	b.guide.contents.OnKey = b.typed
	b.win.Canvas().SetOnTypedRune(b.typedRune)
}
