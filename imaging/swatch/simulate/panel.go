package simulate

import (
	"context"
	"image"
	"math"
	"math/rand/v2"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// perMM is how finely the panel is drawn.
const perMM = 20

// panel is the burned scrap seen from above, in linear light.
type panel struct {
	w, h int
	pix  []float32
}

func (p *panel) set(x, y int, c colour.Linear) {
	at := p.pix[3*(y*p.w+x):]
	at[0], at[1], at[2] = float32(c.R), float32(c.G), float32(c.B)
}

// at is the colour at a place in mm from the panel's centre, y up; false outside.
func (p *panel) at(x, y float64) (c [3]float32, ok bool) {
	px, py := x*perMM+float64(p.w)/2-0.5, -y*perMM+float64(p.h)/2-0.5
	x0, y0 := int(math.Floor(px)), int(math.Floor(py))
	if x0 < 0 || y0 < 0 || x0+1 >= p.w || y0+1 >= p.h {
		return c, false
	}
	fx, fy := float32(px-float64(x0)), float32(py-float64(y0))
	i := 3 * (y0*p.w + x0)
	for k := range 3 {
		upper := p.pix[i+k]*(1-fx) + p.pix[i+3+k]*fx
		lower := p.pix[i+3*p.w+k]*(1-fx) + p.pix[i+3*p.w+3+k]*fx
		c[k] = upper*(1-fy) + lower*fy
	}
	return c, true
}

// burned draws the panel with its marks, labels and swatches.
func (s Scene) burned(ctx context.Context) (*panel, error) {
	model, err := s.Stack.Compile(s.Options)
	if err != nil {
		return nil, err
	}
	border := orDefault(s.Border, 8)
	p := &panel{
		w: int(perMM * (float64(s.Chart.Size.W) + 2*border)),
		h: int(perMM * (float64(s.Chart.Size.H) + 2*border)),
	}
	p.pix = make([]float32, 3*p.w*p.h)
	top, table := model.PureLook(0), model.Table()
	for y := range p.h {
		for x := range p.w {
			p.set(x, y, top)
		}
	}
	if err := s.drawMarks(ctx, p, table); err != nil {
		return nil, err
	}
	rng, patches := rand.New(rand.NewPCG(s.Seed, 1)), rand.New(rand.NewPCG(s.Seed, 0))
	fields := map[string][]float32{}
	for _, sw := range s.Chart.Swatches {
		field, err := s.field(ctx, fields, sw)
		if err != nil {
			return nil, err
		}
		s.drawSwatch(p, sw, table, field, math.Exp(s.Patchy*patches.NormFloat64()), rng)
	}
	return p, nil
}

// drawMarks draws marks and labels as a chart of nothing else would burn them.
func (s Scene) drawMarks(ctx context.Context, p *panel, table *coat.LookTable) error {
	if s.Chart.MarkSetting == nil {
		return nil
	}
	bare := s.Chart
	bare.Swatches = append([]swatch.Swatch(nil), bare.Swatches...)
	for i := range bare.Swatches {
		bare.Swatches[i].Setting.Passes = 0 // of no raster
	}
	bare.Rasters = []swatch.RasterFile{{Setting: *s.Chart.MarkSetting}}
	raster, err := bare.Raster(ctx, 0, nil)
	if err != nil {
		return err
	}
	field, err := s.field(ctx, map[string][]float32{}, swatch.Swatch{Setting: *s.Chart.MarkSetting})
	if err != nil {
		return err
	}
	pitch := float64(s.Chart.MarkSetting.Pitch)
	s.paintDots(p, raster.Dots, pitch, meanLook(table, field, s.dose(*s.Chart.MarkSetting)))
	return nil
}

func (s Scene) paintDots(p *panel, dots *plane.Bits, pitch float64, look colour.Linear) {
	for y := range p.h {
		row := int(math.Floor((float64(y)+0.5-float64(p.h)/2)/perMM/pitch + float64(dots.H)/2))
		for x := range p.w {
			col := int(math.Floor((float64(x)+0.5-float64(p.w)/2)/perMM/pitch + float64(dots.W)/2))
			if image.Pt(col, row).In(image.Rect(0, 0, dots.W, dots.H)) && dots.At(col, row) {
				p.set(x, y, look)
			}
		}
	}
}

// drawSwatch draws the look of each place under the dose its paint's thickness
// leaves it, relative to the mean; paint thinner by a factor is as much more dose.
func (s Scene) drawSwatch(p *panel, sw swatch.Swatch, table *coat.LookTable, field []float32, thinner float64, rng *rand.Rand) {
	const steps, reach = 33, 3.0 // looks from -3 to 3 standard deviations
	var looks [steps]colour.Linear
	for i := range looks {
		off := s.Uneven * reach * (2*float64(i)/(steps-1) - 1)
		looks[i] = meanLook(table, field, thinner*s.dose(sw.Setting)*math.Exp(off))
	}
	patch := newCloud(rng, sw.Size)
	if s.Missing[sw.ID] {
		return
	}
	r := p.rect(sw.Area())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			z := patch.at(float64(x-r.Min.X)/perMM, float64(y-r.Min.Y)/perMM)
			at := min(max((z/reach+1)/2, 0), 1) * (steps - 1)
			i := min(int(at), steps-2)
			p.set(x, y, colour.Mix(looks[i], looks[i+1], at-float64(i)))
			if s.Spoilt[sw.ID] && x < (r.Min.X+r.Max.X)/2 {
				p.set(x, y, colour.Linear{R: 0.8, G: 0.8, B: 0.8})
			}
		}
	}
	if s.Blurred[sw.ID] {
		p.blur(r, r.Dx()/5)
	}
}

