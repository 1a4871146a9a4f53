package job

import (
	"context"
	"fmt"
	"image"
	"math"
	"strings"
	"time"

	"undercoat/imaging/export"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/layout"
)

// ProofRequest says which proof of a job is wanted.
type ProofRequest struct {
	Long      int             // pixels on the long side
	Variation proof.Variation // of the burn; empty: as set
	Distance  layout.MM       // it is looked at from; 0: close up
	Part      *layout.Area    // only this part of the panel, from its centre; nil: all of it
}

// MaxProofLong bounds the long side of a proof.
const MaxProofLong = 8000

// Proof is the exact proof of the developed job: its very dots, burned as the
// variation says, without any words on it (see [Document.Marked]).
func (v *Developed) Proof(ctx context.Context, r ProofRequest, progress func(float64)) (*image.RGBA, error) {
	if r.Long < 16 || r.Long > MaxProofLong {
		return nil, fmt.Errorf("size of the proof is %d pixels: choose 16 to %d", r.Long, MaxProofLong)
	}
	d := v.Document
	pl, err := d.Placement()
	if err != nil {
		return nil, err
	}
	recipe := d.Recipe()
	if r.Variation != "" {
		if recipe, err = r.Variation.Of(recipe); err != nil {
			return nil, err
		}
	}
	raster, err := v.Raster(ctx, pl)
	if err != nil {
		return nil, err
	}
	shown := d.Panel.Size
	var img *image.RGBA
	if r.Part == nil {
		img, err = d.PanelProof(ctx, recipe, raster, pl, r.Long, progress)
	} else {
		shown = r.Part.Size
		img, err = partProof(ctx, recipe, raster, pl, *r.Part, r.Long)
	}
	if err != nil || r.Distance == 0 {
		return img, err
	}
	pixel := float64(shown.W) / float64(img.Rect.Dx())
	return proof.Distant(ctx, img, pixel, float64(r.Distance))
}

// partProof magnifies a part of the panel.
func partProof(ctx context.Context, recipe proof.Recipe, raster Raster, pl layout.Placement, part layout.Area, long int) (*image.RGBA, error) {
	if !(part.Size.W > 0 && part.Size.H > 0) {
		return nil, fmt.Errorf("part of %g x %g mm is empty: choose a width and height above 0", float64(part.Size.W), float64(part.Size.H))
	}
	if dx, dy := math.Abs(float64(part.Centre.X)), math.Abs(float64(part.Centre.Y)); dx-float64(part.Size.W)/2 >= float64(pl.Panel.Size.W)/2 ||
		dy-float64(part.Size.H)/2 >= float64(pl.Panel.Size.H)/2 {
		return nil, fmt.Errorf("part of %g x %g mm about %g, %g lies beside the panel of %g x %g mm: choose a middle within half of that",
			float64(part.Size.W), float64(part.Size.H), float64(part.Centre.X), float64(part.Centre.Y), float64(pl.Panel.Size.W), float64(pl.Panel.Size.H))
	}
	pitch := float64(pl.Grid.Pitch)
	corner := pl.Corners[0]
	window := proof.Window{
		X: float64(part.Centre.X-part.Size.W/2-corner.X) / pitch,
		Y: float64(corner.Y-part.Centre.Y-part.Size.H/2) / pitch,
		W: float64(part.Size.W) / pitch,
		H: float64(part.Size.H) / pitch,
	}
	src, recipe, err := raster.Burning(recipe)
	if err != nil {
		return nil, err
	}
	w, h := part.Size.FitLong(long)
	return proof.Loupe(ctx, recipe, src, window, w, h)
}

// PanelProof is the whole panel as it is predicted to look under a recipe, long
// pixels on its long side, from the dots themselves.
func (d Document) PanelProof(ctx context.Context, recipe proof.Recipe, raster Raster, pl layout.Placement, long int, progress func(float64)) (*image.RGBA, error) {
	w, h := pl.Panel.Size.FitLong(long)
	scale := float64(w) / float64(pl.Panel.Size.W)
	size := pl.Grid.Size()
	vw := max(1, int(math.Round(float64(size.W)*scale)))
	vh := max(1, int(math.Round(float64(size.H)*scale)))
	src, recipe, err := raster.Burning(recipe)
	if err != nil {
		return nil, err
	}
	area, err := proof.Exact(ctx, recipe, src, image.Rectangle{Max: image.Pt(raster.Size())}, vw, vh, progress)
	if err != nil {
		return nil, err
	}
	return proof.Panel(recipe, pl, area, w, h), nil
}

