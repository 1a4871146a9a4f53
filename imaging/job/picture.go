package job

import (
	"context"
	"fmt"

	"undercoat/imaging/picture"
	"undercoat/layout"
)

// MinPicture is the least width and height of a picture, in pixels, that can
// fill a panel with anything.
const MinPicture = 16

// Open decodes the job's picture; nil where there is none.
func (j *Job) Open(ctx context.Context) (*picture.Picture, error) {
	if !j.Document.HasPicture() {
		return nil, nil
	}
	return OpenPicture(ctx, j.Document.Picture.Name, j.Picture)
}

// OpenPicture decodes the picture called name and refuses one too small to use.
func OpenPicture(ctx context.Context, name string, data []byte) (*picture.Picture, error) {
	pic, err := picture.Decode(ctx, data, picture.Limits{})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if w, h := pic.Size(picture.Turn{}); w < MinPicture || h < MinPicture {
		return nil, fmt.Errorf("%s: the picture is %d x %d pixels and at least %d x %d are needed: use a larger picture", name, w, h, MinPicture, MinPicture)
	}
	return pic, nil
}

// HasPicture tells whether there is a picture, and not lettering alone.
func (d Document) HasPicture() bool { return d.Picture.SHA256 != "" }

// WithoutPicture is the document with its picture taken out.
func (d Document) WithoutPicture() Document {
	p := d.Picture
	d.Picture = Picture{UnderClear: p.UnderClear, Burns: p.Burns, Tones: p.Tones, Tone: p.Tone, Fade: p.Fade, Mix: p.Mix}
	return d
}

// WithPicture is the document with another picture in it: its name and
// checksum, and the largest crop of the picture area's shape. Turning and
// straightening are set back; the tones stay.
func (d Document) WithPicture(name string, data []byte, pic *picture.Picture) (Document, error) {
	aspect, err := d.Aspect()
	if err != nil {
		return d, err
	}
	d.Picture.Name, d.Picture.SHA256 = name, Checksum(data)
	d.Picture.QuarterTurns, d.Picture.Mirror = 0, false
	d.Picture.StraightenDegrees, d.Picture.Corners = 0, nil
	w, h := pic.Size(d.Picture.Turn())
	d.Picture.Crop = layout.LargestCrop(w, h, aspect)
	return d, nil
}

// Refit is the document with its crop brought back to the picture area's shape
// and inside the picture, after panel, border or turning have changed. Without a
// picture (nil) there is no crop.
func (d Document) Refit(pic *picture.Picture) (Document, error) {
	if pic == nil {
		return d, nil
	}
	aspect, err := d.Aspect()
	if err != nil {
		return d, err
	}
	w, h, err := d.Picture.Size(pic)
	if err != nil {
		return d, err
	}
	d.Picture.Crop = d.Picture.Crop.Refit(aspect, w, h)
	return d, nil
}

// CheckCrop tells whether the crop lies in the picture and has the picture
// area's shape.
func (d Document) CheckCrop(pic *picture.Picture) error {
	if pic == nil {
		return nil
	}
	aspect, err := d.Aspect()
	if err != nil {
		return err
	}
	w, h, err := d.Picture.Size(pic)
	if err != nil {
		return err
	}
	if err := d.Picture.Crop.Validate(w, h, aspect); err != nil {
		return fmt.Errorf("picture.crop: %w", err)
	}
	return nil
}