func (p *panel) rect(a layout.Area) image.Rectangle {
	at := func(v layout.MM, n int) int { return int(math.Round(float64(v)*perMM)) + n/2 }
	c := a.Corners()
	return image.Rect(at(c[0].X, p.w), at(-c[0].Y, p.h), at(c[2].X, p.w), at(-c[2].Y, p.h))
}

// blur takes the mean over a square around each pixel in and about a rectangle.
func (p *panel) blur(r image.Rectangle, reach int) {
	was := append([]float32(nil), p.pix...)
	area := r.Inset(-reach).Intersect(image.Rect(0, 0, p.w, p.h))
	for y := area.Min.Y; y < area.Max.Y; y++ {
		for x := area.Min.X; x < area.Max.X; x++ {
			var sum [3]float32
			n := float32(0)
			for dy := -reach; dy <= reach; dy += 4 {
				for dx := -reach; dx <= reach; dx += 4 {
					if xx, yy := x+dx, y+dy; image.Pt(xx, yy).In(image.Rect(0, 0, p.w, p.h)) {
						for k := range sum {
							sum[k] += was[3*(yy*p.w+xx)+k]
						}
						n++
					}
				}
			}
			for k := range sum {
				p.pix[3*(y*p.w+x)+k] = sum[k] / n
			}
		}
	}
}

// cloud is smooth noise of standard deviation near 1, wandering over some 1.5 mm.
type cloud struct {
	cols   int
	values []float64
}

const cloudMM = 1.5

func newCloud(rng *rand.Rand, size layout.Size) cloud {
	cols, rows := int(size.W/cloudMM)+3, int(size.H/cloudMM)+3
	c := cloud{cols, make([]float64, cols*rows)}
	for i := range c.values {
		c.values[i] = rng.NormFloat64()
	}
	return c
}

func (c cloud) at(x, y float64) float64 {
	x, y = x/cloudMM, y/cloudMM
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	i := y0*c.cols + x0
	return (c.values[i]*(1-fx)+c.values[i+1]*fx)*(1-fy) + (c.values[i+c.cols]*(1-fx)+c.values[i+c.cols+1]*fx)*fy
}
