package job

import (
	"context"
	"runtime"
	"sync"

	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// Developed is a job whose picture has been taken to linear light and whose tones
// are worked out: what every raster and proof of it starts from.
type Developed struct {
	Document Document
	Letters  []lettering.Placed
	Table    *proof.TintTable // looks of even tints at the job's setting

	// Without a picture the rest is nil.
	Light   *plane.Grey16    // the turned and straightened picture in linear light
	Tones   *[1 << 16]uint16 // light to tints: see Document.ToneTable
	Colours *plane.RGB16     // the same picture in colour, where colours are matched
	Looks   *Looks           // what they are matched with
}

// largePicture is how many pixels make it worth some milliseconds to give back a
// decoded picture's room at once.
const largePicture = 24_000_000

// Develop decodes the picture, unless pic holds it already, places the lettering and
// works out the tones. Decoding is one core's work: the tint table is made beside it.
func (j *Job) Develop(ctx context.Context, pic *picture.Picture) (*Developed, error) {
	v := &Developed{Document: j.Document}
	given := pic != nil
	var tableErr error
	var beside sync.WaitGroup
	beside.Go(func() { tableErr = v.makeTable(ctx, j.Fonts) })
	pic, err := v.makeLight(ctx, j, pic)
	beside.Wait()
	if err != nil {
		return nil, err
	}
	if tableErr != nil || pic == nil {
		return v, tableErr
	}
	if v.Tones, err = v.Document.ToneTable(v.Table); err != nil {
		return v, err
	}
	if !v.Document.Match.ByColour() {
		if !given && len(v.Light.Pix) > largePicture {
			runtime.GC() // the decoded picture's room serves the dots
		}
		return v, nil
	}
	if v.Colours, err = v.Document.Picture.Colours(ctx, pic); err != nil {
		return nil, err
	}
	v.Looks, err = v.Document.Looks(ctx, v.Table)
	return v, err
}

// makeTable makes what needs no picture.
func (v *Developed) makeTable(ctx context.Context, fonts map[string][]byte) (err error) {
	if v.Letters, err = v.Document.Letters(fonts); err != nil {
		return err
	}
	v.Table, err = proof.NewTintTable(ctx, v.Document.Recipe())
	return err
}

// makeLight decodes the picture, unless it is given, and takes it to linear light;
// without a picture there is none.
func (v *Developed) makeLight(ctx context.Context, j *Job, pic *picture.Picture) (*picture.Picture, error) {
	if pic == nil {
		var err error
		if pic, err = j.Open(ctx); err != nil {
			return nil, err
		}
	}
	if err := v.Document.CheckCrop(pic); err != nil || pic == nil {
		return nil, err
	}
	var err error
	v.Light, err = v.Document.Picture.Light(ctx, pic)
	return pic, err
}

// pictureDots is the picture screened on a grid, without the lettering.
func (v *Developed) pictureDots(ctx context.Context, g layout.Grid) (*plane.Bits, error) {
	if v.Light == nil {
		return plane.NewBits(g.Cols, g.Rows), nil
	}
	options := v.Table.Recipe().Screen
	if v.Document.needsWholeTints() {
		tints, err := v.Document.Tints(ctx, v.Light, v.Tones, g)
		if err != nil {
			return nil, err
		}
		return screen.Screen(ctx, tints, options)
	}
	return v.streamedDots(ctx, g, options)
}

// streamedDots screens each row of tints as it comes: one core screens while the
// others make the rows that follow.
func (v *Developed) streamedDots(ctx context.Context, g layout.Grid, o screen.Options) (*plane.Bits, error) {
	s, err := screen.New(g.Cols, o)
	if err != nil {
		return nil, err
	}
	dots := plane.NewBits(g.Cols, g.Rows)
	tint := func(row []uint16) {
		for x, light := range row {
			row[x] = v.Tones[light]
		}
	}
	err = resample.Stream(ctx, v.Light, v.Document.Picture.Crop, g.Cols, g.Rows, tint, func(y int, tints []uint16) error {
		s.Row(tints, dots.Row(y))
		return nil
	})
	if err != nil {
		return nil, err
	}
	return dots, nil
}
