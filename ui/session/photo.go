package session

import (
	"context"
	"image"
	"path/filepath"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
)

// Photo is a photograph of a burned chart or of a finished panel. It never changes.
type Photo struct {
	Name string // of its file
	Data []byte
	pic  *picture.Picture
}

// OpenPhoto reads and decodes the photograph at path. It takes its time: call it
// beside the window.
func OpenPhoto(ctx context.Context, path string) (*Photo, error) {
	data, err := job.ReadBytes(path)
	if err != nil {
		return nil, err
	}
	pic, err := job.OpenPicture(ctx, path, data)
	if err != nil {
		return nil, err
	}
	return &Photo{filepath.Base(path), data, pic}, nil
}

// Size is that of the upright photograph in pixels.
func (p *Photo) Size() (w, h int) { return p.pic.Size(picture.Turn{}) }

// View is the upright photograph, at most wide pixels wide and high, and the size in
// pixels of what it shows.
func (p *Photo) View(ctx context.Context, wide int) (view *image.RGBA, w, h int, err error) {
	view, err = job.PhotographView(ctx, p.pic, wide, wide)
	w, h = p.pic.Size(picture.Turn{})
	return view, w, h, err
}
