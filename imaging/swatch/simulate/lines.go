package simulate

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// LineScene is a burned line chart before a camera. Each line is burned by the
// closed form of a Gaussian beam that runs along it: its dose across the line, in
// J/cm2, is Axis exp(-2 y^2/w^2), w half of the machine's BeamAcross.
type LineScene struct {
	Scene
	Soft float64 // standard deviation in pixels of the lens's blur
}

// Axis is the dose in the middle of a line of a setting.
func (s LineScene) Axis(sw swatch.Swatch) float64 {
	sigma := float64(s.Machine.BeamAcross) / 4
	return s.dose(sw.Setting) * float64(sw.Setting.Pitch) / (math.Sqrt(2*math.Pi) * sigma)
}

// Width is how wide the part of a line is whose dose is above a threshold in
// J/cm2, after Liu 1982; 0 where none is.
func (s LineScene) Width(sw swatch.Swatch, threshold float64) layout.MM {
	ratio := s.Axis(sw) / threshold
	if !(ratio > 1) {
		return 0
	}
	return s.Machine.BeamAcross / 2 * layout.MM(math.Sqrt(2*math.Log(ratio)))
}

// ThresholdPower is the power in percent at which the dose in the middle of a line
// is the threshold.
func (s LineScene) ThresholdPower(sw swatch.Swatch, threshold float64) float64 {
	offset := s.Machine.PowerOffsetPercent
	return offset + (sw.Setting.PowerPercent-offset)*threshold/s.Axis(sw)
}

// Photo photographs the burned line chart.
func (s LineScene) Photo(ctx context.Context) (Shot, error) {
	if s.Chart.Kind != swatch.Lines {
		return Shot{}, errors.New("the scene's chart is no line chart")
	}
	drawn, err := s.drawn(ctx)
	if err != nil {
		return Shot{}, err
	}
	cam := s.camera()
	light, err := s.exposed(ctx, drawn, cam)
	if err != nil {
		return Shot{}, err
	}
	light = softened(light, cam.w, cam.h, s.Soft)
	img := image.NewRGBA(image.Rect(0, 0, cam.w, cam.h))
	for y := range cam.h {
		s.develop(img, y, light[3*y*cam.w:], cam)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: orDefault(s.Quality, 85)}); err != nil {
		return Shot{}, err
	}
	shot := Shot{JPEG: b.Bytes(), Image: img, ToPixel: cam.pixel}
	for i, p := range s.Chart.Marks {
		shot.Corners[i] = cam.pixel(p)
	}
	return shot, nil
}

// lineDrawing knows the colour of every place of the burned panel.
type lineDrawing struct {
	w, h  float64 // of the panel
	top   [3]float32
	mark  [3]float32
	dots  *plane.Bits // of the marks
	pitch float64
	lines map[int][]drawnLine // by the whole mm up at which they may be met
	table *coat.LookTable
	beam  float64 // 1/e2 radius across the lines
	rise  float64 // standard deviation along them
	off   float64 // log-normal scatter of the paint
}

// drawnLine is one line of three of a swatch, and how its paint varies along it.
type drawnLine struct {
	layout.Area
	axis  float64
	paint cloud
}

func (s LineScene) drawn(ctx context.Context) (*lineDrawing, error) {
	model, err := s.Stack.Compile(s.Options)
	if err != nil {
		return nil, err
	}
	border := orDefault(s.Border, 8)
	d := &lineDrawing{
		w: float64(s.Chart.Size.W) + 2*border, h: float64(s.Chart.Size.H) + 2*border,
		top: float32s(model.PureLook(0)), table: model.Table(),
		lines: map[int][]drawnLine{}, beam: float64(s.Machine.BeamAcross) / 2, rise: float64(s.Machine.BeamAlong) / 4, off: s.Uneven,
	}
	if err := s.drawMarkDots(ctx, d); err != nil {
		return nil, err
	}
	rng := rand.New(rand.NewPCG(s.Seed, 1))
	for _, sw := range s.Chart.Swatches {
		areas, err := s.Chart.LineAreas(sw)
		if err != nil {
			return nil, err
		}
		for _, a := range areas {
			line := drawnLine{Area: a, axis: s.Axis(sw), paint: newCloud(rng, layout.Size{W: a.Size.W + 2, H: 2})}
			if !s.Missing[sw.ID] {
				d.add(line)
			}
		}
	}
	return d, nil
}

// reach is how many beam radii from its middle a line is looked for.
const reach = 3

func (d *lineDrawing) add(l drawnLine) {
	y := float64(l.Centre.Y)
	for at := math.Floor(y - reach*d.beam); at <= y+reach*d.beam; at++ {
		d.lines[int(at)] = append(d.lines[int(at)], l)
	}
}

// drawMarkDots takes the marks and labels from the raster of a chart that burns
// nothing else.
func (s LineScene) drawMarkDots(ctx context.Context, d *lineDrawing) error {
	setting := s.Chart.MarkSetting
	if setting == nil {
		return nil
	}
	bare := s.Chart
	bare.Swatches = append([]swatch.Swatch(nil), bare.Swatches...)
	for i := range bare.Swatches {
		bare.Swatches[i].Setting.Passes = 0 // of no raster
	}
	bare.Rasters = []swatch.RasterFile{{Setting: *setting}}
	raster, err := bare.Raster(ctx, 0, nil)
	if err != nil {
		return err
	}
	field, err := s.field(ctx, map[string][]float32{}, swatch.Swatch{Setting: *setting})
	if err != nil {
		return err
	}
	d.dots, d.pitch = raster.Dots, float64(setting.Pitch)
	d.mark = float32s(meanLook(d.table, field, s.dose(*setting)))
	return nil
}

