package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget       = (*Drawer)(nil)
	_ fyne.Focusable    = (*drawerHead)(nil)
	_ fyne.Tappable     = (*drawerHead)(nil)
	_ desktop.Hoverable = (*drawerHead)(nil)
)

// Drawer is a section that opens and closes: with the pointer, with Space or
// Enter, or with the right and left arrow keys on its heading. While it is closed a
// line beside its title sums up what is in it.
type Drawer struct {
	widget.BaseWidget

	// OnToggled tells that the drawer was opened or closed by hand.
	OnToggled func(open bool)
	// OnResized tells that a section became taller or lower.
	OnResized func()

	head    *drawerHead
	content fyne.CanvasObject
	open    bool
	section bool    // stands inside a drawer
	column  *Column // in which the drawer stands; nil: in none
}

// NewDrawer is a closed drawer.
func NewDrawer(title string, content fyne.CanvasObject) *Drawer {
	d := &Drawer{content: content}
	d.head = &drawerHead{title: title, drawer: d}
	d.head.OnTapped = func() { d.toggle(!d.open) }
	d.head.ExtendBaseWidget(d.head)
	d.ExtendBaseWidget(d)
	return d
}

// NewSection is a closed part of a drawer's content, which opens and closes as a
// drawer does.
func NewSection(title string, content fyne.CanvasObject) *Drawer {
	d := NewDrawer(title, content)
	d.section = true
	return d
}

// Title is what the heading says.
func (d *Drawer) Title() string { return d.head.title }

// SetSummary sets the line that is shown while the drawer is closed.
func (d *Drawer) SetSummary(summary string) {
	if d.head.summary != summary {
		d.head.summary = summary
		d.head.Refresh()
	}
}

// SetOpen opens or closes the drawer.
func (d *Drawer) SetOpen(open bool) {
	if d.open == open {
		return
	}
	d.open = open
	if open {
		d.content.Show()
	} else {
		d.content.Hide()
	}
	d.Refresh()
	if d.column != nil {
		d.column.Fit()
	}
	if d.OnResized != nil {
		d.OnResized()
	}
}

// Summary is the line that is shown while the drawer is closed.
func (d *Drawer) Summary() string { return d.head.summary }

// IsOpen says whether the drawer is open.
func (d *Drawer) IsOpen() bool { return d.open }

func (d *Drawer) toggle(open bool) {
	if d.open == open {
		return
	}
	d.SetOpen(open)
	if open && d.column != nil {
		d.column.Reveal(d)
	}
	if d.OnToggled != nil {
		d.OnToggled(open)
	}
}

// CreateRenderer is called by the toolkit.
func (d *Drawer) CreateRenderer() fyne.WidgetRenderer {
	if !d.open {
		d.content.Hide()
	}
	return &drawerRenderer{drawer: d}
}

const (
	drawerHeadHeight = 28
	drawerIndent     = 10
)

// indent is how far the content stands back on both sides: a section's lines up
// with what stands round it.
func (d *Drawer) indent() float32 {
	if d.section {
		return 0
	}
	return drawerIndent
}

type drawerRenderer struct{ drawer *Drawer }

func (r *drawerRenderer) MinSize() fyne.Size {
	size := r.drawer.head.MinSize()
	inside := r.drawer.content.MinSize()
	size.Width = max(size.Width, inside.Width+2*r.drawer.indent())
	if r.drawer.open {
		size.Height += inside.Height + 12
	}
	return size
}

func (r *drawerRenderer) Layout(size fyne.Size) {
	place(r.drawer.head, 0, 0, size.Width, drawerHeadHeight)
	if r.drawer.open {
		indent := r.drawer.indent()
		place(r.drawer.content, indent, drawerHeadHeight+4,
			max(0, size.Width-2*indent), max(0, size.Height-drawerHeadHeight-12))
	}
}

func (r *drawerRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.drawer.head, r.drawer.content}
}

func (r *drawerRenderer) Refresh() {
	r.drawer.head.Refresh()
	r.Layout(r.drawer.Size())
	r.drawer.content.Refresh()
	canvas.Refresh(r.drawer)
}

func (r *drawerRenderer) Destroy() {}

// drawerHead is a drawer's heading.
type drawerHead struct {
	pressable
	title, summary string
	drawer         *Drawer
}

// TypedKey opens and closes.
func (h *drawerHead) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyRight:
		h.drawer.toggle(true)
	case fyne.KeyLeft:
		h.drawer.toggle(false)
	default:
		h.pressable.TypedKey(ev)
	}
}

// CreateRenderer is called by the toolkit.
func (h *drawerHead) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(h, h.minSize, h.paint)
}

func (h *drawerHead) minSize() fyne.Size { return fyne.NewSize(160, drawerHeadHeight) }

func (h *drawerHead) paint(b *brush, size fyne.Size) {
	const mark, gap = 16, 6
	bold, plain := fyne.TextStyle{Bold: true}, fyne.TextStyle{}
	left := float32(gap)
	if h.drawer.section {
		left = 0
	} else {
		b.bar(0, 0, size.Width, size.Height, b.colour(theme.ColorNameHeaderBackground))
	}
	if h.hovered {
		b.bar(0, 0, size.Width, size.Height, b.colour(theme.ColorNameHover))
	}
	b.bar(0, size.Height-b.hair(), size.Width, size.Height, b.colour(theme.ColorNameSeparator))
	sign := shutMark()
	if h.drawer.open {
		sign = openMark()
	}
	b.icon(sign, left, (size.Height-mark)/2, mark)

	text := b.size(theme.SizeNameText)
	m := measure(h.title, text, bold)
	x := left + mark + gap
	y := (size.Height - m.Height) / 2
	b.text(h.title, x, y, text, bold, b.colour(theme.ColorNameForeground))
	if !h.drawer.open {
		room := size.Width - x - m.Width - 2*gap - 6
		summary := elide(h.summary, text, plain, room)
		b.text(summary, size.Width-left-measure(summary, text, plain).Width, y, text, plain, b.colour(house.Quiet))
	}
	if h.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}
