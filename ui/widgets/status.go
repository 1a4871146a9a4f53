package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget    = (*StatusLine)(nil)
	_ fyne.Focusable = (*segment)(nil)
	_ fyne.Tappable  = (*segment)(nil)
)

// Tone is how a segment of the status line is spoken.
type Tone uint8

const (
	// Plain states a fact.
	Plain Tone = iota
	// Careful is a caution: it carries a mark, and another ink.
	Careful
)

// StatusLine is a row of short facts. Every segment keeps its width, so that
// nothing jumps while figures change. A segment can be pressed once it was
// given something to do. Along its upper edge runs the progress of work in the
// background.
type StatusLine struct {
	widget.BaseWidget

	segments []*segment
	progress float64
}

// NewStatusLine has a segment for each sample, as wide as the sample: the longest
// text that is expected there.
func NewStatusLine(samples ...string) *StatusLine {
	s := &StatusLine{progress: 1}
	for _, sample := range samples {
		seg := &segment{sample: sample}
		seg.ExtendBaseWidget(seg)
		s.segments = append(s.segments, seg)
	}
	s.ExtendBaseWidget(s)
	return s
}

// Set writes a segment, counted from 0. A text longer than its sample is cut.
func (s *StatusLine) Set(i int, text string, tone Tone) {
	seg := s.segments[i]
	if seg.text != text || seg.tone != tone {
		seg.text, seg.tone = text, tone
		seg.Refresh()
	}
}

// SetAction says what a press on a segment does; nil makes it plain text again.
func (s *StatusLine) SetAction(i int, do func()) { s.segments[i].OnTapped = do }

// SetProgress shows how far the work in the background has come, 0..1. 1 is done
// and shows nothing.
func (s *StatusLine) SetProgress(fraction float64) {
	fraction = min(max(fraction, 0), 1)
	if s.progress != fraction {
		s.progress = fraction
		s.Refresh()
	}
}

// CreateRenderer is called by the toolkit.
func (s *StatusLine) CreateRenderer() fyne.WidgetRenderer {
	r := &statusRenderer{line: s, brush: newBrush()}
	r.brush.begin(s)
	r.objects = append(r.objects, r.brush.layer)
	for _, seg := range s.segments {
		r.objects = append(r.objects, seg)
	}
	return r
}

const (
	statusHeight = 26
	segmentPad   = 10
	segmentMark  = 14
)

type statusRenderer struct {
	line    *StatusLine
	brush   *brush
	objects []fyne.CanvasObject
	size    fyne.Size
}

func (r *statusRenderer) MinSize() fyne.Size {
	size := fyne.NewSize(0, statusHeight)
	for _, seg := range r.line.segments {
		size.Width += seg.MinSize().Width
	}
	return size
}

func (r *statusRenderer) Layout(size fyne.Size) {
	r.size = size
	x := float32(0)
	for _, seg := range r.line.segments {
		w := seg.MinSize().Width
		place(seg, x, 0, w, size.Height)
		x += w
	}
	r.paint()
}

func (r *statusRenderer) paint() {
	b := r.brush
	b.begin(r.line)
	b.bar(0, 0, r.size.Width, r.size.Height, b.colour(theme.ColorNameHeaderBackground))
	b.bar(0, 0, r.size.Width, b.hair(), b.colour(theme.ColorNameSeparator))
	if p := r.line.progress; p < 1 {
		b.bar(0, 0, r.size.Width*float32(p), 2, b.colour(theme.ColorNamePrimary))
	}
}

func (r *statusRenderer) Objects() []fyne.CanvasObject { return r.objects }

func (r *statusRenderer) Refresh() {
	r.paint()
	for _, seg := range r.line.segments {
		seg.Refresh()
	}
	canvas.Refresh(r.brush.layer)
}

func (r *statusRenderer) Destroy() {}

// segment is one fact.
type segment struct {
	pressable
	sample, text string
	tone         Tone
}

// CreateRenderer is called by the toolkit.
func (s *segment) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(s, s.minSize, s.paint)
}

func (s *segment) minSize() fyne.Size {
	text := inkOf(s).size(theme.SizeNameText)
	return fyne.NewSize(measure(s.sample, text, fyne.TextStyle{}).Width+2*segmentPad+segmentMark+4, statusHeight)
}

func (s *segment) paint(b *brush, size fyne.Size) {
	if s.hovered && !s.Disabled() {
		b.bar(0, b.hair(), size.Width, size.Height, b.colour(theme.ColorNameHover))
	}
	if s.text == "" {
		return
	}
	b.bar(size.Width-b.hair(), 6, size.Width, size.Height-6, b.colour(theme.ColorNameSeparator))
	x, ink := float32(segmentPad), theme.ColorNameForeground
	if s.tone == Careful {
		b.icon(cautionMark(), x, (size.Height-segmentMark)/2, segmentMark)
		x += segmentMark + 4
		ink = house.Caution
	}
	text := b.size(theme.SizeNameText)
	shown := elide(s.text, text, fyne.TextStyle{}, size.Width-x-segmentPad/2)
	b.text(shown, x, (size.Height-measure(shown, text, fyne.TextStyle{}).Height)/2, text, fyne.TextStyle{}, b.colour(ink))
	if s.focused {
		b.frame(0, 0, size.Width, size.Height, 2, b.colour(theme.ColorNamePrimary))
	}
}
