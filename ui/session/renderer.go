package session

import (
	"context"
	"image"
	"reflect"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// renderer makes the easel's pictures and keeps what one has in common with the
// next. It belongs to the worker's goroutine alone.
type renderer struct {
	light kept[lightKey, *plane.Grey16]
	views [2]kept[viewKey, *plane.Grey16] // one a frame
	tints kept[proof.Recipe, *proof.TintTable]
	tones kept[toneKey, *[1 << 16]uint16]
	dots  kept[dotsKey, *plane.Bits]
}

// Each key is all that the value depends on. Values that are kept themselves
// stand in a key by their address.
type (
	lightKey struct {
		pic   *picture.Picture
		turn  picture.Turn
		under colour.Stored
	}
	viewKey struct {
		light *plane.Grey16
		crop  layout.Crop
		w, h  int
	}
	toneKey struct {
		tints         *proof.TintTable
		mid, contrast float64
		burns         job.Burns
		tones         job.Tones
	}
	dotsKey struct {
		light  *plane.Grey16
		crop   layout.Crop
		tones  *[1 << 16]uint16
		grid   layout.Grid
		screen screen.Options
	}
)

func newRenderer() *renderer {
	r := &renderer{}
	r.light.same = equal[lightKey]
	for i := range r.views {
		r.views[i].same = equal[viewKey]
	}
	r.tints.same = func(a, b proof.Recipe) bool { return reflect.DeepEqual(a, b) }
	r.tones.same = equal[toneKey]
	r.dots.same = equal[dotsKey]
	return r
}

// quick makes the picture that follows a change at once: the toned picture, or
// the proof by the tint table. Dots have no quick picture: until they are there
// the toned picture stands in. nth is the frame's place among those shown.
func (r *renderer) quick(ctx context.Context, st state, f Frame, nth int) (*image.RGBA, error) {
	light, err := r.lightOf(ctx, st)
	if err != nil {
		return nil, err
	}
	crop := f.Part.crop(st.doc.Picture.Crop)
	view, err := r.views[nth%len(r.views)].get(viewKey{light, crop, f.W, f.H}, func() (*plane.Grey16, error) {
		return job.ViewLight(ctx, light, crop, f.W, f.H)
	})
	if err != nil {
		return nil, err
	}
	if f.View != ProofView {
		return st.doc.TonedView(ctx, view)
	}
	tints, err := r.tintsOf(ctx, st)
	if err != nil {
		return nil, err
	}
	tones, err := r.tonesOf(st, tints)
	if err != nil {
		return nil, err
	}
	points, err := job.LookUp(ctx, view, tones)
	if err != nil {
		return nil, err
	}
	return tints.Paint(ctx, points)
}

// exact makes the picture from the dots themselves.
func (r *renderer) exact(ctx context.Context, st state, f Frame) (*image.RGBA, error) {
	dots, err := r.dotsOf(ctx, st)
	if err != nil {
		return nil, err
	}
	region := f.Part.dots(dots.W, dots.H)
	if f.View == DotsView {
		return proof.Dots(ctx, dots, region, f.W, f.H)
	}
	return proof.Exact(ctx, st.doc.Recipe(), dots, region, f.W, f.H, nil)
}

func (r *renderer) lightOf(ctx context.Context, st state) (*plane.Grey16, error) {
	p := st.doc.Picture
	return r.light.get(lightKey{st.pic, p.Turn(), p.UnderClear}, func() (*plane.Grey16, error) {
		return st.pic.Grey(ctx, p.Turn(), p.UnderClear)
	})
}

func (r *renderer) tintsOf(ctx context.Context, st state) (*proof.TintTable, error) {
	recipe := st.doc.Recipe()
	last := r.tints.value
	return r.tints.get(recipe, func() (*proof.TintTable, error) {
		if last != nil {
			return last.With(ctx, recipe)
		}
		return proof.NewTintTable(ctx, recipe)
	})
}

func (r *renderer) tonesOf(st state, tints *proof.TintTable) (*[1 << 16]uint16, error) {
	p := st.doc.Picture
	return r.tones.get(toneKey{tints, p.MidTone, p.Contrast, p.Burns, p.Tones}, func() (*[1 << 16]uint16, error) {
		return st.doc.ToneTable(tints)
	})
}

func (r *renderer) dotsOf(ctx context.Context, st state) (*plane.Bits, error) {
	light, err := r.lightOf(ctx, st)
	if err != nil {
		return nil, err
	}
	tints, err := r.tintsOf(ctx, st)
	if err != nil {
		return nil, err
	}
	tones, err := r.tonesOf(st, tints)
	if err != nil {
		return nil, err
	}
	grid := st.grid()
	key := dotsKey{light, st.doc.Picture.Crop, tones, grid, st.doc.Screen.Options()}
	return r.dots.get(key, func() (*plane.Bits, error) { return st.doc.Dots(ctx, light, tones, grid) })
}
