package widgets

import (
	"image/color"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/theme"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

// easelRenderer stacks, from below: the surround; in a clip the panel, the
// picture, its detail, the compared picture and the handles; the rulers.
type easelRenderer struct {
	easel *Easel
	size  fyne.Size

	surround *canvas.Rectangle
	panel    *brush
	picture  *pane
	detail   *pane
	other    *pane
	sharper  *pane // a part of the other
	half     *container.Clip
	handles  *brush
	world    *container.Clip
	rulers   *brush
}

func newEaselRenderer(e *Easel) *easelRenderer {
	r := &easelRenderer{
		easel: e, surround: &canvas.Rectangle{},
		panel: newBrush(), handles: newBrush(), rulers: newBrush(),
		picture: newPane(), detail: newPane(), other: newPane(), sharper: newPane(),
	}
	r.half = container.NewClip(container.NewWithoutLayout(r.other.image, r.sharper.image))
	r.world = container.NewClip(container.NewWithoutLayout(
		r.panel.layer, r.picture.image, r.detail.image, r.half, r.handles.layer))
	r.draw()
	return r
}

func (r *easelRenderer) Layout(size fyne.Size) {
	r.size = size
	r.surround.Resize(size)
	place(r.world, rulerLeft, rulerTop, max(0, size.Width-rulerLeft), max(0, size.Height-rulerTop))
	e := r.easel
	e.view = e.settled(e.view)
	r.draw()
	e.tellView()
}

func (r *easelRenderer) MinSize() fyne.Size { return r.easel.MinSize() }

func (r *easelRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.surround, r.world, r.rulers.layer}
}

// Refresh draws anew. It passes by the toolkit's refresh of the whole widget,
// which would send every picture to the screen's memory again.
func (r *easelRenderer) Refresh() {
	r.draw()
	canvas.Refresh(r.rulers.layer)
	r.easel.tellView()
}

func (r *easelRenderer) Destroy() {}

func (r *easelRenderer) draw() {
	e := r.easel
	for _, b := range []*brush{r.panel, r.handles, r.rulers} {
		b.begin(e)
	}
	if fill := r.rulers.colour(house.Surround); r.surround.FillColor != fill {
		r.surround.FillColor = fill
		r.surround.Refresh()
	}
	if r.size.IsZero() {
		return
	}
	r.drawPanel()
	r.drawPictures()
	if e.view.scale > 0 {
		r.drawHandles()
	}
	r.drawRulers()
	if e.focused {
		r.rulers.frame(rulerLeft, rulerTop, r.size.Width, r.size.Height, 2, r.rulers.colour(theme.ColorNamePrimary))
	}
}

// drawPanel paints the panel's face with a soft shadow. A canvas has round
// edges, where the cloth turns over its bars and takes or loses the light.
func (r *easelRenderer) drawPanel() {
	e, b := r.easel, r.panel
	if e.view.scale == 0 {
		return
	}
	// Corners far outside the viewport are drawn just outside it: no one can
	// tell, and no painter has to deal with boxes of a hundred thousand pixels.
	const margin = 64
	x0, y0, x1, y1 := e.view.box(layout.Area{Size: e.panel.Size})
	x0, y0 = max(x0, -margin), max(y0, -margin)
	x1, y1 = min(x1, e.view.size.Width+margin), min(y1, e.view.size.Height+margin)

	shadow := b.colour(house.Shade)
	for i := range 3 {
		grow := float32(1 + 2*i)
		b.plate(x0-grow, y0-grow+2, x1+grow, y1+grow+2, 2+grow, shadow, color.Transparent, 0)
	}
	if e.panel.Kind != layout.Canvas {
		b.bar(x0, y0, x1, y1, e.topCoat)
		return
	}
	b.plate(x0, y0, x1, y1, 2.5, e.topCoat, color.Transparent, 0)
	fold := min(3, max(1, float32(float64(e.panel.EdgeDepth)*e.view.scale/8)))
	b.bar(x0+2, y0, x1-2, y0+fold, b.colour(house.FoldLight))
	b.bar(x0, y0+2, x0+fold, y1-2, b.colour(house.FoldLight))
	b.bar(x0+2, y1-fold, x1-2, y1, b.colour(house.Fold))
	b.bar(x1-fold, y0+2, x1, y1-2, b.colour(house.Fold))
}

func (r *easelRenderer) drawPictures() {
	e := r.easel
	below := e.picture
	if seen, ok := e.view.visible(e.panel.Size); ok && e.detail.img != nil && covers(e.detail.area, clipped(seen, e.picture.area)) {
		below = placed{} // nothing of it can be seen
	}
	r.picture.set(below, e.view, fyne.Position{})
	r.detail.set(e.detail, e.view, fyne.Position{})
	if e.other.img == nil {
		r.half.Hide()
		return
	}
	x := r.handles.snap(e.splitX())
	left := min(max(x, 0), e.view.size.Width)
	place(r.half, left, 0, e.view.size.Width-left, e.view.size.Height)
	r.half.Show()
	r.other.set(e.other, e.view, fyne.NewPos(left, 0))
	r.sharper.set(e.otherDetail, e.view, fyne.NewPos(left, 0))
}

// clipped is what two areas share; empty where they do not meet.
func clipped(a, b layout.Area) layout.Area {
	x0, x1 := max(a.Centre.X-a.Size.W/2, b.Centre.X-b.Size.W/2), min(a.Centre.X+a.Size.W/2, b.Centre.X+b.Size.W/2)
	y0, y1 := max(a.Centre.Y-a.Size.H/2, b.Centre.Y-b.Size.H/2), min(a.Centre.Y+a.Size.H/2, b.Centre.Y+b.Size.H/2)
	return layout.Area{
		Centre: layout.Point{X: (x0 + x1) / 2, Y: (y0 + y1) / 2},
		Size:   layout.Size{W: max(0, x1-x0), H: max(0, y1-y0)},
	}
}
