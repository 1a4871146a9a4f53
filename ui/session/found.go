package session

import (
	"context"

	"undercoat/imaging/burn"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Found is what the worker learned about the job besides its pictures.
type Found struct {
	Generation uint64

	BurnsWhy string // which parts of the picture burn at this setting, and why
	// Low and High are the shares, 0..1, of the picture that the black and the
	// white point cut off.
	Low, High float64
	// Tones is how much of the picture the tone's curve is given of each lightness:
	// shares in equal bins of L* from 0 to 100.
	Tones []float64

	Letters        []lettering.Placed // the lines of lettering where they lie
	LetterCautions []string           // what of them will not come out as meant

	Err error // something could not be found out; the others are unset
}

// The keys of what is found, as in renderer.
type (
	laidKey struct {
		light *plane.Grey16
		crop  layout.Crop
		noise picture.Noise
		local picture.LocalContrast
		area  layout.Size
	}
	tonesKey struct {
		laid *plane.Grey16
		tone picture.Tone // without its curve
	}
	whyKey struct {
		tints *proof.TintTable
		burns job.Burns
	}
	cautionKey struct {
		letters   *[]lettering.Placed
		placement layout.Placement
		machine   burn.Machine
	}
)

// finder works out what is found. It belongs to the worker's goroutine alone.
type finder struct {
	laid     kept[laidKey, *plane.Grey16]
	tones    kept[tonesKey, []float64]
	why      kept[whyKey, string]
	cautions kept[cautionKey, []string]
}

func newFinder() *finder {
	f := &finder{}
	f.laid.same = equal[laidKey]
	f.tones.same = equal[tonesKey]
	f.why.same = equal[whyKey]
	f.cautions.same = equal[cautionKey]
	return f
}

func (w *worker) find(ctx context.Context, st state) (Found, error) {
	var f Found
	letters, err := w.render.lettersOf(st)
	if err != nil {
		return f, err
	}
	pl := st.placement()
	f.Letters = *letters
	f.LetterCautions, _ = w.finder.cautions.get(cautionKey{letters, pl, st.doc.Machine}, func() ([]string, error) {
		return st.doc.LetterCautions(*letters, pl), nil
	})
	if st.pic == nil {
		return f, nil
	}
	tints, err := w.render.tintsOf(ctx, st)
	if err != nil {
		return f, err
	}
	f.BurnsWhy, _ = w.finder.why.get(whyKey{tints, st.doc.Picture.Burns}, func() (string, error) {
		return st.doc.BurnsWhy(tints), nil
	})
	light, err := w.render.lightOf(ctx, st)
	if err != nil {
		return f, err
	}
	p, area := st.doc.Picture, pl.Area.Size
	laid, err := w.finder.laid.get(laidKey{light, p.Crop, p.Tone.Noise, p.Tone.Local, area}, func() (*plane.Grey16, error) {
		return laidOn(ctx, st.doc, light)
	})
	if err != nil {
		return f, err
	}
	f.Low, f.High = p.Tone.Clipped(laid)
	before := p.Tone
	before.Curve = picture.Curve{}
	f.Tones, err = w.finder.tones.get(tonesKey{laid, before}, func() ([]float64, error) { return before.CurveShares(laid, toneBins) })
	return f, err
}

// toneBins are the bins in which tones are counted: wide enough that each holds several
// of the 256 values that most pictures have.
const toneBins = 50

// laidWide is the width and height of the view on which light is counted.
const laidWide = 512

// laidOn is a view of what the black and the white point are laid on: the crop of
// the picture's light after noise and local contrast.
func laidOn(ctx context.Context, d job.Document, light *plane.Grey16) (*plane.Grey16, error) {
	view, err := job.ViewLight(ctx, light, d.Picture.Crop, laidWide, laidWide)
	if err != nil {
		return nil, err
	}
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return nil, err
	}
	before := picture.Tone{Noise: d.Picture.Tone.Noise, Local: d.Picture.Tone.Local}
	return before.Apply(ctx, view, float64(view.W)/float64(area.Size.W))
}
