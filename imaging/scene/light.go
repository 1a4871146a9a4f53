package scene

import (
	"math"

	"undercoat/imaging/colour"
)

// light is how bright a room is from place to place. It comes from a window to
// the upper left and is 1 at the panel's middle, so that the panel and the wall
// behind it keep their colours.
type light struct {
	x, y, a, b float64
	whole      float64
}

func newLight(v view) light {
	l := light{
		x: v.panel.cx() - 0.16*v.width(), y: v.panel.cy() + 0.10*v.height(),
		a: 0.60 * v.width(), b: 0.85 * v.height(), whole: 1,
	}
	l.whole = 1 / l.at(v.panel.cx(), v.panel.cy())
	return l
}

func (l light) at(x, y float64) float64 {
	u, w := (x-l.x)/l.a, (y-l.y)/l.b
	return l.whole * (0.66 + 0.38*math.Exp(-u*u-w*w))
}

// lit is a colour under i times the light: a little warmer where it is bright and
// cooler where it is dim.
func lit(c colour.Linear, i float64) colour.Linear {
	return colour.Linear{R: c.R * (i + 0.03*(i-1)), G: c.G * i, B: c.B * (i - 0.04*(i-1))}
}

// hex is a colour of the rooms' things.
func hex(text string) colour.Linear {
	c, err := colour.ParseHex(text)
	if err != nil {
		panic(err) // a slip in this package
	}
	return c.Linear()
}

// window is the light of a window on the wall, six soft panes aslant at the
// view's left.
func (v view) window(gain float64) layer {
	const wide, high, bar, slant, soft = 250.0, 330.0, 42.0, 0.42, 26.0
	x0, y0 := v.left+0.035*v.width(), v.panel.cy()-560
	all := box{x0 - 100, y0 - 100, x0 + 2*wide + bar + slant*3*(high+bar) + 200, y0 + 3*(high+bar) + 100}
	return layer{all, func(s spot, under colour.Linear) colour.Linear {
		y := s.y - y0
		x := s.x - x0 - slant*y
		sum := 0.0
		for i := range 2 {
			for j := range 3 {
				at := box{0, 0, wide, high}.moved(float64(i)*(wide+bar), float64(j)*(high+bar))
				sum += blurred(at, soft, x, y)
			}
		}
		g := gain * sum
		return colour.Linear{R: under.R * (1 + g), G: under.G * (1 + 0.94*g), B: under.B * (1 + 0.78*g)}
	}}
}
