package scene

import (
	"context"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// layer is one thing in a room. It changes the light of the pixels inside its
// box; layers are laid one over another.
type layer struct {
	in    box
	paint func(s spot, under colour.Linear) colour.Linear
}

// solid fills a shape with a colour that may differ from place to place.
func solid(sh shape, shade func(s spot) colour.Linear) layer {
	return layer{sh.in, func(s spot, under colour.Linear) colour.Linear {
		cover := sh.cover(s)
		if cover == 0 {
			return under
		}
		return colour.Mix(under, shade(s), cover)
	}}
}

// dims darkens what lies beneath by the share that a function gives, a little
// less in the blue: what a shadow still gets is the light of the sky.
func dims(in box, share func(s spot) float64) layer {
	return layer{in, func(s spot, under colour.Linear) colour.Linear {
		d := share(s)
		return colour.Linear{R: under.R * (1 - d), G: under.G * (1 - 0.98*d), B: under.B * (1 - 0.94*d)}
	}}
}

// softShadow is the shadow of an upright box under a wide light: the box blurred
// by a Gaussian, which has a closed form.
func softShadow(b box, sigma, strength float64) layer {
	return dims(b.grown(3.5*sigma), func(s spot) float64 { return strength * blurred(b, sigma, s.x, s.y) })
}

// picture is a w x h view of the layers: mm is a pixel's side, and left and top
// are the wall's place at the upper left corner.
type picture struct {
	layers    []layer
	left, top float64
	mm        float64
}

// draw renders the layers, pixel by pixel. Values are rounded with a grain of
// half a code, so that soft light does not fall into bands; inside keep, in
// pixels, they are rounded plainly.
func (p picture) draw(ctx context.Context, w, h int, keep image.Rectangle) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	err := plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		row := make([]colour.Linear, w)
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			clear(row)
			p.row(y, row)
			out := img.Pix[y*img.Stride:]
			for x, light := range row {
				chance := 0.5
				if !(image.Point{X: x, Y: y}).In(keep) {
					chance = grit(x, y)
				}
				store(out[4*x:4*x+4], light, chance)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return img, nil
}

func (p picture) row(y int, row []colour.Linear) {
	at := spot{y: p.top - (float64(y)+0.5)*p.mm, px: p.mm}
	for _, l := range p.layers {
		if at.y < l.in.y0-p.mm || at.y > l.in.y1+p.mm {
			continue
		}
		from := max(0, column((l.in.x0-p.left)/p.mm-1, len(row)))
		to := min(len(row), column((l.in.x1-p.left)/p.mm+2, len(row)))
		for x := from; x < to; x++ {
			at.x = p.left + (float64(x)+0.5)*p.mm
			row[x] = l.paint(at, row[x])
		}
	}
}

// column keeps endless boxes within whole numbers.
func column(v float64, w int) int { return int(math.Max(-1, math.Min(float64(w)+1, v))) }

// codes are the stored values, 0..255, of light in 1/65535.
var codes = func() (table [65536]float32) {
	for i := range table {
		table[i] = float32(255 * colour.Encode(float64(i)/65535))
	}
	return table
}()

// store rounds light to stored values: up with a chance of what is past the whole
// code below.
func store(pixel []uint8, l colour.Linear, chance float64) {
	for i, v := range [3]float64{l.R, l.G, l.B} {
		code := codes[uint16(65535*clamp01(v)+0.5)]
		pixel[i] = uint8(math.Min(255, float64(code)+chance))
	}
	pixel[3] = 255
}
