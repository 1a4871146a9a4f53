package widgets

import (
	"image"
	"image/draw"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"

	"undercoat/layout"
)

const (
	// pixelsShow is the magnification from which a picture's pixels are shown
	// as squares instead of being smoothed.
	pixelsShow = 2.5
	// largestQuad is the side, in the toolkit's pixels, of the largest picture
	// that is drawn whole; beyond it only the part in the viewport is drawn.
	largestQuad = 4096
)

// pane shows a placed picture in a viewport.
type pane struct {
	image *canvas.Image
	shown placed
	part  image.Rectangle // of the picture, that is in the canvas's image
}

func newPane() *pane {
	return &pane{image: &canvas.Image{FillMode: canvas.ImageFillStretch, ScaleMode: canvas.ImageScaleFastest}}
}

// set draws a placed picture where the viewport, shifted by an offset, has it.
func (p *pane) set(what placed, v viewport, offset fyne.Position) {
	if what.img == nil || what.img.Bounds().Empty() || v.scale == 0 {
		p.image.Hide()
		return
	}
	x0, y0, x1, y1 := v.box(what.area)
	if x1 <= 0 || y1 <= 0 || x0 >= v.size.Width || y0 >= v.size.Height {
		p.image.Hide()
		return
	}
	part := what.img.Bounds()
	if x1-x0 > largestQuad || y1-y0 > largestQuad {
		part, x0, y0, x1, y1 = visiblePart(part, v.size, x0, y0, x1, y1)
	}
	p.load(what, part)
	p.scaleBy((x1 - x0) / float32(part.Dx()))
	place(p.image, x0-offset.X, y0-offset.Y, x1-x0, y1-y0)
	p.image.Show()
}

// load hands the picture, or a part of it, to the canvas, unless it has it.
func (p *pane) load(what placed, part image.Rectangle) {
	if p.shown == what && p.part == part && p.image.Image != nil {
		return
	}
	p.shown, p.part = what, part
	if part == what.img.Bounds() {
		p.image.Image = what.img
	} else {
		cut := image.NewRGBA(image.Rectangle{Max: part.Size()})
		draw.Draw(cut, cut.Bounds(), what.img, part.Min, draw.Src)
		p.image.Image = cut
	}
	p.image.Refresh()
}

func (p *pane) scaleBy(magnification float32) {
	mode := canvas.ImageScaleFastest
	if magnification >= pixelsShow {
		mode = canvas.ImageScalePixels
	}
	if p.image.ScaleMode != mode {
		p.image.ScaleMode = mode
		p.image.Refresh()
	}
}

// visiblePart is the whole pixels of a picture that lie in a box of the given
// size, one more on each side, and where they are shown.
func visiblePart(whole image.Rectangle, size fyne.Size, x0, y0, x1, y1 float32) (part image.Rectangle, px0, py0, px1, py1 float32) {
	perX, perY := (x1-x0)/float32(whole.Dx()), (y1-y0)/float32(whole.Dy())
	span := func(from, per, extent float32, pixels int) (first, last int) {
		first = int(math.Floor(float64(-from/per))) - 1
		last = int(math.Ceil(float64((extent-from)/per))) + 1
		return max(0, first), min(pixels, last)
	}
	c0, c1 := span(x0, perX, size.Width, whole.Dx())
	r0, r1 := span(y0, perY, size.Height, whole.Dy())
	return image.Rect(c0, r0, c1, r1).Add(whole.Min),
		x0 + perX*float32(c0), y0 + perY*float32(r0), x0 + perX*float32(c1), y0 + perY*float32(r1)
}

// covers says that an area hides all of another.
func covers(a, b layout.Area) bool {
	const slack = 1e-6
	dx, dy := math.Abs(float64(a.Centre.X-b.Centre.X)), math.Abs(float64(a.Centre.Y-b.Centre.Y))
	return dx <= float64(a.Size.W-b.Size.W)/2+slack && dy <= float64(a.Size.H-b.Size.H)/2+slack
}
