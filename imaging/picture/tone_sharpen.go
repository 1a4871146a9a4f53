package picture

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Sharpen is an unsharp mask in linear light: what a blurred picture lacks is added
// once more. The zero value does nothing.
//
// The blur is a Gaussian, made of four means over a window in turn.
// Source: W. M. Wells, "Efficient synthesis of Gaussian filters by cascaded
// uniform filters", IEEE Trans. Pattern Anal. Mach. Intell. 8(2), 1986.
type Sharpen struct {
	Radius    layout.MM `json:"radius_mm"` // 0.01..2: the standard deviation of the blur
	Amount    float64   `json:"amount"`    // 0..5: how many times the difference is added; 0 for none
	Threshold float64   `json:"threshold"` // 0..20, in L*: differences up to it are left as they are, larger ones count less it
}

// The ranges of Sharpen.
const (
	MinSharpenRadius    layout.MM = 0.01
	MaxSharpenRadius    layout.MM = 2
	MaxSharpenAmount              = 5
	MaxSharpenThreshold           = 20
)

func (s Sharpen) works() bool { return s.Amount != 0 }

// Validate names the first value that is out of its range.
func (s Sharpen) Validate() error {
	switch {
	case s == Sharpen{}:
		return nil
	case !(s.Amount >= 0 && s.Amount <= MaxSharpenAmount):
		return fmt.Errorf("sharpening %v is outside 0 to %d: choose how many times the difference is added, 0 for none", s.Amount, MaxSharpenAmount)
	case !(s.Radius >= MinSharpenRadius && s.Radius <= MaxSharpenRadius):
		return fmt.Errorf("sharpening radius %v mm is outside %v to %v mm: choose one in that range, about half the beam's width", float64(s.Radius), float64(MinSharpenRadius), float64(MaxSharpenRadius))
	case !(s.Threshold >= 0 && s.Threshold <= MaxSharpenThreshold):
		return fmt.Errorf("sharpening threshold %v is outside 0 to %d: choose a difference of lightness, 0 for none", s.Threshold, MaxSharpenThreshold)
	}
	return nil
}

// SuggestSharpen is the sharpening for dots of a pitch burned by a beam of a width
// (its D4sigma, the width people measure). The blur is half the beam's width, but
// at least one pitch. The amount is what brings stripes two dots wide, the finest
// that a screen can give a tone to, back to the contrast that they lose to the
// beam, a Gaussian of a quarter of its width, and to the dots' own squares; at most
// 2, as more than that shows. The threshold leaves grain of one L* alone.
// Derived from the two transfer functions; the limits are common practice, no
// source.
func SuggestSharpen(pitch, beam layout.MM) (Sharpen, error) {
	if !(pitch >= layout.MinPitch && pitch <= layout.MaxPitch) {
		return Sharpen{}, fmt.Errorf("pitch %v mm is outside %v to %v mm: choose one in that range", float64(pitch), float64(layout.MinPitch), float64(layout.MaxPitch))
	}
	if !(beam >= 0 && beam <= 2*MaxSharpenRadius) {
		return Sharpen{}, fmt.Errorf("beam width %v mm is outside 0 to %v mm: measure the machine's beam", float64(beam), float64(2*MaxSharpenRadius))
	}
	gauss := func(sigma, frequency float64) float64 {
		x := 2 * math.Pi * sigma * frequency
		return math.Exp(-x * x / 2)
	}
	radius := max(beam/2, pitch)
	frequency := 1 / (4 * float64(pitch))
	dots := math.Sin(math.Pi/4) / (math.Pi / 4) // the transfer of a square a quarter of the period wide
	kept := dots * gauss(float64(beam)/4, frequency)
	amount := (1/kept - 1) / (1 - gauss(float64(radius), frequency))
	hundredths := func(v float64) float64 { return math.Round(v*100) / 100 }
	return Sharpen{
		Radius:    layout.MM(math.Max(hundredths(float64(radius)), float64(MinSharpenRadius))),
		Amount:    hundredths(math.Min(amount, 2)),
		Threshold: 1,
	}, nil
}

// fineLight is light within the blur: parts of 1/65535, whole for the reason that
// lightest gives.
const fineLight = 1 << 12

// blurWindows is how many means in turn pass for a Gaussian.
const blurWindows = 4

// apply gives a new plane.
func (s Sharpen) apply(ctx context.Context, light *plane.Grey16, perMM float64) (*plane.Grey16, error) {
	sigma := float64(s.Radius) * perMM
	out := plane.NewGrey16(light.W, light.H)
	err := plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		blur := blurred(light, sigma)
		soft := make([]float64, light.W)
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			blur.mean(y, soft)
			s.mask(out.Row(y), light.Row(y), soft)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// blurred gives the light, in 1/fineLight of 1/65535, after a Gaussian blur.
func blurred(light *plane.Grey16, sigma float64) *slider {
	w := spreadingWindow(sigma * sigma / blurWindows)
	s := newSlider(w, light.W, light.H, 1, func(y int, into []int64) {
		for x, v := range light.Row(y) {
			into[x] = int64(v) * fineLight
		}
	})
	for range blurWindows - 1 {
		before, row := s, make([]float64, light.W)
		s = newSlider(w, light.W, light.H, 1, func(y int, into []int64) {
			before.mean(y, row)
			for x, v := range row {
				into[x] = int64(v + 0.5)
			}
		})
	}
	return s
}

// mask adds what the soft row lacks.
func (s Sharpen) mask(into, light []uint16, soft []float64) {
	lightness := lightnesses()
	least := s.Threshold * perLStar
	for x, v := range light[:len(into)] {
		blur := soft[x] / fineLight
		lacks := float64(v) - blur
		amount := s.Amount
		if least > 0 {
			seen := math.Abs(float64(lightness[v] - lightness[uint16(blur+0.5)]))
			if seen <= least {
				into[x] = v
				continue
			}
			amount *= 1 - least/seen
		}
		into[x] = uint16(min(max(float64(v)+float64(amount*lacks), 0), full) + 0.5)
	}
}
