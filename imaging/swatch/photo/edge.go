package photo

import (
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/swatch"
	"undercoat/layout"
)

// softEdge is how wide the edge of a swatch may be, from a fifth to four fifths of
// the way, in shares of its side: wider ones reach into the part that is read.
const softEdge = 0.22

// edgeWidth measures how softly a swatch's colour, as it is in the light of the
// centre, passes into the unburned paint's; 0 where they hardly differ.
func (r reader) edgeWidth(s swatch.Swatch, look colour.Linear, l lamp) float64 {
	ref := l.reference()
	channel, contrast := strongest(look, ref)
	// Below this there is no telling an edge from noise.
	if !l.trusted || contrast < 0.15*max(channel(look), channel(ref)) {
		return 0
	}
	var widths []float64
	for side := range sides {
		if w, ok := r.sideWidth(s, side, func(c colour.Linear, at layout.Point) float64 {
			return (channel(l.even(c, at)) - channel(ref)) / (channel(look) - channel(ref))
		}); ok {
			widths = append(widths, w)
		}
	}
	if len(widths) == 0 {
		return 0
	}
	return median(widths)
}

// sideWidth is the width of one side's edge, in shares of the swatch's side; false
// where there is too much noise to tell. Each side stands for itself, as corners
// pointed at by hand put it a little in or out.
func (r reader) sideWidth(s swatch.Swatch, side int, level func(colour.Linear, layout.Point) float64) (float64, bool) {
	const steps, out, in = 33, 0.3, 0.4 // from so far outside to so far inside, in sides
	var profile [steps]float64
	for i := range profile {
		t := -out + (out+in)*float64(i)/(steps-1)
		sum, n := 0.0, 0.0
		for _, p := range along(s, side, t) {
			if c, ok := r.pixelAt(p); ok {
				sum += level(c, p)
				n++
			}
		}
		if n == 0 {
			return 0, false
		}
		profile[i] = sum / n
	}
	const most = 0.06 // of the contrast: noise in the profile under which its width is sure
	if stepNoise(profile[:]) > most {
		return 0, false
	}
	return (crossing(profile[:], 0.8) - crossing(profile[:], 0.2)) * (out + in) / (steps - 1), true
}

// stepNoise is the standard deviation of a smooth profile's noise, from the median
// distance of each value from the middle of its neighbours: 1.4826 makes a deviation
// of it, and three values of one variance make 1.5 of that.
func stepNoise(profile []float64) float64 {
	var off []float64
	for i := 1; i+1 < len(profile); i++ {
		off = append(off, math.Abs(profile[i]-(profile[i-1]+profile[i+1])/2))
	}
	return 1.4826 * median(off) / math.Sqrt(1.5)
}

// crossing is where a rising profile last passes a level on its way in, in steps.
// What lies before, such as a neighbour or a label, does not count.
func crossing(profile []float64, level float64) float64 {
	for i := len(profile) - 1; i > 0; i-- {
		if a, b := profile[i-1], profile[i]; a < level && b >= level {
			return float64(i-1) + (level-a)/(b-a)
		}
	}
	return 0
}

// sides that are looked at: left, right and lower; above stands the label.
const sides = 3

// along are places on a side of a swatch, so far inside its edge in shares of its
// width.
func along(s swatch.Swatch, side int, inside float64) []layout.Point {
	const places = 24
	all := make([]layout.Point, places)
	for i := range all {
		v := layout.MM(0.5 * (2*(float64(i)+0.5)/places - 1)) // the middle half of the side
		x, y := s.Size.W*layout.MM(0.5-inside), s.Size.H*layout.MM(0.5-inside)
		all[i] = [sides]layout.Point{
			{X: s.Centre.X - x, Y: s.Centre.Y + v*s.Size.H},
			{X: s.Centre.X + x, Y: s.Centre.Y + v*s.Size.H},
			{X: s.Centre.X + v*s.Size.W, Y: s.Centre.Y - y},
		}[side]
	}
	return all
}

func (r reader) pixelAt(p layout.Point) (colour.Linear, bool) {
	at := r.view.pixel(p)
	x, y := int(math.Floor(at.X)), int(math.Floor(at.Y))
	if x < 0 || y < 0 || x >= r.light.W || y >= r.light.H {
		return colour.Linear{}, false
	}
	v := r.light.Row(y)[3*x : 3*x+3]
	return colour.Linear{R: float64(v[0]), G: float64(v[1]), B: float64(v[2])}.Scale(1.0 / 65535), true
}

// strongest is the channel in which two colours differ most.
func strongest(a, b colour.Linear) (func(colour.Linear) float64, float64) {
	channels := []func(colour.Linear) float64{
		func(l colour.Linear) float64 { return l.R },
		func(l colour.Linear) float64 { return l.G },
		func(l colour.Linear) float64 { return l.B },
	}
	best, most := channels[0], -1.0
	for _, c := range channels {
		if d := math.Abs(c(a) - c(b)); d > most {
			best, most = c, d
		}
	}
	return best, most
}
