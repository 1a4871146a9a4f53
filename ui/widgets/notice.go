package widgets

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

var _ fyne.Widget = (*Notice)(nil)

// Notice is a calm bar across the window that says what went wrong and what to do
// next, without standing in the way of the work. It is hidden until there is
// something to say, and is closed by its button.
type Notice struct {
	widget.BaseWidget

	// OnClosed tells that the notice was closed by hand.
	OnClosed func()
	// OnSaid tells that the notice says something, so that it needs room. What holds it
	// may have been laid out since and not look again by itself.
	OnSaid func()

	text, next string
	mark       func() fyne.Resource
	act        *widget.Button
	shut       *widget.Button
}

// NewNotice is a hidden notice.
func NewNotice() *Notice {
	n := &Notice{mark: errorMark}
	n.act = widget.NewButton("", nil)
	n.act.Hide()
	n.shut = widget.NewButtonWithIcon("", closeMark(), n.close)
	n.shut.Importance = widget.LowImportance
	n.ExtendBaseWidget(n)
	n.Hide()
	return n
}

// Tell says what went wrong, and what to do next; next may be empty.
func (n *Notice) Tell(problem, next string) { n.say(errorMark, problem, next) }

// TellError says what an error of this program says. Such an error is one
// sentence, the part after its last colon being the next step.
func (n *Notice) TellError(err error) {
	problem, next := err.Error(), ""
	if i := strings.LastIndex(problem, ": "); i >= 0 {
		problem, next = problem[:i], problem[i+2:]
	}
	n.Tell(Sentence(problem), Sentence(next))
}

// Inform says something that is not a fault.
func (n *Notice) Inform(text, next string) { n.say(infoMark, text, next) }

// SetAction offers something to do in a button beside the text until the next
// thing is said.
func (n *Notice) SetAction(label string, do func()) {
	n.act.SetText(label)
	n.act.OnTapped = do
	n.act.Show()
	n.Refresh()
}

// Said is what the notice says, and what to do next; both are empty while it is
// hidden.
func (n *Notice) Said() (text, next string) {
	if !n.Visible() {
		return "", ""
	}
	return n.text, n.next
}

func (n *Notice) say(mark func() fyne.Resource, text, next string) {
	n.mark, n.text, n.next = mark, text, next
	n.act.Hide()
	n.Show()
	n.Refresh()
	if n.OnSaid != nil {
		n.OnSaid()
	}
}

func (n *Notice) close() {
	n.Hide()
	if n.OnClosed != nil {
		n.OnClosed()
	}
}

// CreateRenderer is called by the toolkit.
func (n *Notice) CreateRenderer() fyne.WidgetRenderer {
	r := &noticeRenderer{notice: n, brush: newBrush()}
	r.brush.begin(n)
	return r
}

const (
	noticePad  = 8
	noticeMark = 18
)

type noticeRenderer struct {
	notice *Notice
	brush  *brush
	size   fyne.Size
}

// line is a line of the notice's text.
type noticeLine struct {
	text  string
	style fyne.TextStyle
}

func (r *noticeRenderer) lines(width float32) []noticeLine {
	size := r.brush.size(theme.SizeNameText)
	room := width - r.buttonsWidth() - 3*noticePad - noticeMark
	if width == 0 {
		room = 0
	}
	var lines []noticeLine
	bold := fyne.TextStyle{Bold: true}
	for _, l := range wrapped(r.notice.text, size, bold, room) {
		lines = append(lines, noticeLine{l, bold})
	}
	for _, l := range wrapped(r.notice.next, size, fyne.TextStyle{}, room) {
		lines = append(lines, noticeLine{l, fyne.TextStyle{}})
	}
	return lines
}

func (r *noticeRenderer) buttonsWidth() float32 {
	w := r.notice.shut.MinSize().Width + noticePad
	if r.notice.act.Visible() {
		w += r.notice.act.MinSize().Width + noticePad
	}
	return w
}

func (r *noticeRenderer) lineHeight() float32 {
	return measure("Xg", r.brush.size(theme.SizeNameText), fyne.TextStyle{}).Height
}

func (r *noticeRenderer) MinSize() fyne.Size {
	text := float32(len(r.lines(r.size.Width)))*r.lineHeight() + 2*noticePad
	return fyne.NewSize(240+r.buttonsWidth(), max(text, r.notice.shut.MinSize().Height+noticePad))
}

func (r *noticeRenderer) Layout(size fyne.Size) {
	r.size = size
	n := r.notice
	x := size.Width - noticePad/2
	for _, button := range []*widget.Button{n.shut, n.act} {
		if button.Visible() {
			m := button.MinSize()
			x -= m.Width
			place(button, x, (size.Height-m.Height)/2, m.Width, m.Height)
			x -= noticePad
		}
	}
	r.paint()
}

func (r *noticeRenderer) paint() {
	n, b := r.notice, r.brush
	b.begin(n)
	b.bar(0, 0, r.size.Width, r.size.Height, b.colour(theme.ColorNameOverlayBackground))
	b.bar(0, 0, r.size.Width, b.hair(), b.colour(theme.ColorNameSeparator))
	b.bar(0, r.size.Height-b.hair(), r.size.Width, r.size.Height, b.colour(theme.ColorNameSeparator))
	lines, step := r.lines(r.size.Width), r.lineHeight()
	y := (r.size.Height - float32(len(lines))*step) / 2
	b.icon(n.mark(), noticePad, y+(step-noticeMark)/2, noticeMark)
	for _, l := range lines {
		b.text(l.text, 2*noticePad+noticeMark, y, b.size(theme.SizeNameText), l.style, b.colour(theme.ColorNameForeground))
		y += step
	}
}

func (r *noticeRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.brush.layer, r.notice.act, r.notice.shut}
}

func (r *noticeRenderer) Refresh() {
	r.Layout(r.size)
	r.notice.act.Refresh()
	r.notice.shut.Refresh()
	canvas.Refresh(r.notice)
}

func (r *noticeRenderer) Destroy() {}
