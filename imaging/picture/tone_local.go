package picture

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// LocalContrast raises contrast within each part of the picture by what that part
// has: contrast limited adaptive histogram equalisation, on lightness. The zero
// value does nothing.
//
// The picture area is divided into tiles. The lightnesses of a tile are counted,
// counts above the limit are cut off and dealt out to the other bins, and their
// running sum is the tile's curve. A pixel takes the mean of the four tiles about
// it, by its distance from their centres. Unlike in the paper, curves run straight
// between the edges of the bins, so that there are no steps, black stays black and
// white white. An even area moves by no more than (Limit-1)/1.28 in L*, and less the
// nearer it is to black and white.
// Source: K. Zuiderveld, "Contrast limited adaptive histogram equalization",
// Graphics Gems IV, Academic Press, 1994, VIII.5.
type LocalContrast struct {
	Limit float64   `json:"limit"`   // 1..10: how many times as steep lightness may rise; 1, and 0, for no change
	Tile  layout.MM `json:"tile_mm"` // 2..500: the side of a tile, rounded so that whole tiles fill the area
}

// The ranges of LocalContrast.
const (
	MaxLocalLimit           = 10
	MinLocalTile  layout.MM = 2
	MaxLocalTile  layout.MM = 500
)

func (c LocalContrast) works() bool { return c.Limit > 1 }

// Validate names the first value that is out of its range.
func (c LocalContrast) Validate() error {
	switch {
	case c == LocalContrast{}:
		return nil
	case c.Limit != 0 && !(c.Limit >= 1 && c.Limit <= MaxLocalLimit):
		return fmt.Errorf("local contrast %v is outside 1 to %d: choose how many times as steep tones may rise, 0 or 1 for no change", c.Limit, MaxLocalLimit)
	case !(c.Tile >= MinLocalTile && c.Tile <= MaxLocalTile):
		return fmt.Errorf("local contrast tile %v mm is outside %v to %v mm: choose one in that range, about a tenth of the picture", float64(c.Tile), float64(MinLocalTile), float64(MaxLocalTile))
	}
	return nil
}

// localBins is how many lightnesses are told apart. Source: Zuiderveld 1994, whose
// default it is.
const (
	localBins = 128
	perBin    = lightest / localBins
)

// tileCurve is where a tile takes the lightnesses at the edges of the bins.
type tileCurve [localBins + 1]float32

// fewestInTile is how many pixels a tile keeps along a side when it is counted on
// a reduced picture; about as many as a view has, so that view and raster agree.
const fewestInTile = 32

// localSurvey is the curves of all tiles of an area.
type localSurvey struct {
	across, down  int     // tiles
	width, height float64 // of a tile, mm
	curves        []tileCurve
}

// survey counts the whole area.
func (c LocalContrast) survey(ctx context.Context, light *plane.Grey16, perMM float64) (*localSurvey, error) {
	s := &localSurvey{across: c.tiles(light.W, perMM), down: c.tiles(light.H, perMM)}
	s.width = float64(light.W) / perMM / float64(s.across)
	s.height = float64(light.H) / perMM / float64(s.down)
	s.curves = make([]tileCurve, s.across*s.down)
	cell := max(1, min(light.W/s.across, light.H/s.down)/fewestInTile)
	reduced, err := averaged(ctx, light, cell)
	if err != nil {
		return nil, err
	}
	// Tiles, not rows, are shared out, so that one goroutine counts all of a tile.
	return s, plane.SplitRows(ctx, s.down, func(ctx context.Context, t0, t1 int) error {
		counts := make([][localBins]float64, s.across)
		for t := t0; t < t1; t++ {
			clear(counts)
			y0, y1 := reduced.H*t/s.down, reduced.H*(t+1)/s.down
			for y := y0; y < y1; y++ {
				if err := ctx.Err(); err != nil {
					return err
				}
				count(counts, reduced.Row(y))
			}
			for i := range counts {
				s.curves[t*s.across+i] = c.curve(&counts[i])
			}
		}
		return nil
	})
}

// tiles is how many tiles fill a side of so many pixels, none less than a pixel.
func (c LocalContrast) tiles(side int, perMM float64) int {
	n := int(math.Round(float64(side) / perMM / float64(c.Tile)))
	return max(1, min(n, side))
}

// count adds a row to the counts of the tiles that it crosses.
func count(counts [][localBins]float64, row []uint16) {
	lightness := lightnesses()
	for i := range counts {
		bins := &counts[i]
		for _, v := range row[len(row)*i/len(counts) : len(row)*(i+1)/len(counts)] {
			bins[min(lightness[v]/perBin, localBins-1)]++
		}
	}
}

// curve cuts the counts to the limit and sums them up.
func (c LocalContrast) curve(counts *[localBins]float64) tileCurve {
	total := 0.0
	for _, n := range counts {
		total += n
	}
	dealOut(counts, c.Limit*total/localBins)
	var curve tileCurve
	sum := 0.0
	for i, n := range counts {
		sum += n
		curve[i+1] = float32(sum / total)
	}
	curve[localBins] = 1
	return curve
}

// dealOut cuts counts to the limit, at least their mean, and deals what is over
// out to those below in equal parts, until nothing is over.
func dealOut(counts *[localBins]float64, limit float64) {
	over := 0.0
	for i, n := range counts {
		if n > limit {
			over += n - limit
			counts[i] = limit
		}
	}
	// Each round deals all out or fills a bin up.
	for range localBins {
		below := 0
		for _, n := range counts {
			if n < limit {
				below++
			}
		}
		if below == 0 || over <= 0 {
			return
		}
		each := over / float64(below)
		over = 0
		for i, n := range counts {
			if n >= limit {
				continue
			}
			if counts[i] = n + each; counts[i] > limit {
				over += counts[i] - limit
				counts[i] = limit
			}
		}
	}
}

// averaged is a plane about cell times smaller, in whole cells of whole pixels: a
// count needs no more.
func averaged(ctx context.Context, light *plane.Grey16, cell int) (*plane.Grey16, error) {
	if cell == 1 {
		return light, nil
	}
	out := plane.NewGrey16(light.W/cell, light.H/cell)
	edges := make([]int, out.W+1)
	for x := range edges {
		edges[x] = light.W * x / out.W
	}
	return out, plane.SplitRows(ctx, out.H, func(ctx context.Context, y0, y1 int) error {
		sums := make([]uint64, out.W)
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			top, bottom := light.H*y/out.H, light.H*(y+1)/out.H
			clear(sums)
			for from := top; from < bottom; from++ {
				row := light.Row(from)
				for x := range sums {
					for _, v := range row[edges[x]:edges[x+1]] {
						sums[x] += uint64(v)
					}
				}
			}
			row := out.Row(y)
			for x, sum := range sums {
				n := uint64((bottom - top) * (edges[x+1] - edges[x]))
				row[x] = uint16((sum + n/2) / n)
			}
		}
		return nil
	})
}