// Marked is a proof with what must be said of it on a band below: nothing for a
// calibrated stack.
func (d Document) Marked(img *image.RGBA) (*image.RGBA, error) {
	if d.Stack.Curve.Calibrated {
		return img, nil
	}
	return proof.Captioned(img, export.Uncalibrated)
}

// StripStep is one power of a strip.
type StripStep struct {
	PowerPercent float64
	DoseJCM2     float64
	Coverage     []float64 // of the picture area: coats from the top down, then the ground
	BurnTime     time.Duration
	Image        *image.RGBA
}

// Strip proofs the picture area at several powers, by the tint table, each wide
// pixels wide. The tones follow the power as they would if it were chosen.
func (v *Developed) Strip(ctx context.Context, powers []float64, wide int) ([]StripStep, error) {
	d := v.Document
	pl, err := d.Placement()
	if err != nil {
		return nil, err
	}
	strip, err := v.Table.Strip(ctx, powers, v.viewTints(ctx, wide))
	if err != nil {
		return nil, err
	}
	out := make([]StripStep, len(strip))
	for i, s := range strip {
		out[i] = StripStep{
			PowerPercent: s.PowerPercent,
			DoseJCM2:     s.Table.Recipe().FullDose(),
			Coverage:     s.Coverage,
			BurnTime:     d.MostBurnTime(pl.Grid),
			Image:        s.Image,
		}
	}
	return out, nil
}

// viewTints is the tints of the picture and its lettering under a table, about wide
// pixels wide.
func (v *Developed) viewTints(ctx context.Context, wide int) func(*proof.TintTable) (*plane.Grey16, error) {
	d := v.Document
	var view *plane.Grey16
	var toning *picture.Toning
	return func(t *proof.TintTable) (*plane.Grey16, error) {
		area, err := d.Panel.PictureArea(d.Border)
		if err != nil {
			return nil, err
		}
		high := max(1, int(math.Round(float64(wide)*float64(area.Size.H/area.Size.W))))
		if v.Light == nil {
			return LetteredView(ctx, v.Letters, plane.NewGrey16(wide, high), area)
		}
		if view == nil {
			if view, err = ViewLight(ctx, v.Light, d.Picture.Crop, wide, high); err != nil {
				return nil, err
			}
			if toning, err = d.Toning(ctx, v.Light); err != nil {
				return nil, err
			}
		}
		tones, err := d.ToneTable(t)
		if err != nil {
			return nil, err
		}
		tints, err := d.ViewTints(ctx, view, toning, picture.Whole(float64(view.W)/float64(area.Size.W)), tones)
		if err != nil {
			return nil, err
		}
		return LetteredView(ctx, v.Letters, tints, area)
	}
}

// suggestWide is the width, in pixels, of the view that suggestions are worked
// out on: coat shares are means over the whole picture.
const suggestWide = 600

// SuggestKeepTop finds the power, in percent, that leaves the wanted share, 0..1,
// of the top coat in the picture area.
func (v *Developed) SuggestKeepTop(ctx context.Context, wanted float64) (float64, error) {
	return v.Table.SuggestTopCoat(ctx, v.viewTints(ctx, suggestWide), wanted)
}

// SuggestReach finds the power, in percent, at which the deepest parts just reach
// the layer called name: a coat below the top one, or the ground.
func (v *Developed) SuggestReach(ctx context.Context, name string) (float64, error) {
	s := v.Document.Stack
	var names []string
	for i, c := range s.Coats[1:] {
		if c.Name == name {
			return v.Table.SuggestReach(ctx, i+1)
		}
		names = append(names, c.Name)
	}
	if name == "ground" || name == s.Ground.Name {
		return v.Table.SuggestReach(ctx, len(s.Coats))
	}
	return 0, fmt.Errorf("there is no coat called %q below the top coat: choose one of %s, ground", name, strings.Join(names, ", "))
}