func float32s(c colour.Linear) [3]float32 {
	return [3]float32{float32(c.R), float32(c.G), float32(c.B)}
}

// at is the colour at a place in mm from the panel's centre, y up; false outside.
func (d *lineDrawing) at(x, y float64) ([3]float32, bool) {
	if math.Abs(x) > d.w/2 || math.Abs(y) > d.h/2 {
		return [3]float32{}, false
	}
	if d.dots != nil {
		col, row := int(math.Floor(x/d.pitch+float64(d.dots.W)/2)), int(math.Floor(-y/d.pitch+float64(d.dots.H)/2))
		if image.Pt(col, row).In(image.Rect(0, 0, d.dots.W, d.dots.H)) && d.dots.At(col, row) {
			return d.mark, true
		}
	}
	near := d.lines[int(math.Floor(y))]
	for i := range near {
		l := &near[i]
		dx, dy := x-float64(l.Centre.X), y-float64(l.Centre.Y)
		half := float64(l.Size.W) / 2
		if math.Abs(dy) > reach*d.beam || math.Abs(dx) > half+0.5 {
			continue
		}
		dose := l.axis * math.Exp(-2*dy*dy/(d.beam*d.beam)+d.off*l.paint.at(dx+half+0.5, 0.5))
		ends := math.Erf((half-dx)/(math.Sqrt2*d.rise)) + math.Erf((half+dx)/(math.Sqrt2*d.rise))
		r, g, b := d.table.At(float32(dose * ends / 2))
		return [3]float32{r, g, b}, true
	}
	return d.top, true
}

// exposed is the light of every pixel. One whose corners differ is the mean over
// more places.
func (s LineScene) exposed(ctx context.Context, d *lineDrawing, cam camera) ([]float32, error) {
	light := make([]float32, 3*cam.w*cam.h)
	look := func(x, y float64) [3]float32 {
		c, ok := d.at(cam.place(x, y))
		if !ok {
			return float32s(s.Desk)
		}
		return c
	}
	err := plane.SplitRows(ctx, cam.h, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			for x := range cam.w {
				c := pixelMean(float64(x), float64(y), look)
				copy(light[3*(y*cam.w+x):], c[:])
			}
		}
		return nil
	})
	return light, err
}

func pixelMean(x, y float64, look func(x, y float64) [3]float32) [3]float32 {
	first := look(x+0.1, y+0.1)
	if first == look(x+0.9, y+0.9) && first == look(x+0.1, y+0.9) && first == look(x+0.5, y+0.4) {
		return first
	}
	const steps = 5
	var mean [3]float32
	for i := range steps {
		for j := range steps {
			c := look(x+(float64(i)+0.5)/steps, y+(float64(j)+0.5)/steps)
			for k := range mean {
				mean[k] += c[k] / (steps * steps)
			}
		}
	}
	return mean
}

// softened is light under a Gaussian blur of a standard deviation in pixels.
func softened(light []float32, w, h int, sd float64) []float32 {
	if sd <= 0 {
		return light
	}
	side := int(math.Ceil(4 * sd))
	kernel, sum := make([]float32, 2*side+1), 0.0
	for i := range kernel {
		sum += math.Exp(-math.Pow(float64(i-side)/sd, 2) / 2)
	}
	for i := range kernel {
		kernel[i] = float32(math.Exp(-math.Pow(float64(i-side)/sd, 2)/2) / sum)
	}
	pass := func(in []float32, stepX, stepY int) []float32 {
		out := make([]float32, len(in))
		for y := range h {
			for x := range w {
				at := 3 * (y*w + x)
				for i, k := range kernel {
					xx, yy := min(max(x+stepX*(i-side), 0), w-1), min(max(y+stepY*(i-side), 0), h-1)
					v := in[3*(yy*w+xx):]
					out[at], out[at+1], out[at+2] = out[at]+k*v[0], out[at+1]+k*v[1], out[at+2]+k*v[2]
				}
			}
		}
		return out
	}
	return pass(pass(light, 1, 0), 0, 1)
}

// develop adds to a row what lamp and sensor do.
func (s LineScene) develop(img *image.RGBA, y int, row []float32, cam camera) {
	rng := rand.New(rand.NewPCG(s.Seed, uint64(y)+2))
	cast := orDefault(s.Cast, [3]float64{1, 1, 1})
	for x := range cam.w {
		lamp := orDefault(s.Exposure, 0.9) * s.light(x, y, cam)
		for k := range 3 {
			v := float64(row[3*x+k]) * lamp * cast[k]
			v += s.Noise * math.Sqrt(0.1+0.9*max(0, v)) * rng.NormFloat64()
			img.Pix[img.PixOffset(x, y)+k] = encode(v)
		}
		img.Pix[img.PixOffset(x, y)+3] = 255
	}
}
