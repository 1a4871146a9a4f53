package job

import (
	"context"
	"errors"
	"fmt"

	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// straightened is the frame of a picture once it is turned and straightened: its
// size, and where its pixels come from in the turned one.
type straightened struct {
	w, h   int
	source layout.Homography
}

func (p Picture) straighten(pic *picture.Picture) (straightened, error) {
	w, h := pic.Size(p.Turn())
	if p.Corners == nil {
		s, err := layout.Straighten(w, h, p.StraightenDegrees)
		return straightened{s.W, s.H, s.ToRaw}, err
	}
	w, h, err := layout.CornerSize(*p.Corners)
	if err != nil {
		return straightened{}, err
	}
	source, err := layout.FromCorners(*p.Corners, float64(w), float64(h))
	return straightened{w, h, source}, err
}

// Size is the size in pixels of a picture once it is turned and straightened.
func (p Picture) Size(pic *picture.Picture) (w, h int, err error) {
	s, err := p.straighten(pic)
	if err != nil {
		return 0, 0, fmt.Errorf("picture: %w", err)
	}
	if s.w < MinPicture || s.h < MinPicture {
		return 0, 0, fmt.Errorf("picture: straightening leaves %d x %d pixels and at least %d x %d are needed: take in more of the picture", s.w, s.h, MinPicture, MinPicture)
	}
	return s.w, s.h, nil
}

func (p Picture) straightenError() error {
	switch {
	case p.Corners != nil && p.StraightenDegrees != 0:
		return errors.New("straighten_degrees and corners are both set: straighten by one of them")
	case p.Corners != nil:
		if _, _, err := layout.CornerSize(*p.Corners); err != nil {
			return fmt.Errorf("corners: %w", err)
		}
		return nil
	}
	if _, err := layout.Straighten(1, 1, p.StraightenDegrees); err != nil {
		return fmt.Errorf("straighten_degrees: %w", err)
	}
	return nil
}

// isStraight tells that straightening changes nothing.
func (p Picture) isStraight() bool { return p.Corners == nil && p.StraightenDegrees == 0 }

// Light is the picture as one plane of linear light: turned, its colours mixed to
// grey, straightened.
func (p Picture) Light(ctx context.Context, pic *picture.Picture) (*plane.Grey16, error) {
	light, err := p.grey(ctx, pic)
	if err != nil || p.isStraight() {
		return light, err
	}
	s, err := p.straighten(pic)
	if err != nil {
		return nil, err
	}
	return resample.Warp(ctx, light, s.source, s.w, s.h)
}

func (p Picture) grey(ctx context.Context, pic *picture.Picture) (*plane.Grey16, error) {
	if p.Mix == (picture.Mix{}) {
		return pic.Grey(ctx, p.Turn(), p.UnderClear)
	}
	rgb, err := pic.RGB(ctx, p.Turn(), p.UnderClear)
	if err != nil {
		return nil, err
	}
	return picture.GreyOf(ctx, rgb, p.Mix)
}

// Colours is the picture in colour, as linear light: turned and straightened.
func (p Picture) Colours(ctx context.Context, pic *picture.Picture) (*plane.RGB16, error) {
	rgb, err := pic.RGB(ctx, p.Turn(), p.UnderClear)
	if err != nil || p.isStraight() {
		return rgb, err
	}
	s, err := p.straighten(pic)
	if err != nil {
		return nil, err
	}
	return resample.WarpRGB(ctx, rgb, s.source, s.w, s.h)
}
