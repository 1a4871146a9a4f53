package main

import (
	"context"
	"image"
	"image/color"
	"math"

	"golang.org/x/image/vector"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// canvas is a picture in linear light with coverage, red, green, blue and
// coverage a pixel, the colours already times the coverage. It is drawn on in the
// units of the full-size picture, whatever its own size.
type canvas struct {
	w, h  int
	scale float64 // pixels a unit
	left  float64 // of its upper left corner, in units
	top   float64
	pix   []float32
}

// newCanvas covers w x h units from (left, top).
func newCanvas(left, top, w, h, scale float64) *canvas {
	c := &canvas{w: int(math.Round(w * scale)), h: int(math.Round(h * scale)), scale: scale, left: left, top: top}
	c.pix = make([]float32, 4*c.w*c.h)
	return c
}

// paint gives the colour and the coverage 0..1 at a place in units.
type paint func(x, y float64) (colour.Linear, float64)

// flat is one colour all over.
func flat(c colour.Linear) paint {
	return func(float64, float64) (colour.Linear, float64) { return c, 1 }
}

// hex is a colour in linear light from its stored value, for constants.
func hex(text string) colour.Linear {
	s, err := colour.ParseHex(text)
	if err != nil {
		panic(err)
	}
	return s.Linear()
}

// at gives a place's units for a pixel's centre.
func (c *canvas) at(px, py int) (x, y float64) {
	return c.left + (float64(px)+0.5)/c.scale, c.top + (float64(py)+0.5)/c.scale
}

// over lays a colour over a pixel.
func (c *canvas) over(px, py int, col colour.Linear, cover float64) {
	if cover <= 0 {
		return
	}
	i := 4 * (py*c.w + px)
	k := float32(1 - cover)
	c.pix[i] = c.pix[i]*k + float32(col.R*cover)
	c.pix[i+1] = c.pix[i+1]*k + float32(col.G*cover)
	c.pix[i+2] = c.pix[i+2]*k + float32(col.B*cover)
	c.pix[i+3] = c.pix[i+3]*k + float32(cover)
}

// each paints every pixel from y0 to y1 in units, on all cores.
func (c *canvas) each(y0, y1 float64, p paint) {
	first := max(0, int(math.Floor((y0-c.top)*c.scale)))
	last := min(c.h, int(math.Ceil((y1-c.top)*c.scale)))
	rows(last-first, func(i int) {
		for px := range c.w {
			col, cover := p(c.at(px, first+i))
			c.over(px, first+i, col, cover)
		}
	})
}

// glow adds light to every pixel; it covers nothing.
func (c *canvas) glow(y0, y1 float64, light func(x, y float64) colour.Linear) {
	first := max(0, int(math.Floor((y0-c.top)*c.scale)))
	last := min(c.h, int(math.Ceil((y1-c.top)*c.scale)))
	rows(last-first, func(i int) {
		for px := range c.w {
			l := light(c.at(px, first+i))
			at := 4 * ((first+i)*c.w + px)
			c.pix[at] += float32(l.R)
			c.pix[at+1] += float32(l.G)
			c.pix[at+2] += float32(l.B)
		}
	})
}

// rows does work for 0..n-1, shared out to the cores; it cannot fail.
func rows(n int, work func(i int)) {
	_ = plane.SplitRows(context.Background(), n, func(_ context.Context, i0, i1 int) error {
		for i := i0; i < i1; i++ {
			work(i)
		}
		return nil
	})
}

// fill paints the inside of closed outlines, edges smoothed by coverage.
func (c *canvas) fill(p paint, outlines ...[]point) {
	box := bounds(outlines)
	x0 := max(0, int(math.Floor((box.x0-c.left)*c.scale)))
	y0 := max(0, int(math.Floor((box.y0-c.top)*c.scale)))
	x1 := min(c.w, int(math.Ceil((box.x1-c.left)*c.scale))+1)
	y1 := min(c.h, int(math.Ceil((box.y1-c.top)*c.scale))+1)
	if x1 <= x0 || y1 <= y0 {
		return
	}
	raster := vector.NewRasterizer(x1-x0, y1-y0)
	for _, outline := range outlines {
		for i, q := range outline {
			x, y := float32((q.x-c.left)*c.scale-float64(x0)), float32((q.y-c.top)*c.scale-float64(y0))
			if i == 0 {
				raster.MoveTo(x, y)
			} else {
				raster.LineTo(x, y)
			}
		}
		raster.ClosePath()
	}
	mask := image.NewAlpha(image.Rect(0, 0, x1-x0, y1-y0))
	raster.Draw(mask, mask.Rect, image.NewUniform(color.Opaque), image.Point{})
	for py := y0; py < y1; py++ {
		for px := x0; px < x1; px++ {
			if a := mask.Pix[(py-y0)*mask.Stride+px-x0]; a > 0 {
				col, cover := p(c.at(px, py))
				c.over(px, py, col, cover*float64(a)/255)
			}
		}
	}
}

// lay lays another canvas over this one; transform changes the place that is
// looked up, and keep scales colour and coverage.
func (c *canvas) lay(top *canvas, y0, y1 float64, lookup func(x, y float64) (lx, ly, keep float64)) {
	c.each(y0, y1, func(x, y float64) (colour.Linear, float64) {
		lx, ly, keep := lookup(x, y)
		if keep <= 0 {
			return colour.Linear{}, 0
		}
		col, cover := top.sample(lx, ly)
		return col, cover * keep
	})
}

// sample is the colour (no longer times coverage) and coverage between pixels;
// nothing outside.
func (c *canvas) sample(x, y float64) (colour.Linear, float64) {
	fx, fy := (x-c.left)*c.scale-0.5, (y-c.top)*c.scale-0.5
	bx, by := math.Floor(fx), math.Floor(fy)
	px, py := int(bx), int(by)
	if px < -1 || py < -1 || px >= c.w || py >= c.h {
		return colour.Linear{}, 0
	}
	var sum [4]float64
	for dy := range 2 {
		for dx := range 2 {
			weight := math.Abs(1-float64(dx)-(fx-bx)) * math.Abs(1-float64(dy)-(fy-by))
			qx, qy := px+dx, py+dy
			if weight == 0 || qx < 0 || qy < 0 || qx >= c.w || qy >= c.h {
				continue
			}
			for k := range sum {
				sum[k] += weight * float64(c.pix[4*(qy*c.w+qx)+k])
			}
		}
	}
	if sum[3] <= 0 {
		return colour.Linear{}, 0
	}
	return colour.Linear{R: sum[0], G: sum[1], B: sum[2]}.Scale(1 / sum[3]), sum[3]
}

// exposure sets the scene's light to what a picture shows.
const exposure = 1.3

// image gives the picture in stored values, opaque, with highlights rolled off
// softly in place of being cut.
func (c *canvas) image() *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, c.w, c.h))
	rows(c.h, func(y int) {
		for x := range c.w {
			i := 4 * (y*c.w + x)
			for k := range 3 {
				img.Pix[i+k] = uint8(math.Round(255 * colour.Encode(shoulder(exposure*float64(c.pix[i+k])))))
			}
			img.Pix[i+3] = 255
		}
	})
	return img
}

// shoulder keeps light up to 0.6 as it is and bends what is above towards 1.
func shoulder(l float64) float64 {
	const knee = 0.6
	if l <= knee {
		return math.Max(0, l)
	}
	return 1 - (1-knee)*math.Exp(-(l-knee)/(1-knee))
}
