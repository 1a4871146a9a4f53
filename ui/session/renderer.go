package session

import (
	"context"
	"image"
	"reflect"

	"undercoat/imaging/colour"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// renderer makes the easel's pictures and keeps what one has in common with the
// next. It belongs to the worker's goroutine alone.
type renderer struct {
	light   kept[lightKey, *plane.Grey16]
	colours kept[lightKey, *plane.RGB16]
	small   [slots]kept[smallKey, *plane.Grey16]
	views   [slots]kept[viewKey, *plane.Grey16]
	tints   kept[proof.Recipe, *proof.TintTable]
	burned  kept[proof.Recipe, *proof.TintTable] // as the burn comes out, where that is not as set
	ribbon  kept[ribbonKey, *proof.Ribbon]
	small16 kept[colourViewKey, *plane.RGB16] // of the whole, of what is matched by colour
	doses   kept[matchedKey, []float64]       // of what is matched by colour
	toning  kept[toningKey, *picture.Toning]
	tones   kept[toneKey, *[1 << 16]uint16]
	looks   kept[looksKey, *job.Looks]
	letters kept[lettersKey, *[]lettering.Placed]
	raster  kept[rasterKey, *job.Raster]
}

// Views are kept in a slot for each frame and one for the overview.
const (
	frameSlots   = 2
	overviewSlot = frameSlots
	slots        = frameSlots + 1
)

// Each key is all that the value depends on. Values that are kept themselves
// stand in a key by their address.
type (
	lightKey struct {
		pic     *picture.Picture
		turn    picture.Turn
		angle   float64
		corners [4]layout.PicturePoint // zero: none
		under   colour.Stored
		mix     picture.Mix
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
	toningKey struct {
		light *plane.Grey16
		crop  layout.Crop
		tone  picture.Tone
		area  layout.Size
	}
	toneKey struct {
		tints *proof.TintTable
		tone  picture.Tone
		burns job.Burns
		tones job.Tones
	}
	looksKey struct {
		tints *proof.TintTable
		match job.Match
	}
	lettersKey struct {
		lines []lettering.Line
		fonts []job.FontFile
	}
	rasterKey struct {
		light     *plane.Grey16
		colours   *plane.RGB16
		crop      layout.Crop
		tones     *[1 << 16]uint16
		looks     *job.Looks
		tone      picture.Tone // what tones does not hold of it
		fade      picture.Fade
		letters   *[]lettering.Placed
		placement layout.Placement
		screen    screen.Options
	}
)

func newRenderer() *renderer {
	r := &renderer{}
	r.light.same = equal[lightKey]
	for i := range r.views {
		r.small[i].same = equal[smallKey]
		r.views[i].same = equal[viewKey]
	}
	r.colours.same = equal[lightKey]
	r.tints.same = func(a, b proof.Recipe) bool { return reflect.DeepEqual(a, b) }
	r.burned.same = r.tints.same
	r.ribbon.same = func(a, b ribbonKey) bool { return reflect.DeepEqual(a, b) }
	r.small16.same = equal[colourViewKey]
	r.doses.same = equal[matchedKey]
	r.toning.same = equal[toningKey]
	r.tones.same = equal[toneKey]
	r.looks.same = equal[looksKey]
	r.letters.same = func(a, b lettersKey) bool { return reflect.DeepEqual(a, b) }
	r.raster.same = equal[rasterKey]
	return r
}

// quick makes the picture that follows a change at once: the toned picture, or
// the proof by the tint table. Dots have no quick picture: until they are there
// the toned picture stands in. nth is the frame's place among those shown.
func (r *renderer) quick(ctx context.Context, st state, f Frame, nth int) (*image.RGBA, error) {
	if f.View == ProofView && st.pic != nil && st.doc.Match.ByColour() {
		return r.matched(ctx, st, f)
	}
	tints, err := r.tintsOf(ctx, st)
	if err != nil {
		return nil, err
	}
	if f.View == ProofView {
		points, err := r.points(ctx, st, f, nth%frameSlots, tints)
		if err != nil {
			return nil, err
		}
		return r.paint(ctx, st, tints, points)
	}
	area := f.Part.Of(st.placement().Area)
	letters, err := r.lettersOf(st)
	if err != nil {
		return nil, err
	}
	if st.pic == nil {
		return letteredPicture(ctx, job.White(f.W, f.H), area, *letters, false)
	}
	light, err := r.lightOf(ctx, st)
	if err != nil {
		return nil, err
	}
	view, err := r.view(ctx, light, f.Part.crop(st.doc.Picture.Crop), f, nth%frameSlots)
	if err != nil {
		return nil, err
	}
	toning, err := r.toningOf(ctx, st, light)
	if err != nil {
		return nil, err
	}
	toned, err := st.doc.TonedView(ctx, view, toning, f.Part.onPicture(st, view.W))
	if err != nil {
		return nil, err
	}
	return letteredPicture(ctx, toned, area, *letters, st.doc.BrightBurns(tints))
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
	raster, err := r.rasterOf(ctx, st)
	if err != nil {
		return nil, err
	}
	region := f.Part.dots(raster.Size())
	if f.View == DotsView {
		return raster.Picture(ctx, region, f.W, f.H)
	}
	recipe, err := st.burning()
	if err != nil {
		return nil, err
	}
	src, recipe, err := raster.Burning(recipe)
	if err != nil {
		return nil, err
	}
	return proof.Exact(ctx, recipe, src, region, f.W, f.H, nil)
}

func lightKeyOf(st state) lightKey {
	p := st.doc.Picture
	key := lightKey{pic: st.pic, turn: p.Turn(), angle: p.StraightenDegrees, under: p.UnderClear, mix: p.Mix}
	if p.Corners != nil {
		key.corners = *p.Corners
	}
	return key
}

func (r *renderer) lightOf(ctx context.Context, st state) (*plane.Grey16, error) {
	return r.light.get(lightKeyOf(st), func() (*plane.Grey16, error) { return st.doc.Picture.Light(ctx, st.pic) })
}

func (r *renderer) coloursOf(ctx context.Context, st state) (*plane.RGB16, error) {
	key := lightKeyOf(st)
	key.mix = picture.Mix{} // colours are not mixed
	return r.colours.get(key, func() (*plane.RGB16, error) { return st.doc.Picture.Colours(ctx, st.pic) })
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

func (r *renderer) toningOf(ctx context.Context, st state, light *plane.Grey16) (*picture.Toning, error) {
	p := st.doc.Picture
	return r.toning.get(toningKey{light, p.Crop, p.Tone, st.placement().Area.Size}, func() (*picture.Toning, error) {
		return st.doc.Toning(ctx, light)
	})
}

func (r *renderer) tonesOf(st state, tints *proof.TintTable) (*[1 << 16]uint16, error) {
	p := st.doc.Picture
	return r.tones.get(toneKey{tints, p.Tone, p.Burns, p.Tones}, func() (*[1 << 16]uint16, error) {
		return st.doc.ToneTable(tints)
	})
}

func (r *renderer) looksOf(ctx context.Context, st state, tints *proof.TintTable) (*job.Looks, error) {
	return r.looks.get(looksKey{tints, st.doc.Match}, func() (*job.Looks, error) { return st.doc.Looks(ctx, tints) })
}

func (r *renderer) lettersOf(st state) (*[]lettering.Placed, error) {
	return r.letters.get(lettersKey{st.doc.Lettering, st.doc.Fonts}, func() (*[]lettering.Placed, error) {
		placed, err := st.doc.Letters(st.fonts)
		return &placed, err
	})
}

// developed puts together what the raster is made of.
func (r *renderer) developed(ctx context.Context, st state) (*job.Developed, *[]lettering.Placed, error) {
	v := &job.Developed{Document: st.doc}
	letters, err := r.lettersOf(st)
	if err != nil {
		return nil, nil, err
	}
	v.Letters = *letters
	if v.Table, err = r.tintsOf(ctx, st); err != nil || st.pic == nil {
		return v, letters, err
	}
	if v.Light, err = r.lightOf(ctx, st); err != nil {
		return nil, nil, err
	}
	if v.Tones, err = r.tonesOf(st, v.Table); err != nil || !st.doc.Match.ByColour() {
		return v, letters, err
	}
	if v.Colours, err = r.coloursOf(ctx, st); err != nil {
		return nil, nil, err
	}
	v.Looks, err = r.looksOf(ctx, st, v.Table)
	return v, letters, err
}

func (r *renderer) rasterOf(ctx context.Context, st state) (*job.Raster, error) {
	v, key, err := r.rasterKeyOf(ctx, st)
	if err != nil {
		return nil, err
	}
	return r.raster.get(key, func() (*job.Raster, error) {
		raster, err := v.Raster(ctx, key.placement)
		return &raster, err
	})
}

func (r *renderer) rasterKeyOf(ctx context.Context, st state) (*job.Developed, rasterKey, error) {
	v, letters, err := r.developed(ctx, st)
	if err != nil {
		return nil, rasterKey{}, err
	}
	p := st.doc.Picture
	return v, rasterKey{v.Light, v.Colours, p.Crop, v.Tones, v.Looks, p.Tone, p.Fade, letters, st.placement(), v.Table.Recipe().Screen}, nil
}

// madeRaster is the state's raster if it is there already; nil if it is not.
func (r *renderer) madeRaster(ctx context.Context, st state) *job.Raster {
	if _, key, err := r.rasterKeyOf(ctx, st); err == nil && r.raster.has(key) {
		return r.raster.value
	}
	return nil
}

// paint is the instant proof of tints, as the burn comes out.
func (r *renderer) paint(ctx context.Context, st state, tints *proof.TintTable, points *plane.Grey16) (*image.RGBA, error) {
	if st.burn != "" {
		recipe, err := st.burning()
		if err != nil {
			return nil, err
		}
		if tints, err = r.burned.get(recipe, func() (*proof.TintTable, error) { return tints.With(ctx, recipe) }); err != nil {
			return nil, err
		}
	}
	return tints.Paint(ctx, points)
}

// borrow takes over from another renderer what a state has in common with its own.
func (r *renderer) borrow(from *renderer, st state) {
	if key := lightKeyOf(st); !r.light.has(key) && from.light.has(key) {
		r.light, r.small = from.light, from.small
	}
	if r.tints.value == nil {
		r.tints.value = from.tints.value // to begin from
	}
}
