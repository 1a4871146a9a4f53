package job

import (
	"context"

	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
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

// Develop decodes the picture, unless pic holds it already, places the lettering and
// works out the tones.
func (j *Job) Develop(ctx context.Context, pic *picture.Picture) (*Developed, error) {
	d := j.Document
	if pic == nil {
		var err error
		if pic, err = j.Open(ctx); err != nil {
			return nil, err
		}
	}
	if err := d.CheckCrop(pic); err != nil {
		return nil, err
	}
	v := &Developed{Document: d}
	var err error
	if v.Letters, err = d.Letters(j.Fonts); err != nil {
		return nil, err
	}
	if v.Table, err = proof.NewTintTable(ctx, d.Recipe()); err != nil || pic == nil {
		return v, err
	}
	if v.Tones, err = d.ToneTable(v.Table); err != nil {
		return nil, err
	}
	if v.Light, err = d.Picture.Light(ctx, pic); err != nil || !d.Match.ByColour() {
		return v, err
	}
	if v.Colours, err = d.Picture.Colours(ctx, pic); err != nil {
		return nil, err
	}
	v.Looks, err = d.Looks(ctx, v.Table)
	return v, err
}

// pictureDots is the picture screened on a grid, without the lettering.
func (v *Developed) pictureDots(ctx context.Context, g layout.Grid) (*plane.Bits, error) {
	if v.Light == nil {
		return plane.NewBits(g.Cols, g.Rows), nil
	}
	tints, err := v.Document.Tints(ctx, v.Light, v.Tones, g)
	if err != nil {
		return nil, err
	}
	return screen.Screen(ctx, tints, v.Table.Recipe().Screen)
}
