package widgets

import (
	"image"
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget       = (*PickRow)(nil)
	_ fyne.Tappable     = (*PickRow)(nil)
	_ fyne.Focusable    = (*PickRow)(nil)
	_ desktop.Hoverable = (*PickRow)(nil)
	_ fyne.Disableable  = (*PickRow)(nil)
	_ fyne.Widget       = (*PickList)(nil)
)

// Pick is an entry of a list: what it is, in as many lines as that takes beside a
// picture and in one without, and behind it something more, which may be empty.
type Pick struct {
	Label, More string
	Picture     *image.RGBA // nil: none
	Chip        color.Color // shown before the label, where there is no picture; nil: none
}

// EmptyChip is a chip of no colour, for an entry among others that have one.
var EmptyChip color.Color = color.Transparent

// PickRow shows one entry. It is picked by a click, Space or Enter.
type PickRow struct {
	pressable

	pick   Pick
	chosen bool
}

func newPickRow() *PickRow {
	r := &PickRow{}
	r.ExtendBaseWidget(r)
	return r
}

// Label is what the entry is.
func (r *PickRow) Label() string { return r.pick.Label }

// More is what stands behind the label.
func (r *PickRow) More() string { return r.pick.More }

// Chosen says whether the entry is marked.
func (r *PickRow) Chosen() bool { return r.chosen }

func (r *PickRow) set(p Pick, chosen bool) {
	if r.pick != p || r.chosen != chosen {
		r.pick, r.chosen = p, chosen
		r.Refresh()
	}
}

const (
	pickTall    = 26
	pickPad     = 6
	pickPicture = 64 // the box that a picture is fitted into
	pickChip    = 34 // the width of a chip
)

// CreateRenderer is called by the toolkit.
func (r *PickRow) CreateRenderer() fyne.WidgetRenderer {
	p := &pickRenderer{row: r, brush: newBrush(), image: canvas.NewImageFromImage(nil)}
	p.image.FillMode = canvas.ImageFillContain
	p.brush.begin(r)
	return p
}

type pickRenderer struct {
	row   *PickRow
	brush *brush
	image *canvas.Image
	size  fyne.Size
}

func (r *pickRenderer) MinSize() fyne.Size {
	if r.row.pick.Picture == nil {
		return fyne.NewSize(140, pickTall)
	}
	return fyne.NewSize(140, pickPicture+2*pickPad)
}

func (r *pickRenderer) Layout(size fyne.Size) {
	r.size = size
	place(r.image, pickPad, pickPad, pickPicture, pickPicture)
	r.brush.layer.Resize(size)
	r.paint()
}

func (r *pickRenderer) paint() {
	w, b, size := r.row, r.brush, r.size
	b.begin(w)
	if w.chosen {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameSelection), b.colour(theme.ColorNameSelection), 0)
	} else if w.hovered {
		b.plate(0, 0, size.Width, size.Height, 3, b.colour(theme.ColorNameHover), b.colour(theme.ColorNameHover), 0)
	}
	text, plain, ink := b.size(theme.SizeNameText), fyne.TextStyle{}, b.colour(theme.ColorNameForeground)
	tall := measure("Xg", text, plain).Height
	if w.pick.Picture != nil {
		left := float32(pickPicture + 2*pickPad + 4)
		lines := wrapped(w.pick.Label, text, plain, size.Width-left-pickPad)
		lines = lines[:min(len(lines), int((size.Height-2)/tall))]
		y := (size.Height - tall*float32(len(lines))) / 2
		for _, line := range lines {
			b.text(line, left, y, text, plain, ink)
			y += tall
		}
	} else {
		second := b.colour(house.Quiet)
		if w.chosen {
			second = ink // quiet ink is too faint on the selection
		}
		m := measure(w.pick.More, text, plain)
		y := (size.Height - tall) / 2
		left, right := float32(pickPad), size.Width-pickPad-m.Width
		if w.pick.Chip != nil {
			b.plate(pickPad, 4, pickPad+pickChip, size.Height-4, 2, w.pick.Chip, b.colour(theme.ColorNameInputBorder), 1)
			left += pickChip + 8
		}
		b.text(elide(w.pick.Label, text, plain, right-pickPad-left), left, y, text, plain, ink)
		b.text(w.pick.More, right, y, text, plain, second)
	}
	if w.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}

func (r *pickRenderer) Objects() []fyne.CanvasObject {
	if r.row.pick.Picture == nil {
		return []fyne.CanvasObject{r.brush.layer}
	}
	return []fyne.CanvasObject{r.brush.layer, r.image}
}

func (r *pickRenderer) Refresh() {
	if img := r.row.pick.Picture; img != nil && r.image.Image != image.Image(img) {
		r.image.Image = img
		r.image.Refresh()
	}
	r.paint()
	canvas.Refresh(r.row)
}

func (r *pickRenderer) Destroy() {}

// PickList is a list of a few entries, one of which is picked.
type PickList struct {
	widget.BaseWidget

	// OnPicked tells which entry was picked, 0 being the first.
	OnPicked func(nth int)
	// OnKey takes the keys that pick nothing.
	OnKey func(*fyne.KeyEvent)

	rows   []*PickRow
	picks  []Pick
	chosen int
	column *fyne.Container
}

// NewPickList is a list without entries, which takes no room.
func NewPickList() *PickList {
	l := &PickList{column: container.New(tightColumn{}), chosen: -1}
	l.Hidden = true
	l.ExtendBaseWidget(l)
	return l
}

// Set shows other entries, one of them marked, or none for -1. Rows stay what they
// are as far as they go, so that a focused row keeps its focus.
func (l *PickList) Set(picks []Pick, chosen int) {
	if slices.Equal(l.picks, picks) && l.chosen == chosen {
		return
	}
	l.picks, l.chosen = slices.Clone(picks), chosen
	for len(l.rows) < len(picks) {
		row, nth := newPickRow(), len(l.rows)
		row.OnTapped = func() {
			if l.OnPicked != nil {
				l.OnPicked(nth)
			}
		}
		row.OnKey = func(ev *fyne.KeyEvent) {
			if l.OnKey != nil {
				l.OnKey(ev)
			}
		}
		l.rows = append(l.rows, row)
	}
	l.column.Objects = l.column.Objects[:0]
	for i, p := range picks {
		l.rows[i].set(p, i == chosen)
		l.column.Objects = append(l.column.Objects, l.rows[i])
	}
	l.Hidden = len(picks) == 0
	l.column.Refresh()
	canvas.Refresh(l)
}

// Len is the number of entries.
func (l *PickList) Len() int { return len(l.picks) }

// CreateRenderer is called by the toolkit.
func (l *PickList) CreateRenderer() fyne.WidgetRenderer { return widget.NewSimpleRenderer(l.column) }
