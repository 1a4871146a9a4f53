package job

import (
	"context"
	"fmt"
	"image"
	"math"
	"time"

	"undercoat/imaging/burn"
	"undercoat/imaging/match"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// Raster is what the machine is handed. One of its fields is set.
type Raster struct {
	Dots   *plane.Bits   // dots that burn, at the setting's power
	Shares *plane.Grey16 // for each dot the share, of 65535, of the setting's power above its offset
	Steps  []RasterStep  // rasters that are burned one after another
}

// RasterStep is the raster of one step and the power it is burned at.
type RasterStep struct {
	match.Step
	Dots *plane.Bits
}

// Size is the raster's size in dots.
func (r Raster) Size() (w, h int) {
	switch {
	case r.Dots != nil:
		return r.Dots.W, r.Dots.H
	case r.Shares != nil:
		return r.Shares.W, r.Shares.H
	}
	return r.Steps[0].Dots.W, r.Steps[0].Dots.H
}

// Burning is the raster as the laser sees it, and the recipe under which it does:
// steps share the light of the strongest among them.
func (r Raster) Burning(recipe proof.Recipe) (burn.Source, proof.Recipe, error) {
	switch {
	case r.Dots != nil:
		return burn.OneBit(r.Dots), recipe, nil
	case r.Shares != nil:
		return burn.EightBit(r.Shares), recipe, nil
	}
	most := 0.0
	for _, s := range r.Steps {
		most = max(most, s.PowerPercent)
	}
	recipe.Setting.PowerPercent = most
	full := recipe.Machine.OpticalW(most)
	steps := make([]burn.Step, len(r.Steps))
	for i, s := range r.Steps {
		steps[i] = burn.Step{Dots: s.Dots, Share: recipe.Machine.OpticalW(s.PowerPercent) / full}
	}
	src, err := burn.Steps(steps...)
	return src, recipe, err
}

// Picture is the raster itself over the dots of region, as a picture of w x h pixels:
// what burns more is darker.
func (r Raster) Picture(ctx context.Context, region image.Rectangle, w, h int) (*image.RGBA, error) {
	if r.Dots != nil {
		return proof.Dots(ctx, r.Dots, region, w, h)
	}
	cols, rows := r.Size()
	dark := White(cols, rows)
	if r.Shares != nil {
		for i, v := range r.Shares.Pix {
			dark.Pix[i] -= v
		}
	}
	for i, s := range r.Steps {
		// The later the step, the darker its dots.
		left := uint16(math.MaxUint16 * (len(r.Steps) - 1 - i) / (2 * len(r.Steps)))
		for y := range rows {
			for x := range dark.Row(y) {
				if s.Dots.At(x, y) {
					dark.Row(y)[x] = left
				}
			}
		}
	}
	crop := layout.Crop{X: float64(region.Min.X), Y: float64(region.Min.Y), W: float64(region.Dx()), H: float64(region.Dy())}
	view, err := resample.ToSize(ctx, dark, crop, w, h)
	if err != nil {
		return nil, err
	}
	return Shown(ctx, view)
}

// burnsAnything tells whether there is a dot to burn.
func (r Raster) burnsAnything() bool {
	for _, s := range r.steps() {
		for y := range s.H {
			if _, _, ok := s.Span(y); ok {
				return true
			}
		}
	}
	return false
}

// steps are the rasters that the machine goes over one after another, as dots lit or
// not.
func (r Raster) steps() []*plane.Bits {
	switch {
	case r.Dots != nil:
		return []*plane.Bits{r.Dots}
	case r.Shares != nil:
		lit := plane.NewBits(r.Shares.W, r.Shares.H)
		for y := range lit.H {
			for x, v := range r.Shares.Row(y) {
				if v > 0 {
					lit.Set(x, y)
				}
			}
		}
		return []*plane.Bits{lit}
	}
	out := make([]*plane.Bits, len(r.Steps))
	for i, s := range r.Steps {
		out[i] = s.Dots
	}
	return out
}

// RasterTime is how long the machine moves to burn a raster, all steps and passes
// together.
func (d Document) RasterTime(g layout.Grid, r Raster) time.Duration {
	var sum time.Duration
	for _, dots := range r.steps() {
		sum += d.BurnTime(g, dots)
	}
	return sum
}

// MostBurnTime is how long a raster of the job can take at the most: every line from
// edge to edge, in every step that there may be.
func (d Document) MostBurnTime(g layout.Grid) time.Duration {
	steps := 1
	if d.Match == MatchSteps || d.Match == MatchNestedSteps {
		steps = len(d.Stack.Coats)
	}
	return time.Duration(steps) * d.BurnTime(g, nil)
}

// errNothingToBurn is for jobs of which nothing would be burned, picture or letters.
var errNothingToBurn = fmt.Errorf("there is nothing to burn: open a picture, or add a line of lettering that is burned")

// Raster is the developed job's raster at a placement.
func (v *Developed) Raster(ctx context.Context, pl layout.Placement) (Raster, error) {
	letters, err := rasterLetters(ctx, v.Letters, pl)
	if err != nil {
		return Raster{}, err
	}
	if v.Document.Match.ByColour() && v.Colours != nil {
		return v.colourRaster(ctx, pl.Grid, letters)
	}
	dots, err := v.pictureDots(ctx, pl.Grid)
	if err != nil {
		return Raster{}, err
	}
	dots, err = letters.over(dots, true)
	return Raster{Dots: dots}, err
}

func (v *Developed) colourRaster(ctx context.Context, g layout.Grid, letters letterDots) (Raster, error) {
	colours, err := v.Document.MatchColours(ctx, v.Colours, v.Table, g)
	if err != nil {
		return Raster{}, err
	}
	choice, err := match.Diffuse(ctx, colours, v.Looks.Colour)
	if err != nil {
		return Raster{}, err
	}
	r := v.Looks.rasterOf(choice)
	if r.Shares != nil {
		letters.overShares(r.Shares)
	}
	for i := range r.Steps {
		burns := i == len(r.Steps)-1 || v.Looks.Match == MatchNestedSteps
		if r.Steps[i].Dots, err = letters.over(r.Steps[i].Dots, burns); err != nil {
			return Raster{}, err
		}
	}
	return r, nil
}
