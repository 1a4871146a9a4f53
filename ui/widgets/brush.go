package widgets

import (
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
)

// ink looks up the theme for one widget.
type ink struct {
	theme   fyne.Theme
	variant fyne.ThemeVariant
}

type themed interface{ Theme() fyne.Theme }

func inkOf(w themed) ink {
	return ink{theme: w.Theme(), variant: fyne.CurrentApp().Settings().ThemeVariant()}
}

func (k ink) colour(name fyne.ThemeColorName) color.Color { return k.theme.Color(name, k.variant) }

func (k ink) size(name fyne.ThemeSizeName) float32 { return k.theme.Size(name) }

// brush draws simple shapes into a layer, in the order of the calls. Shapes of
// the last drawing are used again, so that a drag makes no garbage.
type brush struct {
	ink
	layer *fyne.Container
	scale float32 // device pixels in one of the toolkit's

	bars   []*canvas.Rectangle
	texts  []*canvas.Text
	lines  []*canvas.Line
	images []*canvas.Image

	nBars, nTexts, nLines, nImages int

	stale bool // the icons were drawn in another theme
}

func newBrush() *brush { return &brush{layer: &fyne.Container{}, scale: 1} }

// begin starts a new drawing for the widget that owns the brush.
func (b *brush) begin(w fyne.Widget) {
	if t, ok := w.(themed); ok {
		now := inkOf(t)
		b.stale = now != b.ink
		b.ink = now
	}
	b.scale = deviceScale(w)
	b.nBars, b.nTexts, b.nLines, b.nImages = 0, 0, 0, 0
	b.layer.Objects = b.layer.Objects[:0]
}

// deviceScale is the number of device pixels in one of the toolkit's, 1 until the
// widget is on a canvas.
func deviceScale(w fyne.CanvasObject) float32 {
	if c := fyne.CurrentApp().Driver().CanvasForObject(w); c != nil && c.Scale() > 0 {
		return c.Scale()
	}
	return 1
}

// snap moves a coordinate to the nearest edge between device pixels.
func (b *brush) snap(v float32) float32 {
	return float32(math.Round(float64(v*b.scale))) / b.scale
}

// hair is the width of one device pixel or of one of the toolkit's, whichever is
// the wider.
func (b *brush) hair() float32 { return max(1, b.snap(1)) }

func (b *brush) rectangle() *canvas.Rectangle {
	if b.nBars == len(b.bars) {
		b.bars = append(b.bars, &canvas.Rectangle{})
	}
	r := b.bars[b.nBars]
	b.nBars++
	b.layer.Objects = append(b.layer.Objects, r)
	return r
}

// bar fills the box between two corners, snapped to the device's pixels. A box
// that is turned inside out is not drawn.
func (b *brush) bar(x0, y0, x1, y1 float32, fill color.Color) {
	x0, y0, x1, y1 = b.snap(x0), b.snap(y0), b.snap(x1), b.snap(y1)
	if x1 <= x0 || y1 <= y0 {
		return
	}
	r := b.rectangle()
	r.FillColor, r.StrokeColor, r.StrokeWidth, r.CornerRadius = fill, color.Transparent, 0, 0
	place(r, x0, y0, x1-x0, y1-y0)
}

// shares draws shares side by side in equal bins between two corners, from the foot up; the
// share top is as high as the room, and what is larger is cut off there.
func (b *brush) shares(x0, y0, x1, y1 float32, shares []float64, top float64, fill color.Color) {
	if !(top > 0) {
		return
	}
	wide := (x1 - x0) / float32(len(shares))
	for i, s := range shares {
		if s > 0 {
			tall := max(b.hair(), (y1-y0)*float32(min(1, s/top)))
			b.bar(x0+wide*float32(i), y1-tall, x0+wide*float32(i+1), y1, fill)
		}
	}
}

// plate fills a box with round corners and strokes its rim.
func (b *brush) plate(x0, y0, x1, y1, radius float32, fill, rim color.Color, width float32) {
	x0, y0, x1, y1 = b.snap(x0), b.snap(y0), b.snap(x1), b.snap(y1)
	if x1 <= x0 || y1 <= y0 {
		return
	}
	r := b.rectangle()
	r.FillColor, r.StrokeColor, r.StrokeWidth, r.CornerRadius = fill, rim, width, radius
	place(r, x0, y0, x1-x0, y1-y0)
}

