package picture

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// Noise takes grain out of even areas and leaves edges. The zero value does
// nothing.
//
// It is the guided filter with the picture as its own guide, on lightness: about
// each pixel the picture is taken for a straight-line function of itself, and where
// it varies by less than Strength that function is its mean.
// Source: K. He, J. Sun, X. Tang, "Guided image filtering", IEEE Trans. Pattern
// Anal. Mach. Intell. 35(6), 2013, equations 5, 6 and 8 with I = p.
type Noise struct {
	Strength float64   `json:"strength"`  // 0..20, in L*: what varies by less is smoothed; 0 for none
	Radius   layout.MM `json:"radius_mm"` // 0.05..3: half the side of the square that is smoothed over
}

// The ranges of Noise.
const (
	MaxNoiseStrength           = 20
	MinNoiseRadius   layout.MM = 0.05
	MaxNoiseRadius   layout.MM = 3
)

func (n Noise) works() bool { return n.Strength != 0 }

// Validate names the first value that is out of its range.
func (n Noise) Validate() error {
	switch {
	case n == Noise{}:
		return nil
	case !(n.Strength >= 0 && n.Strength <= MaxNoiseStrength):
		return fmt.Errorf("noise strength %v is outside 0 to %d: choose a difference of lightness, 0 for none", n.Strength, MaxNoiseStrength)
	case !(n.Radius >= MinNoiseRadius && n.Radius <= MaxNoiseRadius):
		return fmt.Errorf("noise radius %v mm is outside %v to %v mm: choose one in that range", float64(n.Radius), float64(MinNoiseRadius), float64(MaxNoiseRadius))
	}
	return nil
}

// The two numbers of the straight line are kept whole, see lightest: the slope in
// 1/lineSlope, the height in 1/lineHeight of a unit of lightness.
const (
	lineSlope  = 1 << 24
	lineHeight = 1 << 6
)

// apply gives light itself where there is nothing to smooth.
func (n Noise) apply(ctx context.Context, light *plane.Grey16, perMM float64) (*plane.Grey16, error) {
	w := windowOf(2 * float64(n.Radius) * perMM)
	if !n.works() || w.side() == 1 {
		return light, nil
	}
	out := plane.NewGrey16(light.W, light.H)
	err := plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		lines := n.lines(light, w)
		line := make([]float64, 2*light.W)
		lightness := lightnesses()
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			lines.mean(y, line)
			row := out.Row(y)
			for x, v := range light.Row(y) {
				slope, height := line[2*x]/lineSlope, line[2*x+1]/lineHeight
				row[x] = lightOf(float64(slope*float64(lightness[v])) + height)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}

// lines gives the mean slope and height of the straight lines of all windows that
// a pixel lies in.
func (n Noise) lines(light *plane.Grey16, w window) *slider {
	lightness := lightnesses()
	moments := newSlider(w, light.W, light.H, 2, func(y int, into []int64) {
		for x, v := range light.Row(y) {
			l := int64(lightness[v])
			into[2*x], into[2*x+1] = l, l*l
		}
	})
	smoothed := n.Strength * perLStar
	smoothed *= smoothed
	moment := make([]float64, 2*light.W)
	return newSlider(w, light.W, light.H, 2, func(y int, into []int64) {
		moments.mean(y, moment)
		for x := range light.W {
			mean := moment[2*x]
			variance := max(moment[2*x+1]-float64(mean*mean), 0)
			slope := variance / (variance + smoothed)
			into[2*x] = int64(math.Round(slope * lineSlope))
			into[2*x+1] = int64(math.Round((1 - slope) * mean * lineHeight))
		}
	})
}
