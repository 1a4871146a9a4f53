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
	"undercoat/imaging/resample"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// renderer makes the easel's pictures and keeps what one has in common with the
// next. It belongs to the worker's goroutine alone.
type renderer struct {
	light kept[lightKey, *plane.Grey16]
	small [2]kept[smallKey, *plane.Grey16] // one a frame
	views [2]kept[viewKey, *plane.Grey16]  // one a frame
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
	smallKey struct {
		light *plane.Grey16
		by    int
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
		r.small[i].same = equal[smallKey]
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
	view, err := r.view(ctx, light, f.Part.crop(st.doc.Picture.Crop), f, nth%len(r.views))
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

// view is the crop of the light on the frame's pixels. While the crop is dragged or
// zoomed it is taken from a smaller copy, which is many times quicker.
func (r *renderer) view(ctx context.Context, light *plane.Grey16, crop layout.Crop, f Frame, nth int) (*plane.Grey16, error) {
	w, h := resample.ViewSize(crop, f.W, f.H)
	return r.views[nth].get(viewKey{light, crop, w, h}, func() (*plane.Grey16, error) {
		by := reduction(crop, w, h)
		small, err := r.small[nth].get(smallKey{light, by}, func() (*plane.Grey16, error) {
			if by == 1 {
				return light, nil
			}
			whole := layout.Crop{W: float64(light.W), H: float64(light.H)}
			return resample.GreyView(ctx, light, whole, light.W/by, light.H/by)
		})
		if err != nil {
			return nil, err
		}
		return resample.ToSize(ctx, small, onto(crop, light, small), w, h)
	})
}

// reduction is the largest power of two by which the light can be made smaller with
// a point of the crop left for each of w x h pixels.
func reduction(crop layout.Crop, w, h int) int {
	by := 1
	for next := 2; crop.W/float64(next) >= float64(w) && crop.H/float64(next) >= float64(h); next *= 2 {
		by = next
	}
	return by
}

// onto is where a crop of a picture lies on a smaller copy of it.
func onto(crop layout.Crop, picture, small *plane.Grey16) layout.Crop {
	fx, fy := float64(small.W)/float64(picture.W), float64(small.H)/float64(picture.H)
	c := layout.Crop{X: crop.X * fx, Y: crop.Y * fy, W: crop.W * fx, H: crop.H * fy}
	// Rounding must not carry it over the edge.
	c.W, c.H = min(c.W, float64(small.W)-c.X), min(c.H, float64(small.H)-c.Y)
	return c
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
