package picture

import (
	"context"
	"math"

	"undercoat/imaging/plane"
)

// apply takes a part of the area through the curves.
func (s *localSurvey) apply(ctx context.Context, to, light *plane.Grey16, p Part) error {
	columns := make([]between, light.W)
	for x := range columns {
		columns[x] = betweenTiles(p.x(x), s.width, s.across)
	}
	return plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := betweenTiles(p.y(y), s.height, s.down)
			s.row(to.Row(y), light.Row(y), columns, row)
		}
		return nil
	})
}

// between is a place along one axis: past the centre of tile `before` by a share of
// the way to the centre of tile `after`.
type between struct {
	before, after int32
	share         float32
}

// betweenTiles finds a place, in mm, among tiles of a size. Before the first centre
// there is the first tile alone, past the last the last.
func betweenTiles(mm, size float64, tiles int) between {
	p := math.Min(math.Max(mm/size-0.5, 0), float64(tiles-1))
	before := math.Floor(p)
	return between{int32(before), int32(min(int(before)+1, tiles-1)), float32(p - before)}
}

// row mixes the curves of the four tiles about each pixel. The conversions keep
// the compiler from fusing products into sums.
func (s *localSurvey) row(to, light []uint16, columns []between, row between) {
	lightness := lightnesses()
	above := s.curves[int(row.before)*s.across:][:s.across]
	below := s.curves[int(row.after)*s.across:][:s.across]
	for x, v := range light[:len(to)] {
		l := lightness[v]
		bin := min(l/perBin, localBins-1)
		part := float32(l-bin*perBin) / perBin
		c := &columns[x]
		high := mixed(above[c.before].at(bin, part), above[c.after].at(bin, part), c.share)
		low := mixed(below[c.before].at(bin, part), below[c.after].at(bin, part), c.share)
		to[x] = lightOf(float64(mixed(high, low, row.share)) * lightest)
	}
}

// at is where the curve takes a place within a bin, 0..1 of the way through it.
func (c *tileCurve) at(bin int32, part float32) float32 { return mixed(c[bin], c[bin+1], part) }

func mixed(a, b, share float32) float32 { return a + float32((b-a)*share) }
