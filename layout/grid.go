package layout

import (
	"fmt"
	"math"
)

// MaxDots is the most dots a raster may have.
const MaxDots = 400_000_000

// Grid is a raster's dots: columns, rows, and the distance between neighbours.
type Grid struct {
	Cols, Rows int
	Pitch      MM
}

// Grid gives the whole number of dots that comes nearest to the area, at least
// one each way. More than MaxDots, and a pitch outside MinPitch..MaxPitch, are
// refused.
func (a Area) Grid(pitch MM) (Grid, error) {
	if err := validatePitch(pitch); err != nil {
		return Grid{}, err
	}
	if err := a.Size.Validate(); err != nil {
		return Grid{}, fmt.Errorf("picture area: %w", err)
	}
	g := a.Size.dots(pitch)
	if g.Dots() > MaxDots {
		return Grid{}, fmt.Errorf("picture area %s at %g mm pitch makes %d million dots, more than 400 million: choose a pitch of %s or more, or a smaller picture area",
			Millimetre.FormatSize(a.Size), float64(pitch), g.Dots()/1e6, Millimetre.Format(a.Size.finestPitch()))
	}
	return g, nil
}

// dots fills a size with the nearest whole number of dots.
func (s Size) dots(pitch MM) Grid {
	nearest := func(side MM) int { return max(1, int(math.Round(float64(side/pitch)))) }
	return Grid{Cols: nearest(s.W), Rows: nearest(s.H), Pitch: pitch}
}

// finestPitch is the finest pitch, in whole hundredths of a millimetre, at which
// a size stays within MaxDots.
func (s Size) finestPitch() MM {
	// Rounding to whole dots may go down on both sides, so that the next finer one
	// is just possible.
	hundredths := max(1, math.Ceil(100*math.Sqrt(float64(s.W*s.H)/MaxDots))-1)
	for {
		pitch := MM(hundredths / 100)
		if s.dots(pitch).Dots() <= MaxDots {
			return pitch
		}
		hundredths++
	}
}

// Size is the true size of the raster, each dot a pitch wide and high.
func (g Grid) Size() Size { return Size{MM(g.Cols) * g.Pitch, MM(g.Rows) * g.Pitch} }

// Dots is how many dots the raster has.
func (g Grid) Dots() int64 { return int64(g.Cols) * int64(g.Rows) }
