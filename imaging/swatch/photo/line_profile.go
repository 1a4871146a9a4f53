package photo

import (
	"math"
	"slices"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// The channels in which a line may be measured. Luminance comes first: JPEG keeps it
// sharper than colours.
const (
	luminance = iota
	red
	green
	blue
	channels
)

// lineProfile is how the paint changes across one line, in shares of the bare paint's
// light beside it: 0 is bare. Values run from the side below to the side above.
type lineProfile struct {
	step     float64               // mm between values
	perMM    float64               // pixels
	segments [][channels][]float64 // pieces of the line, one after the other
	mean     [channels][]float64   // of all segments
	clipped  float64               // largest share of clipped samples of all at one distance
	bare     float64               // the bare paint's luminance
	outside  bool                  // not all of it is in the photograph
}

const (
	lineSegments = 16
	lineInner    = 0.8 // of a line's length: its ends burn otherwise
	lineStep     = 0.5 // pixels between values
	bareFrom     = 0.6 // of a profile's reach, from where on the paint is bare
)

// lineProfile samples a line across, so many mm each way.
func (r reader) lineProfile(a layout.Area, reach float64) lineProfile {
	p := r.across(a, reach)
	if p.outside {
		return p
	}
	for i := range p.segments {
		p.bare += beside(p.segments[i][luminance]) / lineSegments
		for c, values := range p.segments[i] {
			p.segments[i][c] = smoothed(sharesOfBare(values))
		}
	}
	for c := range p.mean {
		p.mean[c] = make([]float64, len(p.segments[0][c]))
		for _, s := range p.segments {
			for i, v := range s[c] {
				p.mean[c][i] += v / lineSegments
			}
		}
	}
	return p
}

// across samples what the photograph shows across an area's horizontal middle, in
// segments along it.
func (r reader) across(a layout.Area, reach float64) lineProfile {
	p := lineProfile{perMM: r.view.perMM(a.Centre)}
	around := layout.Area{Centre: a.Centre, Size: layout.Size{W: a.Size.W, H: layout.MM(2 * reach)}}
	if !r.view.inFrame(around, r.light.W, r.light.H) {
		p.outside = true
		return p
	}
	half := max(6, int(math.Ceil(reach*p.perMM/lineStep)))
	p.step = reach / float64(half)
	n := 2*half + 1
	columns := max(1, int(math.Round(lineInner*float64(a.Size.W)*p.perMM/lineSegments)))
	clipped := make([]int, n)
	for s := range lineSegments {
		var sums [channels][]float64
		for c := range sums {
			sums[c] = make([]float64, n)
		}
		for col := range columns {
			along := (float64(s)+(float64(col)+0.5)/float64(columns))/lineSegments - 0.5
			x := a.Centre.X + a.Size.W*layout.MM(lineInner*along)
			for i := range n {
				look, full := r.between(layout.Point{X: x, Y: a.Centre.Y + layout.MM(float64(i-half)*p.step)})
				if full {
					clipped[i]++
				}
				for c, v := range [channels]float64{look.Y(), look.R, look.G, look.B} {
					sums[c][i] += v / float64(columns)
				}
			}
		}
		p.segments = append(p.segments, sums)
	}
	p.clipped = float64(slices.Max(clipped)) / float64(columns*lineSegments)
	return p
}

// between is the light at a place of the chart between four pixels, and whether one
// of them is as bright as the photograph can hold. The place must lie inside.
func (r reader) between(at layout.Point) (colour.Linear, bool) {
	p := r.view.pixel(at)
	x, y := min(max(p.X-0.5, 0), float64(r.light.W)-1.001), min(max(p.Y-0.5, 0), float64(r.light.H)-1.001)
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	upper, lower := r.light.Row(y0)[3*x0:3*x0+6], r.light.Row(y0 + 1)[3*x0:3*x0+6]
	var v [3]float64
	full := false
	for k := range v {
		a, b, c, d := upper[k], upper[k+3], lower[k], lower[k+3]
		full = full || max(a, b, c, d) >= 65500
		v[k] = ((float64(a)*(1-fx)+float64(b)*fx)*(1-fy) + (float64(c)*(1-fx)+float64(d)*fx)*fy) / 65535
	}
	return colour.Linear{R: v[0], G: v[1], B: v[2]}, full
}

// sharesOfBare takes values to 0 where they are the bare paint's, which is read on
// both sides and straight from one to the other.
func sharesOfBare(values []float64) []float64 {
	n := len(values)
	rim := rimOf(n)
	low, high := median(values[:rim]), median(values[n-rim:])
	out := make([]float64, n)
	for i, v := range values {
		at := (float64(i) - float64(rim)/2) / float64(n-rim)
		out[i] = v/max(low+(high-low)*at, 1e-6) - 1
	}
	return out
}

// rimOf is how many values at either end of n are the bare paint's.
func rimOf(n int) int { return max(2, int(float64(n)*(1-bareFrom)/2)) }

// beside is the bare paint's value on both sides.
func beside(values []float64) float64 {
	rim := rimOf(len(values))
	return (median(values[:rim]) + median(values[len(values)-rim:])) / 2
}

// smoothed is the mean over three values. It moves no middle of an edge.
func smoothed(values []float64) []float64 {
	out := slices.Clone(values)
	for i := 1; i+1 < len(values); i++ {
		out[i] = (values[i-1] + values[i] + values[i+1]) / 3
	}
	return out
}

// extreme is a profile's value in its inner part that is farthest from bare.
func extreme(profile []float64) float64 {
	most := 0.0
	rim := rimOf(len(profile))
	for _, v := range profile[rim : len(profile)-rim] {
		if math.Abs(v) > math.Abs(most) {
			most = v
		}
	}
	return most
}

// roughness is the standard deviation of the bare paint in a profile's segments.
func (p lineProfile) roughness(channel int) float64 {
	var all []float64
	for _, s := range p.segments {
		rim := rimOf(len(s[channel]))
		for _, v := range s[channel][:rim] {
			all = append(all, math.Abs(v))
		}
	}
	return 1.4826 * median(all)
}
