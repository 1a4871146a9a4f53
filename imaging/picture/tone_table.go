package picture

import (
	"encoding/binary"
	"fmt"
	"image"
	"math"

	"github.com/disintegration/gift"

	"undercoat/imaging/colour"
)

// steepest is the sigmoid's factor at a contrast of 1: about L* 50, lightness then
// rises twice as fast as without. Common practice, no source.
const steepest = 8

// leastSpan is how far the white point stays above the black one, in L*.
const leastSpan = 1

// Table is the pointwise part of the tone, from linear light to linear light, both
// in 1/65535. It never falls. It costs some milliseconds to build, unless there is
// nothing to change.
func (t Tone) Table() (*[full + 1]uint16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	var table [full + 1]uint16
	if t.points() == (Tone{}) {
		for v := range table {
			table[v] = uint16(v)
		}
		return &table, nil
	}
	curve := t.lightness(full)
	for v := range table {
		at := colour.LStar(float64(v)/full) / 100 * full
		i := min(int(at), full-1)
		l := (curve[i] + float64((curve[i+1]-curve[i])*(at-float64(i)))) / full * 100
		table[v] = uint16(math.Round(math.Min(math.Max(colour.FromLStar(l), 0), 1) * full))
	}
	return &table, nil
}

// lightness is where lightness goes, in 1/65535 of L* 100, for each of so many even steps
// from none to L* 100.
func (t Tone) lightness(steps int) []float64 {
	curve := make([]float64, steps+1)
	for i := range curve {
		curve[i] = float64(i) * full / float64(steps)
	}
	t.stretch(curve)
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
	rising(curve)
	t.Curve.bend(curve)
	return curve
}

// white is the white point: a Tone that names none has it at 100.
func (t Tone) white() float64 {
	if t.White == 0 {
		return 100
	}
	return t.White
}

func (t Tone) validatePoints() error {
	if !(t.Black >= 0 && t.Black <= 100-leastSpan) {
		return fmt.Errorf("black point %v is outside 0 to %d: choose the lightness that shall become black, 0 for none", t.Black, 100-leastSpan)
	}
	if !(t.white() >= t.Black+leastSpan && t.white() <= 100) {
		return fmt.Errorf("white point %v is outside %v to 100: choose a lightness above the black point, 100 for none", t.White, t.Black+leastSpan)
	}
	return nil
}

// stretch brings the lightnesses between the points to black and white.
func (t Tone) stretch(curve []float64) {
	black, white := t.Black/100*full, t.white()/100*full
	if black == 0 && white == full {
		return
	}
	for i, l := range curve {
		curve[i] = math.Min(math.Max((l-black)/(white-black), 0), 1) * full
	}
}

// filtered runs a tone filter of the library over a ramp of lightnesses.
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
func rising(curve []float64) {
	curve[0], curve[len(curve)-1] = 0, full
	for i := 1; i < len(curve)-1; i++ {
		curve[i] = math.Min(math.Max(curve[i], curve[i-1]), full)
	}
}
