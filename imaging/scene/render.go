package scene

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// Render hangs a panel in a room and gives a view of w x h pixels. The room is
// shown as near as the panel and what stands beside it allow; a panel too large
// to hang over the furniture hangs beside it.
func Render(ctx context.Context, o Options, w, h int) (*image.RGBA, error) {
	if err := o.Kind.validate(); err != nil {
		return nil, err
	}
	if err := o.validate(); err != nil {
		return nil, err
	}
	if err := validateView(w, h); err != nil {
		return nil, err
	}
	v := newView(o, w, h)
	panel, err := v.hang(ctx, o)
	if err != nil {
		return nil, fmt.Errorf("panel in the %s: %w", o.Kind, err)
	}
	p := picture{left: v.left, top: v.top, mm: v.mm}
	p.layers = append(p.layers, v.room()...)
	p.layers = append(p.layers, panel.shadows()...)
	p.layers = append(p.layers, panel.edges(v.mm)...)
	p.layers = append(p.layers, panel.front(p))
	return p.draw(ctx, w, h, v.inner())
}

// view is a room as it is shown: the wall's place at the upper left corner, the
// size of a pixel, where the panel hangs and where the furniture stands.
type view struct {
	kind      Kind
	wall      colour.Linear
	w, h      int
	left, top float64
	mm        float64
	panel     box
	x         float64 // the middle of the furniture
	lit       light
}

// stand is what a room asks of its view, in mm.
type stand struct {
	half     float64 // half the furniture's width
	height   float64 // of the furniture under the panel
	highest  float64 // of anything in the room
	wide     float64 // how much of the wall is shown at least
	centre   float64 // the height that pictures hang at where nothing stands below
	tallest  float64 // the tallest panel that hangs over the furniture
	asideFar float64 // from the panel to the furniture beside it
}

// Pictures hang with their middle a little below the eye. Common practice, no
// source.
var stands = map[Kind]stand{
	Living:  {half: 450, height: 780, highest: 1800, wide: 2700, centre: 1350, tallest: 1250, asideFar: 420},
	Hallway: {half: 500, height: 2090, highest: 2270, wide: 3000, centre: 1450, tallest: 0, asideFar: 400},
	Studio:  {half: 750, height: 900, highest: 1900, wide: 2900, centre: 1450, tallest: 1250, asideFar: 420},
}

func newView(o Options, w, h int) view {
	s := stands[o.Kind]
	v := view{kind: o.Kind, wall: o.Wall.Linear(), w: w, h: h}
	pw, ph := float64(o.PanelMM.W), float64(o.PanelMM.H)
	cy := math.Max(s.centre, 200+ph/2)
	if over := ph <= s.tallest; over {
		cy = math.Max(s.centre, s.height+230+ph/2)
	} else {
		v.x = -(pw/2 + s.asideFar + s.half)
	}
	v.panel = centred(0, cy, pw, ph)
	things := v.panel.join(box{v.x - s.half, 0, v.x + s.half, s.height})
	if v.kind == Hallway {
		bench := v.benchMiddle()
		things = things.join(box{bench - benchWide/2, 0, bench + benchWide/2 + 360, benchHigh})
	}
	top := math.Max(s.highest, v.panel.y1+math.Max(220, 0.2*ph))
	bottom := -0.175 * top
	wide := math.Max(s.wide, 1.3*things.w())
	v.mm = math.Max((top-bottom)/float64(h), wide/float64(w))
	spare := float64(h)*v.mm - (top - bottom)
	v.top = top + 0.72*spare
	v.left = things.cx() - float64(w)*v.mm/2
	v.lit = newLight(v)
	return v
}

func (v view) width() float64  { return float64(v.w) * v.mm }
func (v view) height() float64 { return float64(v.h) * v.mm }

// topFace is the upper face of something, between its front edge and its back one,
// which is drawn shorter by what deep takes from it.
func topFace(x0, x1, front, back, deep float64) shape {
	shorter := (x1 - x0) / 2 * deep / eyeDistance
	return polygon(
		[2]float64{x0 + shorter, back}, [2]float64{x1 - shorter, back},
		[2]float64{x1, front}, [2]float64{x0, front})
}

// all is the whole view, with a little beyond.
func (v view) all() box {
	return box{v.left, v.top - v.height(), v.left + v.width(), v.top}.grown(2 * v.mm)
}

// corner is a place on the wall in pixels of the view.
func (v view) corner(x, y float64) layout.PicturePoint {
	return layout.PicturePoint{X: (x - v.left) / v.mm, Y: (v.top - y) / v.mm}
}

// quad is where the panel's corners lie in the view.
func (v view) quad() [4]layout.PicturePoint {
	b := v.panel
	return [4]layout.PicturePoint{v.corner(b.x0, b.y1), v.corner(b.x1, b.y1), v.corner(b.x1, b.y0), v.corner(b.x0, b.y0)}
}

// inner are the pixels that show nothing but the panel.
func (v view) inner() image.Rectangle {
	q := v.quad()
	return image.Rect(
		int(math.Ceil(q[0].X)), int(math.Ceil(q[0].Y)),
		int(math.Floor(q[2].X)), int(math.Floor(q[2].Y)))
}

// outer are the pixels that show any of it.
func outer(quad [4]layout.PicturePoint) image.Rectangle {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, p := range quad {
		x0, y0 = math.Min(x0, p.X), math.Min(y0, p.Y)
		x1, y1 = math.Max(x1, p.X), math.Max(y1, p.Y)
	}
	return image.Rect(int(math.Floor(x0)), int(math.Floor(y0)), int(math.Ceil(x1)), int(math.Ceil(y1)))
}

func (v view) hang(ctx context.Context, o Options) (hung, error) {
	r := outer(v.quad())
	pixels, err := seen(ctx, o.Panel, v.quad(), r)
	if err != nil {
		return hung{}, err
	}
	gleam, err := sheen(o.Finish)
	return hung{
		face: v.panel, edge: float64(o.EdgeMM), rim: o.EdgeColour.Linear(),
		gleam: gleam, pixels: pixels, at: r.Min,
	}, err
}

// room is the empty wall and floor and what stands there.
func (v view) room() []layer {
	layers := []layer{v.wallPaint(), v.window(0.10)}
	switch v.kind {
	case Hallway:
		layers = append(layers, v.skirting(-1), v.stoneFloor())
		return append(layers, v.hallway()...)
	case Studio:
		layers = append(layers, v.concreteFloor())
		return append(layers, v.studio()...)
	default:
		layers = append(layers, v.skirting(0), v.plankFloor(), v.rug())
		return append(layers, v.living()...)
	}
}
