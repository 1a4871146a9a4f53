package burn

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/coat"
	"undercoat/imaging/strict"
	"undercoat/layout"
)

// ExposeRelative is Expose at a dose of 1 for a fully burned field: for callers
// who look at one raster at several powers and speeds, as doses scale. Callers
// with many regions keep an [Exposer].
func ExposeRelative(ctx context.Context, m Machine, pitch layout.MM, src Source, region image.Rectangle, k int, emit func(row int, shares []float32) error) error {
	e, err := NewExposer(m, pitch, k)
	if err != nil {
		return err
	}
	return e.Expose(ctx, src, region, nil, emit)
}

// Expose calls emit with each row of the region's dose map, in order from the
// top: k*region.Dy() rows of k*region.Dx() effective doses in J/cm2 at the middles
// of the sub-cells, passes folded in as Dose does. The slice is overwritten after
// emit returns.
//
// It runs in one goroutine and holds a few rows. To use all cores, split the
// raster into bands of rows with [plane.SplitRows], one call a band: a dose does
// not depend on the region, to the last bit. The region may reach beyond the
// raster, where no dot burns. A machine or setting out of range, a k outside
// 1..MaxGrid, an error of emit and the end of ctx are errors.
func Expose(ctx context.Context, m Machine, s Setting, passExponent float64, src Source, region image.Rectangle, k int, emit func(row int, dosesJCM2 []float32) error) error {
	if err := m.Validate(); err != nil {
		return fmt.Errorf("machine: %w", err)
	}
	if err := s.Validate(m); err != nil {
		return fmt.Errorf("setting: %w", err)
	}
	if err := strict.Within(strict.In("pass_exponent", passExponent, 0, coat.MaxPassExponent, "(0 reads as 1)")); err != nil {
		return err
	}
	full := float32(Dose(m, s, passExponent))
	return ExposeRelative(ctx, m, s.Pitch, src, region, k, func(row int, doses []float32) error {
		for i := range doses {
			doses[i] *= full
		}
		return emit(row, doses)
	})
}
