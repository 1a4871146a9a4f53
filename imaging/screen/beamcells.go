package screen

import (
	"context"
	"image"
	"math/bits"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// BeamCells is the table for a machine's beam on a raster of the given pitch,
// 0.01..1 mm. burned is the share of an even area that is burned at a dose, which
// is given as a share of the mean dose of a fully burned field: 0 at 0, between 0 and
// 1, and never falling; doses up to twice that of the field occur. nil is
// HalfDose.
//
// Light from dots past the eight neighbours counts as if so many of those burned
// as do of the pattern's nine. That is exact for a lone dot and for a full area, and
// keeps tints within 1 % up to a beam of 2.5 pitches.
func BeamCells(ctx context.Context, m burn.Machine, pitch layout.MM, burned func(dose float64) float64) (*CellTable, error) {
	if burned == nil {
		burned = HalfDose
	}
	const leastGrid = 4
	exposer, err := burn.NewExposer(m, pitch, max(leastGrid, burn.ChooseGrid(m, pitch)))
	if err != nil {
		return nil, err
	}
	lone, field, err := exposeCells(ctx, exposer)
	if err != nil {
		return nil, err
	}
	var shares [Patterns]float64
	for p := range shares {
		density := float64(bits.OnesCount(uint(p))) / 9
		for i, further := range field {
			dose := 0.0
			for bit := range 9 {
				further -= lone[bit][i]
				dose += float64(p>>bit&1) * lone[bit][i]
			}
			dose += density * max(0, further)
			shares[p] += burned(dose) / float64(len(field))
		}
	}
	return NewCellTable(&shares)
}

// HalfDose burns from half the dose of a fully burned field upwards.
func HalfDose(dose float64) float64 {
	if dose < 0.5 {
		return 0
	}
	return 1
}

// exposeCells gives the doses at the points of a cell from one burned dot, by the
// dot's bit in a pattern, and from a field that is burned all over.
func exposeCells(ctx context.Context, e *burn.Exposer) (lone [9][]float64, field []float64, err error) {
	k := e.Grid()
	dot := plane.NewBits(1, 1)
	dot.Set(0, 0)
	err = e.Expose(ctx, burn.OneBit(dot), image.Rect(-1, -1, 2, 2), nil, func(row int, doses []float32) error {
		for x := range 3 {
			bit := dotBit(1-x, 1-row/k) // a cell to the right of the dot has it to its left
			for _, d := range doses[x*k : (x+1)*k] {
				lone[bit] = append(lone[bit], float64(d))
			}
		}
		return nil
	})
	if err != nil {
		return lone, nil, err
	}
	along, across := e.Reach()
	all := plane.NewBits(2*along+1, 2*across+1)
	for y := range all.H {
		for x := range all.W {
			all.Set(x, y)
		}
	}
	err = e.Expose(ctx, burn.OneBit(all), image.Rect(along, across, along+1, across+1), nil, func(_ int, doses []float32) error {
		for _, d := range doses {
			field = append(field, float64(d))
		}
		return nil
	})
	return lone, field, err
}
