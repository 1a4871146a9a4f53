package widgets

import (
	"fmt"
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/theme"

	"undercoat/imaging/colour"
	house "undercoat/ui/theme"
)

var (
	_ fyne.Widget       = (*Card)(nil)
	_ fyne.Focusable    = (*Card)(nil)
	_ fyne.Tappable     = (*Card)(nil)
	_ desktop.Hoverable = (*Card)(nil)
)

// Part is a share of a whole, with the paint that it is of.
type Part struct {
	Name   string
	Colour colour.Stored
	Share  float64 // 0..1
}

// Card is a picture with what it stands for below it: a title, a line, and what it
// consists of. With an OnTapped it can be picked by a click, Space or Enter.
type Card struct {
	pressable

	picture     *image.RGBA
	title, more string
	parts       []Part
	chosen      bool
}

// NewCard is an empty card; onTapped may be nil.
func NewCard(onTapped func()) *Card {
	c := &Card{}
	c.OnTapped = onTapped
	c.ExtendBaseWidget(c)
	return c
}

// Set shows a picture and what it stands for.
func (c *Card) Set(picture *image.RGBA, title, more string, parts ...Part) {
	c.picture, c.title, c.more, c.parts = picture, title, more, parts
	c.Refresh()
}

// SetChosen marks the card as the one in use, by a frame and by its bold title.
func (c *Card) SetChosen(chosen bool) {
	if c.chosen != chosen {
		c.chosen = chosen
		c.Refresh()
	}
}

// Picture is what the card shows; nil: nothing yet.
func (c *Card) Picture() *image.RGBA { return c.picture }

// Title is what the card is called.
func (c *Card) Title() string { return c.title }

// Chosen says whether the card is marked.
func (c *Card) Chosen() bool { return c.chosen }

const (
	cardPad   = 8
	cardRow   = 19
	cardLeast = 90 // pixels of picture
)

// CreateRenderer is called by the toolkit.
func (c *Card) CreateRenderer() fyne.WidgetRenderer {
	r := &cardRenderer{card: c, image: canvas.NewImageFromImage(nil)}
	r.image.FillMode = canvas.ImageFillContain
	r.image.ScaleMode = canvas.ImageScaleFastest
	r.drawn = newDrawn(c, r.minSize, r.paint)
	return r
}

type cardRenderer struct {
	*drawn
	card  *Card
	image *canvas.Image
}

func (r *cardRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.brush.layer, r.image}
}

// foot is the height of what stands below the picture.
func (r *cardRenderer) foot() float32 { return float32(2+len(r.card.parts))*cardRow + cardPad }

func (r *cardRenderer) minSize() fyne.Size {
	return fyne.NewSize(120, cardLeast+r.foot()+2*cardPad)
}

func (r *cardRenderer) paint(b *brush, size fyne.Size) {
	c := r.card
	tall := r.placePicture(size)
	if c.hovered && !c.Disabled() {
		b.bar(0, 0, size.Width, 2*cardPad+tall+r.foot(), b.colour(theme.ColorNameHover))
	}
	r.paintWords(b, size, 2*cardPad+tall)
	end := 2*cardPad + tall + r.foot()
	if c.chosen {
		b.frame(0, 0, size.Width, end, 1, b.colour(theme.ColorNameForeground))
	}
	if c.focused {
		b.frame(0, 0, size.Width, end, 2, b.colour(theme.ColorNamePrimary))
	}
}

// placePicture fits the picture into the room above the words and gives its height.
func (r *cardRenderer) placePicture(size fyne.Size) float32 {
	img := r.card.picture
	room := fyne.NewSize(size.Width-2*cardPad, size.Height-r.foot()-2*cardPad)
	if img == nil || room.Width <= 0 || room.Height <= 0 {
		r.image.Hide()
		return max(0, room.Height)
	}
	if r.image.Image != image.Image(img) {
		r.image.Image = img
		r.image.Refresh()
	}
	w, h := float32(img.Rect.Dx()), float32(img.Rect.Dy())
	scale := min(room.Width/w, room.Height/h)
	place(r.image, (size.Width-w*scale)/2, cardPad, w*scale, h*scale)
	r.image.Show()
	return h * scale
}

func (r *cardRenderer) paintWords(b *brush, size fyne.Size, y float32) {
	c, text, small := r.card, b.size(theme.SizeNameText), b.size(theme.SizeNameCaptionText)
	plain, bold := fyne.TextStyle{}, fyne.TextStyle{Bold: true}
	ink, quiet := b.colour(theme.ColorNameForeground), b.colour(house.Quiet)
	room := size.Width - 2*cardPad
	b.text(elide(c.title, text, bold, room), cardPad, y, text, bold, ink)
	y += cardRow
	b.text(elide(c.more, small, plain, room), cardPad, y, small, plain, quiet)
	y += cardRow
	const swatch = 11
	for _, p := range c.parts {
		b.plate(cardPad, y+2, cardPad+swatch, y+2+swatch, 2, p.Colour, b.colour(theme.ColorNameInputBorder), 1)
		share := fmt.Sprintf("%.0f %%", 100*p.Share)
		w := measure(share, small, plain).Width
		b.text(elide(p.Name, small, plain, room-swatch-w-14), cardPad+swatch+6, y, small, plain, ink)
		b.text(share, size.Width-cardPad-w, y, small, plain, ink)
		y += cardRow
	}
}
