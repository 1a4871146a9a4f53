package widgets

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

var _ fyne.Widget = (*Column)(nil)

// Column stacks drawers, and scrolls where they are taller than it is.
//
// It arranges them itself when one of them becomes taller or lower. The toolkit
// would do so by the next frame, but of several objects that change their size in
// one frame it may pass over all but the last, and leave drawers on top of each
// other.
type Column struct {
	widget.BaseWidget

	drawers []*Drawer
	heights []float32 // of the drawers, as they are arranged
	stack   *fyne.Container
	scroll  *container.Scroll
	width   float32
}

// NewColumn stacks drawers from the top down, at least so wide.
func NewColumn(width float32, drawers ...*Drawer) *Column {
	c := &Column{drawers: drawers, stack: container.NewVBox(), width: width}
	for _, d := range drawers {
		d.column = c
		c.stack.Add(d)
	}
	c.scroll = container.NewVScroll(c.stack)
	c.ExtendBaseWidget(c)
	return c
}

// Fit arranges the drawers anew if one of them changed its height. It is called
// after anything that may have done so, other than opening a drawer.
func (c *Column) Fit() {
	// What wraps its words knows its height only once it knows its width.
	for range 3 {
		now := make([]float32, len(c.drawers))
		for i, d := range c.drawers {
			now[i] = d.MinSize().Height
		}
		if slices.Equal(now, c.heights) {
			return
		}
		c.heights = now
		c.stack.Refresh()
		c.scroll.Refresh()
	}
}

// Reveal scrolls so that a drawer, or something in one, can be seen, its upper edge
// in any case.
func (c *Column) Reveal(o fyne.CanvasObject) {
	c.Fit()
	driver := fyne.CurrentApp().Driver()
	top := driver.AbsolutePositionForObject(o).Y - driver.AbsolutePositionForObject(c.stack).Y
	end := top + o.MinSize().Height
	offset := max(c.scroll.Offset.Y, end-c.scroll.Size().Height)
	c.scroll.ScrollToOffset(fyne.NewPos(0, min(offset, top)))
}

// CreateRenderer is called by the toolkit.
func (c *Column) CreateRenderer() fyne.WidgetRenderer {
	return &columnRenderer{c}
}

type columnRenderer struct{ column *Column }

func (r *columnRenderer) MinSize() fyne.Size {
	return fyne.NewSize(max(r.column.width, r.column.stack.MinSize().Width), r.column.scroll.MinSize().Height)
}

func (r *columnRenderer) Layout(size fyne.Size) {
	r.column.scroll.Resize(size)
	r.column.Fit()
}

func (r *columnRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.column.scroll}
}

func (r *columnRenderer) Refresh() { r.column.scroll.Refresh() }

func (r *columnRenderer) Destroy() {}
