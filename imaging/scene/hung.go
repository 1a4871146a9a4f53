package scene

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// sheen is how much light a finish throws to the eye where its panel shines most,
// in linear light. A plain choice: enough to tell gloss from matt.
func sheen(f coat.Finish) (float64, error) {
	switch f {
	case coat.Bare, coat.Matt:
		return 0, nil
	case coat.Satin:
		return 0.015, nil
	case coat.Gloss:
		return 0.04, nil
	}
	return 0, fmt.Errorf("finish %q is not known: choose matt, satin or gloss, or none", string(f))
}

// shine is the place of the sheen: a wide soft band across the upper left of a
// panel, u and v running over it from 0 to 1.
func shine(u, v float64) float64 {
	d := (u + 0.8*v - 0.45) / 0.28
	return math.Exp(-d * d)
}

// hung is a panel where it hangs in a view, its pixels ready.
type hung struct {
	face   box
	edge   float64
	rim    colour.Linear
	gleam  float64
	pixels *plane.RGB16
	at     image.Point // of pixels' upper left one in the view
}

// shadows fall from a panel onto the wall: a wide one of the whole room's light, one to
// the lower right of the window's, and a narrow dark one where the panel is near
// the wall.
func (h hung) shadows() []layer {
	e := math.Max(h.edge, 3)
	b := h.face
	return []layer{
		softShadow(b.moved(0.25*e, -0.55*e), 14+1.5*e, 0.16),
		softShadow(b.moved(2+0.45*e, -3-0.6*e), 4+0.42*e, 0.40),
		softShadow(b.moved(0.14*e, -0.2*e), 1.5+0.09*e, 0.38),
	}
}

// rimShown is how much of a wrapped edge shows, as a share of its depth, as if the eye stood
// a little to the right of the panel and below its middle.
const rimShown = 0.15

// edges are the two sides of the wrapped edge that show, both in shade. They reach
// under the face by a pixel's side px and a half, or the wall would shine through
// between.
func (h hung) edges(px float64) []layer {
	d, b := rimShown*h.edge, h.face
	if d == 0 {
		return nil
	}
	under := min(1.5*px, b.w()/2, b.h()/2)
	side := func(shade float64, corners ...[2]float64) layer {
		return solid(polygon(corners...), func(spot) colour.Linear { return h.rim.Scale(shade) })
	}
	return []layer{
		side(0.42, [2]float64{b.x0, b.y0 + under}, [2]float64{b.x1, b.y0 + under}, [2]float64{b.x1 + d, b.y0 - d}, [2]float64{b.x0 + d, b.y0 - d}),
		side(0.62, [2]float64{b.x1 - under, b.y1}, [2]float64{b.x1 + d, b.y1 - d}, [2]float64{b.x1 + d, b.y0 - d}, [2]float64{b.x1 - under, b.y0}),
	}
}

// front is the panel's face.
func (h hung) front(p picture) layer {
	return solid(rectangle(h.face), func(s spot) colour.Linear {
		return h.shown(s, int(math.Round((s.x-p.left)/p.mm-0.5)), int(math.Round((p.top-s.y)/p.mm-0.5)))
	})
}

// shown is the panel's face at the pixel x,y of the view, which shows the spot s.
func (h hung) shown(s spot, x, y int) colour.Linear {
	c := h.pixel(x, y)
	if h.gleam == 0 {
		return c
	}
	u, v := (s.x-h.face.x0)/h.face.w(), (h.face.y1-s.y)/h.face.h()
	g := h.gleam * shine(u, v)
	return c.Add(colour.Linear{R: g, G: g, B: g})
}

// reach is how far the panel's shadows go from it.
func (h hung) reach() float64 {
	e := math.Max(h.edge, 3)
	return 3.5*(14+1.5*e) + e
}

func (h hung) pixel(x, y int) colour.Linear {
	x = max(0, min(h.pixels.W-1, x-h.at.X))
	y = max(0, min(h.pixels.H-1, y-h.at.Y))
	p := h.pixels.Pix[3*(y*h.pixels.W+x):][:3]
	return colour.Linear{R: float64(p[0]) / 65535, G: float64(p[1]) / 65535, B: float64(p[2]) / 65535}
}

// seen is the proof as a view shows it inside r, its corners at quad: upper left,
// upper right, lower right, lower left, in pixels of the view.
func seen(ctx context.Context, proof *image.RGBA, quad [4]layout.PicturePoint, r image.Rectangle) (*plane.RGB16, error) {
	src, err := linear(ctx, proof)
	if err != nil {
		return nil, err
	}
	if src, err = nearSize(ctx, src, quad); err != nil {
		return nil, err
	}
	for i := range quad {
		quad[i].X -= float64(r.Min.X)
		quad[i].Y -= float64(r.Min.Y)
	}
	w, h := float64(src.W), float64(src.H)
	back, err := layout.FourPoints(quad, [4]layout.PicturePoint{{X: 0, Y: 0}, {X: w, Y: 0}, {X: w, Y: h}, {X: 0, Y: h}})
	if err != nil {
		return nil, err
	}
	return resample.WarpRGB(ctx, src, back, r.Dx(), r.Dy())
}

// nearSize averages a proof that is far larger than what is shown of it down to
// about twice that.
func nearSize(ctx context.Context, src *plane.RGB16, quad [4]layout.PicturePoint) (*plane.RGB16, error) {
	side := func(i, j int) float64 { return math.Hypot(quad[j].X-quad[i].X, quad[j].Y-quad[i].Y) }
	w := int(2*math.Max(side(0, 1), side(3, 2))) + 2
	h := int(2*math.Max(side(1, 2), side(0, 3))) + 2
	if 3*w > 2*src.W || 3*h > 2*src.H {
		return src, nil
	}
	return resample.View(ctx, src, layout.Crop{W: float64(src.W), H: float64(src.H)}, w, h)
}

// linear is an image in linear light.
func linear(ctx context.Context, img *image.RGBA) (*plane.RGB16, error) {
	out := plane.NewRGB16(img.Rect.Dx(), img.Rect.Dy())
	err := plane.SplitRows(ctx, out.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row, from := out.Row(y), img.Pix[y*img.Stride:]
			for x := range out.W {
				for c := range 3 {
					row[3*x+c] = colour.DecodeByte16(from[4*x+c])
				}
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}
