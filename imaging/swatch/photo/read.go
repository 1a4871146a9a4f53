package photo

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// Options are what a photograph does not tell by itself. The zero value lets marks
// be found and brings colours to the top coat's.
type Options struct {
	// Corners are the chart's marks_mm in the photograph: upper left, upper right,
	// lower right, lower left. nil: they are found.
	Corners *[4]layout.PicturePoint
	// White is a part of a white paper lying beside the chart, in pixels of the
	// upright photograph; nil: there is none.
	White *image.Rectangle
	// PaperReflectance is how much light the paper gives back, 0.5..1; 0 reads as 0.9.
	PaperReflectance float64
	// TopCoat is the top coat's colour for a chart without a stack.
	TopCoat *colour.Stored
	// Machine burned the chart, for a chart that does not say.
	Machine *burn.Machine
	// Facts about the photograph to keep with the readings.
	Facts *swatch.PhotoFacts
}

// Result is what a photograph tells.
type Result struct {
	Readings swatch.Readings
	Corners  [4]layout.PicturePoint // the chart's marks in the photograph, in the chart's order
	Found    bool                   // the corners were found, not given
	Mirrored bool
	Quarters int           // clockwise turns that would set the photograph upright, 0..3
	PerMM    float64       // pixels of the photograph to a millimetre, in the middle
	FallOff  float64       // share of light that the darkest unburned field lacks of the brightest's, as evened out
	TopCoat  colour.Linear // as read
	Cautions []string
}

const (
	leastPhoto  = 300  // pixels of its shorter side
	leastSwatch = 12.0 // pixels of a swatch's side
)

// Read reads every swatch of a chart from a photograph. A swatch that cannot be
// read stays in the readings with the reason; an error means that none can.
func Read(ctx context.Context, pic *picture.Picture, chart swatch.Chart, o Options) (Result, error) {
	if err := chart.Validate(); err != nil {
		return Result{}, fmt.Errorf("chart: %w", err)
	}
	if chart.Kind == swatch.Lines {
		return Result{}, errors.New("a line chart is measured, not looked at: write down the widths of its lines under a loupe, or let undercoat-cli read measure them in the photograph")
	}
	if err := o.validate(pic, chart); err != nil {
		return Result{}, err
	}
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{R: 255, G: 255, B: 255})
	if err != nil {
		return Result{}, err
	}
	view, err := locate(ctx, light, chart, o.Corners)
	if err != nil {
		return Result{}, err
	}
	r := reader{light: light, chart: chart, view: view, options: o}
	return r.read(ctx)
}

func (o Options) validate(pic *picture.Picture, chart swatch.Chart) error {
	w, h := pic.Size(picture.Turn{})
	if min(w, h) < leastPhoto {
		return fmt.Errorf("the photograph is %d x %d pixels, too small to read a chart from: take one of %d pixels or more on its shorter side", w, h, leastPhoto)
	}
	if o.PaperReflectance != 0 && !(o.PaperReflectance >= 0.5 && o.PaperReflectance <= 1) {
		return fmt.Errorf("paper reflectance %g is out of range: give 0.5 to 1", o.PaperReflectance)
	}
	if r := o.White; r != nil {
		if r.Dx() < 8 || r.Dy() < 8 || !r.In(image.Rect(0, 0, w, h)) {
			return fmt.Errorf("white patch %v does not lie in the photograph of %d x %d pixels: mark 8 x 8 pixels or more of the paper inside it", *r, w, h)
		}
	}
	if chart.Machine == nil && o.Machine == nil {
		return errors.New("the chart does not say which machine burned it: name the machine")
	}
	if o.Machine != nil {
		if err := o.Machine.Validate(); err != nil {
			return fmt.Errorf("machine: %w", err)
		}
	}
	return nil
}

// machine is the chart's own, or else the one that was named.
func (o Options) machine(chart swatch.Chart) burn.Machine {
	if chart.Machine != nil {
		return *chart.Machine
	}
	return *o.Machine
}

// topCoat is the known colour of the unburned fields.
func (o Options) topCoat(chart swatch.Chart) (colour.Linear, bool) {
	switch {
	case o.TopCoat != nil:
		return o.TopCoat.Linear(), true
	case chart.Stack != nil:
		return chart.Stack.Coats[0].Colour.Linear(), true
	}
	return colour.Linear{}, false
}

// reader is a photograph with its chart found.
type reader struct {
	light   *plane.RGB16
	chart   swatch.Chart
	view    view
	options Options
}

func (r reader) read(ctx context.Context) (Result, error) {
	if err := r.largeEnough(); err != nil {
		return Result{}, err
	}
	fields, err := r.sampleAll(ctx, referenceAreas(r.chart), 1, fieldBlocks)
	if err != nil {
		return Result{}, err
	}
	lamp := fitLamp(fields, r.chart.Size)
	gains, cautions, err := r.gains(lamp)
	if err != nil {
		return Result{}, err
	}
	inner := make([]layout.Area, len(r.chart.Swatches))
	for i, s := range r.chart.Swatches {
		inner[i] = layout.Area{Centre: s.Centre, Size: layout.Size{W: s.Size.W * innerShare, H: s.Size.H * innerShare}}
	}
	samples, err := r.sampleAll(ctx, inner, swatchBlocks, swatchBlocks)
	if err != nil {
		return Result{}, err
	}
	res := Result{
		Corners: r.view.corners, Found: r.view.found, Mirrored: r.view.mirrored, Quarters: r.view.quarters(),
		PerMM: r.view.perMM(layout.Point{}), FallOff: lamp.fallOff(), TopCoat: gains.of(lamp.reference()), Cautions: cautions,
	}
	res.Readings = swatch.Readings{Machine: r.chart.Machine, Photo: r.options.Facts}
	for i, s := range r.chart.Swatches {
		res.Readings.Swatches = append(res.Readings.Swatches, r.reading(s, samples[i], lamp, gains))
	}
	r.leaveOutMissing(res.Readings.Swatches, res.TopCoat)
	return r.judged(res)
}

func (r reader) largeEnough() error {
	least := math.Inf(1)
	for _, s := range r.chart.Swatches {
		least = min(least, r.view.perMM(s.Centre)*float64(min(s.Size.W, s.Size.H)))
	}
	if least < leastSwatch {
		return fmt.Errorf("a swatch is only %.0f pixels wide in the photograph: go nearer, or use one with more pixels, so that it has %.0f or more", least, leastSwatch)
	}
	return nil
}

// reading is one swatch's, evened out and white balanced.
func (r reader) reading(s swatch.Swatch, sample sample, l lamp, g gains) swatch.Reading {
	reading := swatch.Reading{ID: s.ID, Setting: s.Setting, OpticalPowerW: r.options.machine(r.chart).OpticalPowerW, Tint: s.Tint}
	if reading.LeftOut = sample.unreadable(); reading.LeftOut != "" {
		return reading
	}
	var looks []colour.Linear
	for _, b := range sample.blocks {
		looks = append(looks, g.of(l.even(b.mean, b.at)))
	}
	look, scatter, uneven := middle(looks)
	if uneven {
		reading.LeftOut = "two looks side by side: something lies on the swatch, or a part of it was not burned"
		return reading
	}
	if width := r.edgeWidth(s, g.back(look), l); width > softEdge {
		reading.LeftOut = fmt.Sprintf("out of focus: its edges are %.0f %% of its width soft", 100*width)
		return reading
	}
	reading.LinearRGB, reading.Scatter = &look, scatter
	return reading
}
