package suggest

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// Most is how many crops are suggested at the most.
const Most = 3

// Suggestion is a crop and what speaks for it.
type Suggestion struct {
	Crop   layout.Crop
	Widest bool    // as much of the picture as its shape takes in
	Detail float64 // share of the picture's detail inside, 0..1; 0 for a picture without any
	Area   float64 // share of the picture inside, 0..1
	Place  Place   // of the detail inside, in the picture
}

// Why says it in words, for instance "closer, on the detail at the upper left: 62 %
// of it on 30 % of the picture".
func (s Suggestion) Why() string {
	switch {
	case s.Widest && s.Detail == 0:
		return "as much of the picture as fits"
	case s.Widest:
		return fmt.Sprintf("as much of the picture as fits, with %.0f %% of its detail", 100*s.Detail)
	case s.Detail == 0:
		return "closer, on the middle of the picture"
	}
	return fmt.Sprintf("closer, on the detail %s: %.0f %% of it on %.0f %% of the picture", s.Place.words(), 100*s.Detail, 100*s.Area)
}

// Place is one of the nine fields of a picture.
type Place struct {
	Column int // -1 left, 0 middle, 1 right
	Row    int // -1 top, 0 middle, 1 bottom
}

func (p Place) words() string {
	return [3][3]string{
		{"at the upper left", "at the top", "at the upper right"},
		{"on the left", "in the middle", "on the right"},
		{"at the lower left", "at the bottom", "at the lower right"},
	}[p.Row+1][p.Column+1]
}

// What weighs against detail, each as a share of all detail. Common practice, no
// source: chosen by looking at what they do.
const (
	areaCosts   = 0.8  // taking in the whole picture
	cutCosts    = 0.6  // a border through all of the detail
	asideCosts  = 0.1  // lying in a corner of the picture
	closer      = 0.85 // a crop's side to that of the next larger one
	closest     = 0.4  // the least side of a crop to the widest one's
	bandShare   = 1.0 / 30
	mostAlike   = 0.4  // shared area of two crops, over the area of both together
	mostWidest  = 0.75 // the same, of a crop and the widest
	leastSidePx = 8    // the short side, as for any crop
)

// Crops suggests up to three crops of a shape, width over height, best first. No
// two are much alike, and one of them is as wide as the picture allows. A picture
// without detail is cropped about its middle.
func Crops(ctx context.Context, light *plane.Grey16, aspect float64) ([]Suggestion, error) {
	widest := layout.LargestCrop(light.W, light.H, aspect)
	if widest == (layout.Crop{}) {
		return nil, fmt.Errorf("picture of %d x %d pixels and a shape of %g give no crop: open a picture and choose a width over height above 0", light.W, light.H, aspect)
	}
	d, err := detailOf(ctx, light)
	if err != nil {
		return nil, err
	}
	var all []candidate
	for side := 1.0; side >= closest; side *= closer {
		size := layout.Crop{W: widest.W * side, H: widest.H * side}
		if side < 1 && math.Min(size.W, size.H) < leastSidePx {
			break
		}
		all = append(all, d.candidates(size, side == 1)...)
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	var out []Suggestion
	for _, c := range chosen(all) {
		out = append(out, d.suggestion(c))
	}
	return out, nil
}

// candidate is a crop and its worth.
type candidate struct {
	crop   layout.Crop
	widest bool
	worth  float64
}

// candidates is the crops of a size at all places a cell of the small copy apart.
func (d *detail) candidates(size layout.Crop, widest bool) []candidate {
	steps := func(side, crop float64, cells int) int { return int(math.Ceil((side - crop) / side * float64(cells))) }
	across, down := steps(d.width, size.W, d.cols), steps(d.height, size.H, d.rows)
	if d.even {
		across, down = 0, 0 // the middle is as good as any
	}
	at := func(i, n int, free float64) float64 {
		if n == 0 {
			return free / 2
		}
		return free * float64(i) / float64(n)
	}
	var out []candidate
	for j := range down + 1 {
		for i := range across + 1 {
			c := layout.Crop{X: at(i, across, d.width-size.W), Y: at(j, down, d.height-size.H), W: size.W, H: size.H}
			out = append(out, candidate{c, widest, d.worth(c)})
		}
	}
	return out
}

// worth is the detail in a crop less what it costs.
func (d *detail) worth(c layout.Crop) float64 {
	area := c.W * c.H / (d.width * d.height)
	band := bandShare * math.Max(d.width, d.height)
	outer, inner := widened(c, band), widened(c, -band)
	cut := math.Max(0, d.in(outer)-d.in(inner)-(d.areaIn(outer)-d.areaIn(inner)))
	aside := math.Hypot((c.X+c.W/2)/d.width-0.5, (c.Y+c.H/2)/d.height-0.5) * math.Sqrt2
	return d.in(c) - areaCosts*area - cutCosts*cut - asideCosts*aside
}

func widened(c layout.Crop, by float64) layout.Crop {
	by = math.Max(by, -math.Min(c.W, c.H)/2)
	return layout.Crop{X: c.X - by, Y: c.Y - by, W: c.W + 2*by, H: c.H + 2*by}
}

// chosen is the best of the widest crops and the most worthy of the closer ones,
// none much like another, in the order of their worth.
func chosen(all []candidate) []candidate {
	out := []candidate{best(all, func(c candidate) bool { return c.widest })}
	for len(out) < Most {
		next := best(all, func(c candidate) bool { return !c.widest && unlike(c, out) })
		if next.crop == (layout.Crop{}) {
			break
		}
		out = append(out, next)
	}
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(b.worth, a.worth) })
	return out
}

// best is the first of the most worthy that qualify; the zero candidate when none do.
func best(all []candidate, qualifies func(candidate) bool) candidate {
	var best candidate
	for _, c := range all {
		if (best.crop == layout.Crop{} || c.worth > best.worth) && qualifies(c) {
			best = c
		}
	}
	return best
}

func unlike(c candidate, others []candidate) bool {
	for _, o := range others {
		w := math.Min(c.crop.X+c.crop.W, o.crop.X+o.crop.W) - math.Max(c.crop.X, o.crop.X)
		h := math.Min(c.crop.Y+c.crop.H, o.crop.Y+o.crop.H) - math.Max(c.crop.Y, o.crop.Y)
		shared := math.Max(w, 0) * math.Max(h, 0)
		most := mostAlike
		if o.widest {
			most = mostWidest
		}
		if shared > most*(c.crop.W*c.crop.H+o.crop.W*o.crop.H-shared) {
			return false
		}
	}
	return true
}

func (d *detail) suggestion(c candidate) Suggestion {
	s := Suggestion{Crop: c.crop, Widest: c.widest, Area: c.crop.W * c.crop.H / (d.width * d.height)}
	if d.even {
		return s
	}
	s.Detail = d.in(c.crop)
	x, y := d.centre(c.crop)
	field := func(at, side float64) int { return min(int(3*at/side), 2) - 1 }
	s.Place = Place{field(x, d.width), field(y, d.height)}
	return s
}

// small is the small copy's long side, in pixels.
const small = 192

func reduced(ctx context.Context, light *plane.Grey16) (*plane.Grey16, error) {
	whole := layout.Crop{W: float64(light.W), H: float64(light.H)}
	return resample.GreyView(ctx, light, whole, min(small, light.W), min(small, light.H))
}
