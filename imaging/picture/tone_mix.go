package picture

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
)

// Mix says how much of each colour's light makes grey. The weights may be below 0
// or above 1 but sum to 1, so that a grey keeps its value. The zero value is the
// eye's own mix, Rec. 709: 0.2126, 0.7152, 0.0722.
type Mix struct {
	R float64 `json:"r"` // -1..2
	G float64 `json:"g"` // -1..2
	B float64 `json:"b"` // -1..2
}

// mixSlack is how far the sum of weights that people typed may be from 1.
const mixSlack = 1e-3

// Validate names the first weight that is out of its range.
func (m Mix) Validate() error {
	if m == (Mix{}) {
		return nil
	}
	for _, w := range []struct {
		name  string
		value float64
	}{{"red", m.R}, {"green", m.G}, {"blue", m.B}} {
		if !(w.value >= -1 && w.value <= 2) {
			return fmt.Errorf("%s weight %v is outside -1 to 2: choose one in that range", w.name, w.value)
		}
	}
	if sum := m.R + m.G + m.B; !(math.Abs(sum-1) <= mixSlack) {
		return fmt.Errorf("red, green and blue weights sum to %.4g in place of 1: scale them", sum)
	}
	return nil
}

// Scaled is the mix with its weights brought to the sum 1, for controls that move
// one of them at a time. Weights that sum to nothing give the zero Mix.
func (m Mix) Scaled() Mix {
	sum := m.R + m.G + m.B
	if !(math.Abs(sum) > mixSlack) || math.IsInf(sum, 0) {
		return Mix{}
	}
	return Mix{m.R / sum, m.G / sum, m.B / sum}
}

// weights are the mix, summing to exactly one: what rounding leaves over goes to
// green, the heaviest for the eye.
func (m Mix) weights() weights {
	if m == (Mix{}) {
		return rec709
	}
	m = m.Scaled()
	r, b := int64(math.Round(m.R*weightOne)), int64(math.Round(m.B*weightOne))
	return weights{r, weightOne - r - b, b}
}

// GreyOf turns a picture in colour to grey by a mix of its linear light, at 16 bits.
// The zero Mix gives what Picture.Grey gives, to the last bit where the picture is
// opaque and to one step where it is not; colours outside sRGB, which a plane cannot
// hold, only Picture.Grey sees.
func GreyOf(ctx context.Context, light *plane.RGB16, m Mix) (*plane.Grey16, error) {
	if err := m.Validate(); err != nil {
		return nil, err
	}
	w := m.weights()
	grey := plane.NewGrey16(light.W, light.H)
	err := plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row, out := light.Row(y), grey.Row(y)
			for x := range out {
				px := row[3*x : 3*x+3 : 3*x+3]
				out[x] = w.luminance(px[0], px[1], px[2])
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return grey, nil
}

// EyesMix is the mix that the zero Mix stands for.
var EyesMix = Mix{R: 0.2126, G: 0.7152, B: 0.0722}

// Channel is one of the three of a picture in colour.
type Channel uint8

// The channels.
const (
	Red Channel = iota
	Green
	Blue
)

// Weight is how much of a channel's light makes grey; the zero Mix reads as EyesMix.
func (m Mix) Weight(c Channel) float64 { return m.shares()[c] }

func (m Mix) shares() [3]float64 {
	if m == (Mix{}) {
		m = EyesMix
	}
	return [3]float64{m.R, m.G, m.B}
}

// WithWeight is the mix with one weight, 0 to 1, set; the other two share the rest as
// they did, and evenly where they had nothing.
func (m Mix) WithWeight(c Channel, weight float64) Mix {
	w := m.shares()
	rest := 0.0
	for i := range w {
		if w[i] = max(0, w[i]); Channel(i) != c {
			rest += w[i]
		}
	}
	for i := range w {
		switch {
		case Channel(i) == c:
			w[i] = weight
		case rest < mixSlack: // they had nothing to speak of
			w[i] = (1 - weight) / 2
		default:
			w[i] *= (1 - weight) / rest
		}
	}
	return Mix{R: w[0], G: w[1], B: w[2]}
}
