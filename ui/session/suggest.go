package session

import (
	"context"
	"errors"
	"image"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/suggest"
	"undercoat/layout"
)

// errNoPicture is for what only a picture can be asked.
var errNoPicture = errors.New("there is no picture: open one first")

// CropSuggestion is a crop that suits the picture area, with a small view of it.
type CropSuggestion struct {
	suggest.Suggestion
	View *image.RGBA
}

// suggestionWide is the longer side of a suggestion's view, in pixels.
const suggestionWide = 120

// SuggestCrops proposes up to three crops, the best first. It takes its time:
// call it beside the window.
func (s *Session) SuggestCrops(ctx context.Context) ([]CropSuggestion, error) {
	st, _, _ := s.snapshot()
	if st.pic == nil {
		return nil, errNoPicture
	}
	aspect, err := st.doc.Aspect()
	if err != nil {
		return nil, err
	}
	light, err := st.doc.Picture.Light(ctx, st.pic)
	if err != nil {
		return nil, err
	}
	found, err := suggest.Crops(ctx, light, aspect)
	if err != nil {
		return nil, err
	}
	out := make([]CropSuggestion, len(found))
	for i, f := range found {
		view, err := job.ViewLight(ctx, light, f.Crop, suggestionWide, suggestionWide)
		if err != nil {
			return nil, err
		}
		shown, err := job.Shown(ctx, view)
		if err != nil {
			return nil, err
		}
		out[i] = CropSuggestion{f, shown}
	}
	return out, nil
}

// clippedShare is how much of the picture suggested black and white points cut off
// at most, each. Common practice, no source.
const clippedShare = 0.005

// SuggestPoints proposes a black and a white point, L* 0..100, for the crop as it
// is. It takes its time: call it beside the window.
func (s *Session) SuggestPoints(ctx context.Context) (black, white float64, err error) {
	st, _, _ := s.snapshot()
	if st.pic == nil {
		return 0, 0, errNoPicture
	}
	light, err := st.doc.Picture.Light(ctx, st.pic)
	if err != nil {
		return 0, 0, err
	}
	laid, err := laidOn(ctx, st.doc, light)
	if err != nil {
		return 0, 0, err
	}
	return picture.SuggestPoints(laid, clippedShare)
}

// TurnedPicture is a view, at most wide pixels wide and high, of the whole picture
// as it is turned and before it is straightened, and the size in pixels of what it
// shows. It takes its time: call it beside the window.
func (s *Session) TurnedPicture(ctx context.Context, wide int) (view *image.RGBA, w, h int, err error) {
	st, _, _ := s.snapshot()
	if st.pic == nil {
		return nil, 0, 0, errNoPicture
	}
	p := st.doc.Picture
	p.StraightenDegrees, p.Corners = 0, nil
	light, err := p.Light(ctx, st.pic)
	if err != nil {
		return nil, 0, 0, err
	}
	small, err := job.ViewLight(ctx, light, layout.Crop{W: float64(light.W), H: float64(light.H)}, wide, wide)
	if err != nil {
		return nil, 0, 0, err
	}
	view, err = job.Shown(ctx, small)
	return view, light.W, light.H, err
}
