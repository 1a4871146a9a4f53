package proof

import (
	"context"
	"image"
	"sync"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
)

// ExposedShares is the share of a raster's area that gets each dose, in equal bins from
// none to fullJCM2, with each dot exposed among its neighbours. What gets more counts in
// the last bin. It is for rasters of any kind and takes as long as their exact proof; for
// dots of one power see [TintTable.DoseShares].
func ExposedShares(ctx context.Context, r Recipe, raster burn.Source, fullJCM2 float64, bins int) ([]float64, error) {
	if err := r.Validate(); err != nil {
		return nil, err
	}
	out := make([]float64, max(1, bins))
	w, h := raster.Size()
	if w == 0 || h == 0 || !(fullJCM2 > 0) {
		return out, nil
	}
	k := r.grid()
	exposer, err := r.exposer(k)
	if err != nil {
		return nil, err
	}
	perShare := float32(float64(len(out)) / fullJCM2 * r.FullDose())
	counts, total := make([]int, len(out)), sync.Mutex{}
	err = plane.SplitRows(ctx, h, func(ctx context.Context, y0, y1 int) error {
		own := make([]int, len(out))
		err := exposer.Expose(ctx, raster, image.Rect(0, y0, w, y1), nil, func(_ int, shares []float32) error {
			for _, s := range shares {
				own[min(int(s*perShare), len(own)-1)]++
			}
			return nil
		})
		total.Lock()
		defer total.Unlock()
		for i, n := range own {
			counts[i] += n
		}
		return err
	})
	for i, n := range counts {
		out[i] = float64(n) / (float64(w*k) * float64(h*k))
	}
	return out, err
}
