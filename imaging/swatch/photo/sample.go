package photo

import (
	"cmp"
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

const (
	innerShare   = 0.6 // of a swatch's side that is read: its edges are left to blur and heat
	swatchBlocks = 8   // to a side
	fieldBlocks  = 10  // of an unburned field, one above the other
	trimmed      = 0.15
)

// block is a part of an area, wide enough for several lines of the burn.
type block struct {
	at   layout.Point // its middle
	mean colour.Linear
}

// sample is what the photograph shows of an area.
type sample struct {
	blocks  []block
	outside bool    // not all of it is in the photograph
	bright  float64 // share of pixels that are as bright as the photograph can hold
	dark    float64 // share of pixels that are quite black
}

// unreadable is why a sample cannot be read, or nothing.
func (s sample) unreadable() string {
	const most = 0.02
	switch {
	case s.outside:
		return "outside the photograph"
	case len(s.blocks) == 0:
		return "too small in the photograph"
	case s.bright > most:
		return fmt.Sprintf("too bright for the photograph: %.0f %% of it is clipped, expose less", 100*s.bright)
	case s.dark > 0.5:
		return fmt.Sprintf("too dark for the photograph: %.0f %% of it is black, expose more", 100*s.dark)
	}
	return ""
}

// sampleAll samples areas in cols x rows blocks each.
func (r reader) sampleAll(ctx context.Context, areas []layout.Area, cols, rows int) ([]sample, error) {
	samples := make([]sample, len(areas))
	err := plane.SplitRows(ctx, len(areas), func(ctx context.Context, from, to int) error {
		for i := from; i < to; i++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			samples[i] = r.sampleArea(areas[i], cols, rows)
		}
		return nil
	})
	return samples, err
}

// sampleArea takes the means in linear light of cols x rows blocks of an area.
func (r reader) sampleArea(a layout.Area, cols, rows int) sample {
	if !r.view.inFrame(a, r.light.W, r.light.H) {
		return sample{outside: true}
	}
	type sum struct {
		r, g, b uint64
		n       int
	}
	sums := make([]sum, cols*rows)
	all, bright, dark := 0, 0, 0
	left, upper := a.Centre.X-a.Size.W/2, a.Centre.Y+a.Size.H/2
	box := r.bounds(a)
	for y := box.Min.Y; y < box.Max.Y; y++ {
		row := r.light.Row(y)
		for x := box.Min.X; x < box.Max.X; x++ {
			p := r.view.place(layout.PicturePoint{X: float64(x) + 0.5, Y: float64(y) + 0.5})
			col, line := int(math.Floor(float64((p.X-left)/a.Size.W)*float64(cols))), int(math.Floor(float64((upper-p.Y)/a.Size.H)*float64(rows)))
			if col < 0 || line < 0 || col >= cols || line >= rows {
				continue
			}
			red, green, blue := row[3*x], row[3*x+1], row[3*x+2]
			s := &sums[line*cols+col]
			s.r, s.g, s.b, s.n = s.r+uint64(red), s.g+uint64(green), s.b+uint64(blue), s.n+1
			all++
			// The brightest stored value of eight bits, and black.
			const full, none = 65500, 10
			if max(red, green, blue) >= full {
				bright++
			}
			if max(red, green, blue) <= none {
				dark++
			}
		}
	}
	out := sample{bright: share(bright, all), dark: share(dark, all)}
	for i, s := range sums {
		if s.n == 0 {
			continue
		}
		n := float64(s.n) * 65535
		out.blocks = append(out.blocks, block{
			at: layout.Point{
				X: left + a.Size.W*layout.MM((float64(i%cols)+0.5)/float64(cols)),
				Y: upper - a.Size.H*layout.MM((float64(i/cols)+0.5)/float64(rows)),
			},
			mean: colour.Linear{R: float64(s.r) / n, G: float64(s.g) / n, B: float64(s.b) / n},
		})
	}
	return out
}

func share(part, whole int) float64 {
	if whole == 0 {
		return 0
	}
	return float64(part) / float64(whole)
}

// bounds is the upright rectangle of pixels around an area.
func (r reader) bounds(a layout.Area) image.Rectangle {
	var box image.Rectangle
	for i, c := range a.Corners() {
		p := r.view.pixel(c)
		at := image.Rect(int(math.Floor(p.X)), int(math.Floor(p.Y)), int(math.Ceil(p.X))+1, int(math.Ceil(p.Y))+1)
		if i == 0 {
			box = at
		}
		box = box.Union(at)
	}
	return box.Intersect(image.Rect(0, 0, r.light.W, r.light.H))
}

// middle is the mean of looks without the darkest and the brightest of them, so
// that dust does not count; how they scatter, in linear light; and whether they
// fall into two groups. A plain median would lean to the side of a skewed mesh.
func middle(looks []colour.Linear) (mean colour.Linear, scatter float64, uneven bool) {
	sorted := slices.SortedFunc(slices.Values(looks), func(a, b colour.Linear) int { return cmp.Compare(a.Y(), b.Y()) })
	cut := int(trimmed * float64(len(sorted)))
	kept := sorted[cut : len(sorted)-cut]
	for _, l := range kept {
		mean = mean.Add(l)
	}
	mean = mean.Scale(1 / float64(len(kept)))
	scatter = spreadOf(looks)
	return mean, scatter, twoGroups(sorted)
}

// spreadOf is the root mean square over the channels of their standard deviation,
// from the median distance to the median: 1.4826 of those are one in a normal
// distribution.
func spreadOf(looks []colour.Linear) float64 {
	sum := 0.0
	for _, channel := range []func(colour.Linear) float64{
		func(l colour.Linear) float64 { return l.R },
		func(l colour.Linear) float64 { return l.G },
		func(l colour.Linear) float64 { return l.B },
	} {
		values := make([]float64, len(looks))
		for i, l := range looks {
			values[i] = channel(l)
		}
		mid := median(values)
		for i, v := range values {
			values[i] = math.Abs(v - mid)
		}
		s := 1.4826 * median(values)
		sum += s * s
	}
	return math.Sqrt(sum / 3)
}

func median(values []float64) float64 {
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

// twoGroups tells whether looks in order of lightness fall apart: a gap between
// two groups, each of a sixth of them at least, much wider than either.
func twoGroups(sorted []colour.Linear) bool {
	least := max(2, len(sorted)/6)
	for i := least; i <= len(sorted)-least; i++ {
		low, high := sorted[:i], sorted[i:]
		gap := high[0].Y() - low[i-1].Y()
		width := max(high[len(high)-1].Y()-high[0].Y(), low[i-1].Y()-low[0].Y())
		if gap > 0.08 && gap > width {
			return true
		}
	}
	return false
}
