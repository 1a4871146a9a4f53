package proof

import (
	"context"
	"fmt"
	"image"

	"undercoat/imaging/plane"
)

// StripProof is one proof of a strip.
type StripProof struct {
	PowerPercent float64
	Table        *TintTable
	Image        *image.RGBA
	// Coverage is the share of the picture on which each coat, from the top
	// down, and then the ground shows.
	Coverage []float64
}

// Strip proofs one picture at several powers. tintsFor gives the picture's tints,
// 0..65535, under a table, so that tone correction can follow the power; it may
// give the same plane every time.
func (t *TintTable) Strip(ctx context.Context, powers []float64, tintsFor func(*TintTable) (*plane.Grey16, error)) ([]StripProof, error) {
	var strip []StripProof
	for _, percent := range powers {
		table, err := t.With(ctx, t.recipe.withPower(percent))
		if err != nil {
			return nil, fmt.Errorf("power strip: %w", err)
		}
		tints, err := tintsFor(table)
		if err != nil {
			return nil, fmt.Errorf("power strip at %g %%: %w", percent, err)
		}
		img, err := table.Paint(ctx, tints)
		if err != nil {
			return nil, err
		}
		strip = append(strip, StripProof{percent, table, img, table.pictureCoverage(tallyOf(tints))})
	}
	return strip, nil
}

// PictureCoverage is the share of a picture of tints on which each coat, from
// the top down, and then the ground shows.
func (t *TintTable) PictureCoverage(tints *plane.Grey16) []float64 {
	return t.pictureCoverage(tallyOf(tints))
}

// tally is the share of a picture in each of the table's tints, the nearest counted.
type tally [tints]float64

func tallyOf(picture *plane.Grey16) *tally {
	var counts [tints]int
	for _, v := range picture.Pix {
		counts[(uint32(v)+128)/257]++
	}
	var t tally
	for i, n := range counts {
		if n > 0 {
			t[i] = float64(n) / float64(len(picture.Pix))
		}
	}
	return &t
}

func (t *TintTable) pictureCoverage(picture *tally) []float64 {
	sum := make([]float64, t.fast.Layers())
	for i, w := range picture {
		if w == 0 {
			continue
		}
		for l, v := range t.shares[i] {
			sum[l] += w * v
		}
	}
	return sum
}