// frame draws the four sides of a box as bars that lie inside it.
func (b *brush) frame(x0, y0, x1, y1, width float32, fill color.Color) {
	b.bar(x0, y0, x1, y0+width, fill)
	b.bar(x0, y1-width, x1, y1, fill)
	b.bar(x0, y0+width, x0+width, y1-width, fill)
	b.bar(x1-width, y0+width, x1, y1-width, fill)
}

// text writes a line with its upper left corner at (x, y).
func (b *brush) text(s string, x, y, size float32, style fyne.TextStyle, fill color.Color) {
	if s == "" {
		return
	}
	if b.nTexts == len(b.texts) {
		b.texts = append(b.texts, &canvas.Text{})
	}
	t := b.texts[b.nTexts]
	b.nTexts++
	t.Text, t.TextSize, t.TextStyle, t.Color = s, size, style, fill
	m := measure(s, size, style)
	place(t, b.snap(x), b.snap(y), m.Width, m.Height)
	b.layer.Objects = append(b.layer.Objects, t)
}

func (b *brush) line(x0, y0, x1, y1, width float32, stroke color.Color) {
	if b.nLines == len(b.lines) {
		b.lines = append(b.lines, &canvas.Line{})
	}
	l := b.lines[b.nLines]
	b.nLines++
	l.Position1, l.Position2 = fyne.NewPos(x0, y0), fyne.NewPos(x1, y1)
	l.StrokeColor, l.StrokeWidth = stroke, width
	b.layer.Objects = append(b.layer.Objects, l)
}

// chip writes a line on a plate of its own, in the middle of it.
func (b *brush) chip(text string, x, y, w, h, size float32) {
	m := measure(text, size, fyne.TextStyle{})
	b.plate(x, y, x+w, y+h, 3, b.colour(theme.ColorNameOverlayBackground), b.colour(theme.ColorNameSeparator), 1)
	b.text(text, x+(w-m.Width)/2, y+(h-m.Height)/2, size, fyne.TextStyle{}, b.colour(theme.ColorNameForeground))
}

// icon draws a themed icon in a square.
func (b *brush) icon(res fyne.Resource, x, y, side float32) {
	if b.nImages == len(b.images) {
		b.images = append(b.images, &canvas.Image{FillMode: canvas.ImageFillContain})
	}
	i := b.images[b.nImages]
	b.nImages++
	changed := i.Resource != res || b.stale
	i.Resource = res
	place(i, b.snap(x), b.snap(y), side, side)
	if changed {
		i.Image = nil
		i.Refresh()
	}
	b.layer.Objects = append(b.layer.Objects, i)
}

func place(o fyne.CanvasObject, x, y, w, h float32) {
	o.Move(fyne.NewPos(x, y))
	o.Resize(fyne.NewSize(w, h))
}

func measure(s string, size float32, style fyne.TextStyle) fyne.Size {
	return fyne.MeasureText(s, size, style)
}

// elide cuts a text with a mark at its end, so that it is at most width wide. A
// width too small for any letter leaves nothing.
func elide(s string, size float32, style fyne.TextStyle, width float32) string {
	if measure(s, size, style).Width <= width {
		return s
	}
	letters := []rune(s)
	for n := len(letters) - 1; n > 0; n-- {
		if cut := string(letters[:n]) + "…"; measure(cut, size, style).Width <= width {
			return cut
		}
	}
	return ""
}

// drawn is the renderer of the widgets that draw themselves anew whenever
// something changes.
type drawn struct {
	widget fyne.Widget
	brush  *brush
	min    func() fyne.Size
	paint  func(*brush, fyne.Size)
	size   fyne.Size
}

var _ fyne.WidgetRenderer = (*drawn)(nil)

func newDrawn(w fyne.Widget, min func() fyne.Size, paint func(*brush, fyne.Size)) *drawn {
	return &drawn{widget: w, brush: newBrush(), min: min, paint: paint}
}

func (r *drawn) Layout(size fyne.Size) {
	r.size = size
	r.brush.layer.Resize(size)
	r.draw()
}

func (r *drawn) draw() {
	r.brush.begin(r.widget)
	if r.size.Width > 0 && r.size.Height > 0 {
		r.paint(r.brush, r.size)
	}
}

func (r *drawn) MinSize() fyne.Size { return r.min() }

func (r *drawn) Objects() []fyne.CanvasObject { return []fyne.CanvasObject{r.brush.layer} }

func (r *drawn) Refresh() {
	r.draw()
	canvas.Refresh(r.widget)
}

func (r *drawn) Destroy() {}
