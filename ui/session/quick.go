package session

import (
	"context"
	"image"

	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// letteredPicture is a view of the picture as the screen shows it, with the lettering
// over it: in white where what is bright burns, in black otherwise.
func letteredPicture(ctx context.Context, light *plane.Grey16, area layout.Area, letters []lettering.Placed, brightBurns bool) (*image.RGBA, error) {
	if len(letters) > 0 {
		burn, keep, err := lettering.Draw(ctx, letters, area, light.W, light.H)
		if err != nil {
			return nil, err
		}
		if !brightBurns {
			burn, keep = keep, burn
		}
		if light, err = lettering.OverTints(light, burn, keep); err != nil {
			return nil, err
		}
	}
	return job.Shown(ctx, light)
}

// matched is the quick proof of a picture matched by colour: each pixel of the view
// in the look that a dot of its colour would get.
func (r *renderer) matched(ctx context.Context, st state, f Frame) (*image.RGBA, error) {
	v, _, err := r.developed(ctx, st)
	if err != nil {
		return nil, err
	}
	crop := f.Part.crop(st.doc.Picture.Crop)
	colours, err := resample.View(ctx, v.Colours, crop, f.W, f.H)
	if err != nil {
		return nil, err
	}
	return v.MatchedView(ctx, colours, f.Part.onPicture(st, colours.W), f.Part.Of(st.placement().Area))
}
