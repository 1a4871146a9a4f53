package fit

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/burn"
	"undercoat/layout"
)

// band is a part of a field burned all over: the logarithm of its dose, as a share
// of the mean dose, and its share of the area.
type band struct{ lnShare, area float64 }

// even is the field of an unknown beam: the mean dose everywhere.
var even = []band{{0, 1}}

// ripple is the dose over one period of a field burned all over, sampled as the
// proof samples it. Along the lines the dose is even, so one dot's column tells
// all; samples of equal dose, on both sides of a line, are one band.
func ripple(ctx context.Context, m burn.Machine, pitch layout.MM) ([]band, error) {
	exposer, err := burn.NewExposer(m, pitch, burn.ChooseGrid(m, pitch))
	if err != nil {
		return nil, err
	}
	k := exposer.Grid()
	along, across := exposer.Reach()
	around := allBurned{2*along + 1, 2*across + 1}
	dot := image.Rect(along, across, along+1, across+1)
	var bands []band
	err = exposer.Expose(ctx, around, dot, nil, func(_ int, shares []float32) error {
		mean := 0.0
		for _, s := range shares {
			mean += float64(s) / float64(k)
		}
		if mean > 0 {
			bands = withBand(bands, math.Log(mean), 1/float64(k))
		}
		return nil
	})
	if err == nil && len(bands) == 0 {
		err = fmt.Errorf("the beam of %q leaves no light at a pitch of %g mm: check the beam's width", m.Name, float64(pitch))
	}
	return bands, err
}

// withBand adds area to the band of the same dose, or a new one.
func withBand(bands []band, lnShare, area float64) []band {
	const alike = 1e-5 // of the dose; the exposure is made in float32
	for i := range bands {
		if math.Abs(bands[i].lnShare-lnShare) < alike {
			bands[i].area += area
			return bands
		}
	}
	return append(bands, band{lnShare, area})
}

// allBurned is a raster of which every dot burns.
type allBurned struct{ w, h int }

func (a allBurned) Size() (w, h int) { return a.w, a.h }

func (a allBurned) ShareRow(_ int, into []float32) {
	for i := range into {
		into[i] = 1
	}
}

// fields keeps the ripple of each machine and pitch, for a chart has many
// swatches and few pitches.
type fields map[fieldKey][]band

type fieldKey struct{ along, across, pitch layout.MM }

func (f fields) of(ctx context.Context, m *burn.Machine, pitch layout.MM) ([]band, error) {
	if m == nil {
		return even, nil
	}
	key := fieldKey{m.BeamAlong, m.BeamAcross, pitch}
	if bands, ok := f[key]; ok {
		return bands, nil
	}
	bands, err := ripple(ctx, *m, pitch)
	if err != nil {
		return nil, err
	}
	f[key] = bands
	return bands, nil
}
