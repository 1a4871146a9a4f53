package compare

import (
	"context"
	"image"
	"time"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/layout"
)

// Options are what a photograph does not tell by itself.
type Options struct {
	// Corners of the panel in the photograph, in pixels of the upright photograph, from
	// the picture's upper left and clockwise. nil: the panel fills it.
	Corners *[4]layout.PicturePoint
	// Progress is told how far the comparison has come, 0 to 1; may be nil.
	Progress func(fraction float64)
}

// Job compares a photograph, the bytes of the file called name, of a panel that j was
// burned into.
func Job(ctx context.Context, j *job.Job, name string, photo []byte, o Options) (*Result, error) {
	pic, err := job.OpenPicture(ctx, name, photo)
	if err != nil {
		return nil, err
	}
	light, err := pic.RGB(ctx, picture.Turn{}, j.Document.Picture.UnderClear)
	if err != nil {
		return nil, err
	}
	v, err := j.Develop(ctx, nil)
	if err != nil {
		return nil, err
	}
	pl, err := j.Document.Placement()
	if err != nil {
		return nil, err
	}
	raster, err := v.Raster(ctx, pl)
	if err != nil {
		return nil, err
	}
	src, recipe, err := raster.Burning(j.Document.Recipe())
	if err != nil {
		return nil, err
	}
	return Panel(ctx, Request{Recipe: recipe, Raster: src, Placement: pl, Photo: light, Corners: o.Corners, Progress: o.Progress})
}

// Record is the job with the comparison kept in it, and what its maker remarks.
func Record(j *job.Job, r *Result, name string, photo []byte, remark string) (*job.Job, error) {
	return j.WithFinished(job.Finished{
		Photo: name, Date: time.Now().Format(time.DateOnly), Setting: j.Document.Setting,
		MeanDE00: r.Mean, DoseFactor: r.Dose.Factor, DoseLnSD: r.Dose.LnSD,
		Words: r.Words, Remark: remark, CloserPower: r.CloserPower,
	}, photo)
}

// Sheet is the photograph, the proof and the map of their differences side by side.
func (r *Result) Sheet() *image.RGBA {
	const gap = 8
	w, h := r.Photo.Rect.Dx(), r.Photo.Rect.Dy()
	sheet := image.NewRGBA(image.Rect(0, 0, 3*w+2*gap, h))
	for i := range sheet.Pix {
		sheet.Pix[i] = 0xff
	}
	for i, img := range []*image.RGBA{r.Photo, r.Proof, r.Map} {
		for y := range h {
			copy(sheet.Pix[sheet.PixOffset(i*(w+gap), y):], img.Pix[img.PixOffset(0, y):][:4*w])
		}
	}
	return sheet
}

// below puts pictures of one width one below the other.
func below(all ...*image.RGBA) *image.RGBA {
	const gap = 8
	high := -gap
	for _, img := range all {
		high += img.Rect.Dy() + gap
	}
	sheet := image.NewRGBA(image.Rect(0, 0, all[0].Rect.Dx(), high))
	for i := range sheet.Pix {
		sheet.Pix[i] = 0xff
	}
	y := 0
	for _, img := range all {
		copy(sheet.Pix[sheet.PixOffset(0, y):], img.Pix)
		y += img.Rect.Dy() + gap
	}
	return sheet
}
