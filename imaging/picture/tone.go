package picture

import (
	"context"
	"fmt"

	"undercoat/imaging/plane"
)

// Tone is what is done to the picture's light before it becomes tints. The zero
// value changes nothing, to the last bit; each part's zero value leaves that part
// out. Tones can be compared with ==.
//
// The order is fixed: noise, local contrast, then the black and white points, the
// middle tones, contrast and the curve, which together are one table from light to
// light, then sharpening. Noise goes first, so that nothing after it makes more of
// it; sharpening last, so that it fits the light that is burned.
//
// All but sharpening work on lightness, L* of CIELAB, 0..100: steps that look equal
// are. Sharpening works on light itself, as it answers to the beam, which blurs
// light. Lengths are on the panel, so that a small view and the raster come out
// alike.
type Tone struct {
	Noise    Noise         `json:"noise,omitzero"`
	Local    LocalContrast `json:"local_contrast,omitzero"`
	Black    float64       `json:"black"`    // 0..99: the lightness that becomes black
	White    float64       `json:"white"`    // Black+1..100: the lightness that becomes white; 0 reads as 100
	Mid      float64       `json:"mid_tone"` // -1..1: the middle tones darker or lighter; 1 lifts L* 50 to L* 71
	Contrast float64       `json:"contrast"` // -1..1: flatter or steeper about L* 50, which stays
	Curve    Curve         `json:"curve,omitzero"`
	Sharpen  Sharpen       `json:"sharpen,omitzero"`
}

// Validate names the first value that is out of its range.
func (t Tone) Validate() error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"middle tones", t.Mid}, {"contrast", t.Contrast}} {
		if !(v.value >= -1 && v.value <= 1) {
			return fmt.Errorf("%s %v is outside -1..1: choose a value between, 0 for no change", v.name, v.value)
		}
	}
	for _, check := range []func() error{t.validatePoints, t.Noise.Validate, t.Local.Validate, t.Curve.Validate, t.Sharpen.Validate} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// Pointwise tells whether the tone is its Table and nothing else: each pixel by
// itself, whatever stands around it and however large it is.
func (t Tone) Pointwise() bool {
	return !t.Noise.works() && !t.Local.works() && !t.Sharpen.works()
}

// points is the tone less all that is not pointwise.
func (t Tone) points() Tone {
	t.Noise, t.Local, t.Sharpen = Noise{}, LocalContrast{}, Sharpen{}
	return t
}

// Apply lays the tone over the whole of a picture area's light, of any size with
// perMM pixels a millimetre of the panel, and gives a new plane. A pointwise tone
// costs one look-up a pixel. It is the same on any number of cores, and stops
// within some rows of the end of ctx.
func (t Tone) Apply(ctx context.Context, light *plane.Grey16, perMM float64) (*plane.Grey16, error) {
	g, err := t.prepared(Whole(perMM))
	if err != nil || len(light.Pix) == 0 {
		return plane.NewGrey16(light.W, light.H), err
	}
	if light, err = t.Noise.apply(ctx, light, perMM); err != nil {
		return nil, err
	}
	if t.Local.works() {
		if g.local, err = t.Local.survey(ctx, light, perMM); err != nil {
			return nil, err
		}
	}
	return g.afterNoise(ctx, light, Whole(perMM))
}
