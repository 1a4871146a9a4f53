package widgets

import (
	"image/color"
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var _ fyne.Widget = (*Remarks)(nil)

// RemarkKind is how a remark is spoken.
type RemarkKind uint8

const (
	// Said is a plain paragraph.
	Said RemarkKind = iota
	// Listed is one of several points.
	Listed
	// Warned is a caution about this job, with a mark.
	Warned
)

// Remark is a paragraph.
type Remark struct {
	Kind RemarkKind
	Text string
}

// Remarks are paragraphs that say what follows from the values above them. They
// are as wide as they are made and as tall as that needs.
type Remarks struct {
	widget.BaseWidget

	remarks []Remark
	small   bool
}

// NewRemarks holds no remarks yet; small ones are read once and then known.
func NewRemarks(small bool) *Remarks {
	r := &Remarks{small: small}
	r.Hidden = true
	r.ExtendBaseWidget(r)
	return r
}

// Set says something else; without remarks they take no room.
func (r *Remarks) Set(remarks ...Remark) {
	if slices.Equal(r.remarks, remarks) {
		return
	}
	r.remarks = slices.Clone(remarks)
	if r.Hidden = len(remarks) == 0; !r.Hidden {
		r.Refresh()
	}
}

// Remarks are what is said.
func (r *Remarks) Remarks() []Remark { return slices.Clone(r.remarks) }

// Texts are the paragraphs.
func (r *Remarks) Texts() []string {
	out := make([]string, len(r.remarks))
	for i, m := range r.remarks {
		out[i] = m.Text
	}
	return out
}

// CreateRenderer is called by the toolkit.
func (r *Remarks) CreateRenderer() fyne.WidgetRenderer {
	d := &remarksRenderer{remarks: r, brush: newBrush()}
	d.brush.begin(r)
	return d
}

const (
	remarkGap  = 5  // between paragraphs
	remarkPad  = 4  // above the first and below the last
	remarkMark = 14 // a caution's mark
	pointHang  = 11 // what a point's lines stand back
	cautionGap = 4  // from the mark to the words
)

type remarksRenderer struct {
	remarks *Remarks
	brush   *brush
	size    fyne.Size
}

func (r *remarksRenderer) text() (size, line float32) {
	name := theme.SizeNameText
	if r.remarks.small {
		name = theme.SizeNameCaptionText
	}
	size = r.brush.size(name)
	return size, measure("Xg", size, fyne.TextStyle{}).Height
}

// hang is how far the words of a remark stand back for its mark.
func (m Remark) hang() float32 {
	switch m.Kind {
	case Listed:
		return pointHang
	case Warned:
		return remarkMark + cautionGap
	}
	return 0
}

func (m Remark) lines(size, width float32) []string {
	if width > 0 {
		width = max(1, width-m.hang())
	}
	return wrapped(m.Text, size, fyne.TextStyle{}, width)
}

func (r *remarksRenderer) MinSize() fyne.Size {
	size, line := r.text()
	out := fyne.NewSize(120, 2*remarkPad)
	for i, m := range r.remarks.remarks {
		if i > 0 {
			out.Height += remarkGap
		}
		out.Height += line * float32(len(m.lines(size, r.size.Width)))
	}
	return out
}

func (r *remarksRenderer) Layout(size fyne.Size) {
	wider := size.Width != r.size.Width
	r.size = size
	r.paint()
	if wider {
		canvas.Refresh(r.remarks) // the words may now take another number of lines
	}
}

func (r *remarksRenderer) paint() {
	b := r.brush
	b.begin(r.remarks)
	size, line := r.text()
	y := float32(remarkPad)
	for i, m := range r.remarks.remarks {
		if i > 0 {
			y += remarkGap
		}
		r.paintMark(m, y, line, size)
		for _, words := range m.lines(size, r.size.Width) {
			b.text(words, m.hang(), y, size, fyne.TextStyle{}, r.ink(m))
			y += line
		}
	}
}

func (r *remarksRenderer) paintMark(m Remark, y, line, size float32) {
	switch m.Kind {
	case Listed:
		r.brush.text("•", 2, y, size, fyne.TextStyle{}, r.ink(m))
	case Warned:
		r.brush.icon(cautionMark(), 0, y+(line-remarkMark)/2, remarkMark)
	}
}

func (r *remarksRenderer) ink(m Remark) color.Color {
	switch {
	case m.Kind == Warned:
		return r.brush.colour(house.Caution)
	case r.remarks.small:
		return r.brush.colour(theme.ColorNameForeground)
	}
	return r.brush.colour(house.Quiet)
}

func (r *remarksRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.brush.layer}
}

func (r *remarksRenderer) Refresh() {
	r.paint()
	canvas.Refresh(r.remarks)
}

func (r *remarksRenderer) Destroy() {}
