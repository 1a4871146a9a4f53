package picture

import (
	"context"
	"encoding/binary"
	"fmt"
	"image"
	"math"

	"github.com/disintegration/gift"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// Tone is a curve over the lightness of the picture. The zero value changes
// nothing. Black and white stay where they are.
type Tone struct {
	Mid      float64 // -1..1: the middle tones darker or lighter; 1 lifts L* 50 to L* 71
	Contrast float64 // -1..1: flatter or steeper about L* 50, which stays
}

// steepest is the sigmoid's factor at a contrast of 1: about L* 50, lightness then
// rises twice as fast as without. Common practice, no source.
const steepest = 8

// Validate refuses what lies outside -1..1.
func (t Tone) Validate() error {
	for _, v := range []struct {
		name  string
		value float64
	}{{"middle tones", t.Mid}, {"contrast", t.Contrast}} {
		if !(v.value >= -1 && v.value <= 1) {
			return fmt.Errorf("%s %v is outside -1..1: choose a value between, 0 for no change", v.name, v.value)
		}
	}
	return nil
}

// Table is the curve from linear light to linear light, both in 1/65535. It
// never falls. It costs some milliseconds to build, unless the tone is zero.
func (t Tone) Table() (*[65536]uint16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	var table [65536]uint16
	if t == (Tone{}) {
		for v := range table {
			table[v] = uint16(v)
		}
		return &table, nil
	}
	curve := t.lightness()
	for v := range table {
		at := colour.LStar(float64(v)/full) / 100 * full
		i := min(int(at), full-1)
		l := (curve[i] + (curve[i+1]-curve[i])*(at-float64(i))) / full * 100
		table[v] = uint16(math.Round(math.Min(math.Max(colour.FromLStar(l), 0), 1) * full))
	}
	return &table, nil
}

// lightness is where each lightness goes, both in 1/65535 of L* 100.
func (t Tone) lightness() []float64 {
	curve := make([]float64, full+1)
	for i := range curve {
		curve[i] = float64(i)
	}
	if t.Mid != 0 {
		curve = filtered(curve, gift.Gamma(float32(math.Exp2(t.Mid))))
	}
	if t.Contrast != 0 {
		// The library's sigmoid loses its last digits at small factors, so it is
		// taken at full strength and mixed in by as much as is wanted.
		strong := filtered(curve, gift.Sigmoid(0.5, float32(math.Copysign(steepest, t.Contrast))))
		for i := range curve {
			curve[i] += (strong[i] - curve[i]) * math.Abs(t.Contrast)
		}
	}
	return rising(curve)
}

// filtered runs a tone filter of the library over a ramp of 65536 lightnesses.
func filtered(ramp []float64, filter gift.Filter) []float64 {
	in := image.NewGray16(image.Rect(0, 0, len(ramp), 1))
	for i, v := range ramp {
		binary.BigEndian.PutUint16(in.Pix[2*i:], uint16(math.Round(v)))
	}
	out := image.NewGray16(in.Rect)
	filter.Draw(out, in, nil)
	curve := make([]float64, len(ramp))
	for i := range curve {
		curve[i] = float64(binary.BigEndian.Uint16(out.Pix[2*i:]))
	}
	return curve
}

// rising holds the ends at black and white and lets no step fall: the library
// works in 32-bit floats, whose last digit can do either.
func rising(curve []float64) []float64 {
	curve[0], curve[len(curve)-1] = 0, full
	for i := 1; i < len(curve)-1; i++ {
		curve[i] = math.Min(math.Max(curve[i], curve[i-1]), full)
	}
	return curve
}

// Apply lays the tone over a plane of linear light, in place. When ctx ends
// early the plane is left half done and must be thrown away.
func (t Tone) Apply(ctx context.Context, light *plane.Grey16) error {
	if err := t.Validate(); err != nil || t == (Tone{}) {
		return err
	}
	table, err := t.Table()
	if err != nil {
		return err
	}
	return plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := light.Row(y)
			for x, v := range row {
				row[x] = table[v]
			}
		}
		return nil
	})
}
