package widgets

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

var _ fyne.Widget = (*CardOutline)(nil)

// The size of a bank card, and of the round of its corners.
// Source: ISO/IEC 7810:2019, Identification cards, physical characteristics, ID-1.
const (
	CardWide  layout.MM = 85.60
	CardTall  layout.MM = 53.98
	cardRound layout.MM = 3.18
)

// The narrowest and the widest that a card is drawn, in the toolkit's pixels: a
// coarse projector and a fine telephone lie between them.
const (
	NarrowestCard = 120
	WidestCard    = 720
)

// CardOutline is a rectangle of a bank card's shape, as large as asked: once it is as
// large as a card laid on the screen, the screen's pixels are measured.
type CardOutline struct {
	widget.BaseWidget

	wide float32
}

// NewCardOutline is an outline so many of the toolkit's pixels wide.
func NewCardOutline(wide float32) *CardOutline {
	c := &CardOutline{wide: wide}
	c.ExtendBaseWidget(c)
	return c
}

// SetWide makes the outline so many of the toolkit's pixels wide.
func (c *CardOutline) SetWide(wide float32) {
	c.wide = wide
	c.Refresh()
}

// PixelsPerMM is how many pixels of the device a millimetre takes if a card is as
// wide as the outline.
func (c *CardOutline) PixelsPerMM() float64 {
	return float64(c.wide*deviceScale(c)) / float64(CardWide)
}

// CreateRenderer is called by the toolkit.
func (c *CardOutline) CreateRenderer() fyne.WidgetRenderer {
	return newDrawn(c, func() fyne.Size { return fyne.NewSize(WidestCard, cardHeight(WidestCard)) }, c.paint)
}

func cardHeight(wide float32) float32 { return wide * float32(CardTall/CardWide) }

func (c *CardOutline) paint(b *brush, size fyne.Size) {
	tall := cardHeight(c.wide)
	x, y := (size.Width-c.wide)/2, (size.Height-tall)/2
	round := c.wide * float32(cardRound/CardWide)
	b.plate(x, y, x+c.wide, y+tall, round, b.colour(house.Surround), b.colour(theme.ColorNameForeground), 1)
	text := b.size(theme.SizeNameText)
	says := "85.60 x 53.98 mm"
	m := measure(says, text, fyne.TextStyle{})
	if m.Width < c.wide {
		b.text(says, (size.Width-m.Width)/2, (size.Height-m.Height)/2, text, fyne.TextStyle{}, b.colour(theme.ColorNameForeground))
	}
}
