package session

import (
	"context"

	"undercoat/imaging/job"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// Depths is what comes out at which dose, and how much of the picture gets it.
type Depths struct {
	Generation uint64
	Ribbon     *proof.Ribbon
	// Shares is the share of the picture area that gets each dose, in equal bins from
	// none to the ribbon's end.
	Shares []float64
	// Steps are the doses that dots reach in each of the rasters which are burned one
	// after another; nil where there is one.
	Steps []float64
	Full  proof.Cut // through an even, fully burned field at the setting
	Err   error     // nothing could be found out; the others are unset
}

const (
	ribbonWide = 1024 // steps of the ribbon
	ribbonBins = 120
	// overviewLong is the longer side, in points, of the picture that is counted: a
	// share of it is off by less than a bar's height tells.
	overviewLong = 384
)

type (
	ribbonKey  struct{ recipe proof.Recipe }
	matchedKey struct { // of the doses where colours are matched
		raster rasterKey
		tints  *proof.TintTable
		ribbon *proof.Ribbon
	}
	colourViewKey struct {
		colours *plane.RGB16
		crop    layout.Crop
		w, h    int
	}
)

// depths works out what the depth ribbon shows; overview is the tints of the whole
// picture area, or nil where colours are matched.
func (r *renderer) depths(ctx context.Context, st state, overview *plane.Grey16) (Depths, error) {
	table, err := r.tintsOf(ctx, st)
	if err != nil {
		return Depths{}, err
	}
	key := ribbonKey{table.Recipe()}
	key.recipe.Setting.PowerPercent = 0 // the ribbon goes over all powers
	ribbon, err := r.ribbon.get(key, func() (*proof.Ribbon, error) { return table.Ribbon(table.RibbonEnd(), ribbonWide) })
	if err != nil {
		return Depths{}, err
	}
	d := Depths{Ribbon: ribbon, Full: ribbon.At(table.Recipe().FullDose())}
	if overview != nil {
		d.Shares = table.DoseShares(overview, ribbon.FullJCM2, ribbonBins)
		return d, nil
	}
	v, dots, err := r.rasterKeyOf(ctx, st)
	if err != nil {
		return Depths{}, err
	}
	d.Steps = v.Looks.DosesJCM2()
	d.Shares, err = r.doses.get(matchedKey{dots, table, ribbon}, func() ([]float64, error) {
		return r.matchedShares(ctx, st, v, ribbon.FullJCM2)
	})
	return d, err
}

// matchedShares counts the doses of a picture that is matched by colour, on a small view
// of it.
func (r *renderer) matchedShares(ctx context.Context, st state, v *job.Developed, fullJCM2 float64) ([]float64, error) {
	f := wholeFrame(st, overviewLong)
	crop := st.doc.Picture.Crop
	colours, err := r.small16.get(colourViewKey{v.Colours, crop, f.W, f.H}, func() (*plane.RGB16, error) {
		return resample.View(ctx, v.Colours, crop, f.W, f.H)
	})
	if err != nil {
		return nil, err
	}
	raster, err := v.MatchedRaster(ctx, colours, f.Part.onPicture(st, colours.W), f.Part.Of(st.placement().Area))
	if err != nil {
		return nil, err
	}
	src, recipe, err := raster.Burning(st.doc.Recipe())
	if err != nil {
		return nil, err
	}
	return proof.ExposedShares(ctx, recipe, src, fullJCM2, ribbonBins)
}

// overview is the tints of the whole picture area, small; nil where colours are
// matched.
func (r *renderer) overview(ctx context.Context, st state) (*plane.Grey16, error) {
	if st.pic != nil && st.doc.Match.ByColour() {
		return nil, nil
	}
	table, err := r.tintsOf(ctx, st)
	if err != nil {
		return nil, err
	}
	f := wholeFrame(st, overviewLong)
	return r.points(ctx, st, f, overviewSlot, table)
}

// wholeFrame shows the whole picture area, long pixels on its longer side.
func wholeFrame(st state, long int) Frame {
	size := st.placement().Area.Size
	perMM := float64(long) / float64(max(size.W, size.H))
	return Frame{Part: Whole, W: max(1, int(float64(size.W)*perMM+0.5)), H: max(1, int(float64(size.H)*perMM+0.5))}
}

// points is a frame's picture as tints under a table, with the lettering over it. The
// tones follow the table, as they would if its setting were chosen.
func (r *renderer) points(ctx context.Context, st state, f Frame, slot int, table *proof.TintTable) (*plane.Grey16, error) {
	area := f.Part.Of(st.placement().Area)
	letters, err := r.lettersOf(st)
	if err != nil {
		return nil, err
	}
	if st.pic == nil {
		return job.LetteredView(ctx, *letters, plane.NewGrey16(f.W, f.H), area)
	}
	light, err := r.lightOf(ctx, st)
	if err != nil {
		return nil, err
	}
	view, err := r.view(ctx, light, f.Part.crop(st.doc.Picture.Crop), f, slot)
	if err != nil {
		return nil, err
	}
	toning, err := r.toningOf(ctx, st, light)
	if err != nil {
		return nil, err
	}
	tones, err := r.tonesOf(st, table)
	if err != nil {
		return nil, err
	}
	tints, err := st.doc.ViewTints(ctx, view, toning, f.Part.onPicture(st, view.W), tones)
	if err != nil {
		return nil, err
	}
	return job.LetteredView(ctx, *letters, tints, area)
}
