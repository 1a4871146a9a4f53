package simulate

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/imaging/swatch"
)

// Scene is a burned chart before a camera. The zero values of what may be left out
// make a plain photograph, straight from above in even white light.
type Scene struct {
	Chart   swatch.Chart
	Machine burn.Machine  // as it really is
	Stack   coat.Stack    // as it really is
	Screen  swatch.Screen // for tint rows
	Options coat.Options

	Uneven  float64         // log-normal scatter of the paint's thickness from place to place
	Patchy  float64         // and of its mean over a swatch, from swatch to swatch
	Missing map[string]bool // swatches that were not burned
	Blurred map[string]bool // swatches out of focus, e.g. where the panel bulges
	Spoilt  map[string]bool // swatches half covered by something pale

	W, H     int     // pixels; 0 reads as 4000 x 3000
	Fill     float64 // share of the frame that the chart takes; 0 reads as 0.7
	Tilt     float64 // degrees about the horizontal axis
	Swing    float64 // degrees about the vertical axis
	Roll     float64 // degrees in the frame's plane; 180 is upside down
	Mirrored bool
	FallOff  float64         // share of the light that is lost in the frame's farthest corner
	Cast     [3]float64      // factors on red, green and blue; zeros read as 1
	Exposure float64         // factor on all; 0 reads as 0.9
	Noise    float64         // standard deviation at white, of linear light
	Desk     colour.Linear   // what lies around the scrap
	Border   float64         // mm of top coat around the chart; 0 reads as 8
	Paper    image.Rectangle // of the frame: a white paper of reflectance 0.9
	Seed     uint64
	Quality  int // of the JPEG; 0 reads as 85
}

func orDefault[T comparable](v, fallback T) T {
	var zero T
	if v == zero {
		return fallback
	}
	return v
}

// Looks are the true mean looks of the swatches, by id.
func (s Scene) Looks(ctx context.Context) (map[string]colour.Linear, error) {
	model, err := s.Stack.Compile(s.Options)
	if err != nil {
		return nil, err
	}
	table := model.Table()
	fields := map[string][]float32{}
	looks := map[string]colour.Linear{}
	for _, sw := range s.Chart.Swatches {
		if s.Missing[sw.ID] {
			looks[sw.ID] = model.PureLook(0)
			continue
		}
		field, err := s.field(ctx, fields, sw)
		if err != nil {
			return nil, err
		}
		looks[sw.ID] = meanLook(table, field, s.dose(sw.Setting))
	}
	return looks, nil
}

// dose is the mean dose in J/cm2 of a solid field.
func (s Scene) dose(setting burn.Setting) float64 {
	return burn.Dose(s.Machine, setting, s.Stack.Curve.Passes())
}

// field is the dose field of a swatch's inside, in shares of a solid field's mean.
func (s Scene) field(ctx context.Context, known map[string][]float32, sw swatch.Swatch) ([]float32, error) {
	key := fmt.Sprint(sw.Setting.Pitch, sw.Tint)
	if f, ok := known[key]; ok {
		return f, nil
	}
	const side, rim = 96, 24
	dots := plane.NewBits(side, side)
	if sw.Tint > 0 {
		if s.Screen == nil {
			return nil, fmt.Errorf("swatch %s is a tint: give the scene a screen", sw.ID)
		}
		tints := plane.NewGrey16(side, side)
		for i := range tints.Pix {
			tints.Pix[i] = uint16(math.Round(sw.Tint * 65535))
		}
		var err error
		if dots, err = s.Screen(ctx, tints); err != nil {
			return nil, err
		}
	} else {
		for y := range side {
			for x := range side {
				dots.Set(x, y)
			}
		}
	}
	ex, err := burn.NewExposer(s.Machine, sw.Setting.Pitch, burn.ChooseGrid(s.Machine, sw.Setting.Pitch))
	if err != nil {
		return nil, err
	}
	var field []float32
	region := image.Rect(rim, rim, side-rim, side-rim)
	if sw.Tint == 0 {
		region.Max.X = rim + 1 // a solid field is alike all along its lines
	}
	err = ex.Expose(ctx, burn.OneBit(dots), region, &burn.Buffer{}, func(_ int, shares []float32) error {
		field = append(field, shares...)
		return nil
	})
	known[key] = field
	return field, err
}

func meanLook(table *coat.LookTable, field []float32, dose float64) colour.Linear {
	var r, g, b float64
	for _, share := range field {
		lr, lg, lb := table.At(share * float32(dose))
		r, g, b = r+float64(lr), g+float64(lg), b+float64(lb)
	}
	n := float64(len(field))
	return colour.Linear{R: r / n, G: g / n, B: b / n}
}
