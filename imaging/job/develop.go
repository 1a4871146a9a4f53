package job

import (
	"context"

	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// Developed is a job whose picture has been taken to linear light and whose tones
// are worked out: what every raster and proof of it starts from.
type Developed struct {
	Document Document
	Light    *plane.Grey16    // the turned picture in linear light
	Table    *proof.TintTable // looks of even tints at the job's setting
	Tones    *[1 << 16]uint16 // linear light to tints
}

// Develop decodes the picture, unless pic holds it already, and works out the
// tones.
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
	table, err := proof.NewTintTable(ctx, d.Recipe())
	if err != nil {
		return nil, err
	}
	tones, err := d.ToneTable(table)
	if err != nil {
		return nil, err
	}
	light, err := pic.Grey(ctx, d.Picture.Turn(), d.Picture.UnderClear)
	if err != nil {
		return nil, err
	}
	return &Developed{d, light, table, tones}, nil
}

// Dots is the raster on a grid.
func (v *Developed) Dots(ctx context.Context, g layout.Grid) (*plane.Bits, error) {
	return v.Document.Dots(ctx, v.Light, v.Tones, g)
}
