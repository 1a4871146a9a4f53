package picture

import (
	"context"
	"fmt"
	"math"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// FadeShape is the outline that a picture fades at.
type FadeShape string

const (
	FadeRectangle FadeShape = "" // as the picture area
	FadeOval      FadeShape = "oval"
)

// Fade lets the burn die away towards the picture area's edge, so that untouched
// coat shows there. It works on tints, not on light: where it takes all, nothing is
// burned, whatever the picture holds. The zero value takes nothing.
type Fade struct {
	Shape    FadeShape `json:"shape,omitempty"`
	Inset    layout.MM `json:"inset_mm,omitzero"`   // 0..1000: how far inside the area the outline lies
	Corner   layout.MM `json:"corner_mm,omitzero"`  // 0..1000: radius of a rectangle's corners, at most half its shorter side
	Feather  layout.MM `json:"feather_mm,omitzero"` // 0..1000: how wide the burn dies away, inwards from the outline, at most to the middle
	Vignette float64   `json:"vignette,omitzero"`   // 0..1: how much is taken in the area's corners, growing from half way out
}

// MaxFadeLength bounds the lengths of a Fade.
const MaxFadeLength layout.MM = 1000

// Validate names the first value that is out of its range.
func (f Fade) Validate() error {
	if f.Shape != FadeRectangle && f.Shape != FadeOval {
		return fmt.Errorf("fade shape is %q: choose oval, or leave it out for a rectangle", f.Shape)
	}
	for _, l := range []struct {
		name  string
		value layout.MM
	}{{"inset", f.Inset}, {"corner", f.Corner}, {"feather", f.Feather}} {
		if !(l.value >= 0 && l.value <= MaxFadeLength) {
			return fmt.Errorf("fade %s %v mm is outside 0 to %v mm: choose a length in that range", l.name, float64(l.value), float64(MaxFadeLength))
		}
	}
	if !(f.Vignette >= 0 && f.Vignette <= 1) {
		return fmt.Errorf("vignette %v is outside 0 to 1: choose a share, 0 for none", f.Vignette)
	}
	return nil
}

// Mask is the share, in 1/65535, of its tint that each pixel of a picture area
// keeps, w x h of them with perMM to a millimetre.
func (f Fade) Mask(ctx context.Context, w, h int, perMM float64) (*plane.Grey16, error) {
	mask := plane.NewGrey16(max(w, 0), max(h, 0))
	for i := range mask.Pix {
		mask.Pix[i] = full
	}
	return f.Apply(ctx, mask, perMM)
}

// Apply fades the tints of a whole picture area and gives a new plane.
func (f Fade) Apply(ctx context.Context, tints *plane.Grey16, perMM float64) (*plane.Grey16, error) {
	area := layout.Size{W: layout.MM(float64(tints.W) / perMM), H: layout.MM(float64(tints.H) / perMM)}
	return f.ApplyPart(ctx, tints, area, Whole(perMM))
}

// ApplyPart fades the tints of a part of a picture area and gives a new plane.
// Past the area nothing is burned.
func (f Fade) ApplyPart(ctx context.Context, tints *plane.Grey16, area layout.Size, p Part) (*plane.Grey16, error) {
	out := plane.NewGrey16(tints.W, tints.H)
	if f == (Fade{}) || len(tints.Pix) == 0 {
		copy(out.Pix, tints.Pix)
		return out, ctx.Err()
	}
	if err := f.Validate(); err != nil {
		return nil, err
	}
	if err := p.Validate(); err != nil {
		return nil, err
	}
	o, err := f.outline(area, 1/p.PerMM)
	if err != nil {
		return nil, err
	}
	return out, plane.SplitRows(ctx, tints.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := out.Row(y)
			down := p.y(y) - float64(area.H)/2
			for x, v := range tints.Row(y) {
				row[x] = uint16(float64(v)*o.kept(p.x(x)-float64(area.W)/2, down) + 0.5)
			}
		}
		return nil
	})
}

// outline is a fade on an area of a size, in mm from its centre.
type outline struct {
	oval                  bool
	halfW, halfH          float64 // of the area
	acrossHalf, downHalf  float64 // of the outline
	corner, feather, edge float64 // edge is the width that the outline itself is drawn with
	vignette              float64
}

func (f Fade) outline(area layout.Size, pixel float64) (outline, error) {
	o := outline{
		oval:  f.Shape == FadeOval,
		halfW: float64(area.W) / 2, halfH: float64(area.H) / 2,
		vignette: f.Vignette,
	}
	o.acrossHalf, o.downHalf = o.halfW-float64(f.Inset), o.halfH-float64(f.Inset)
	shorter := math.Min(o.acrossHalf, o.downHalf)
	if !(shorter > 0) {
		return o, fmt.Errorf("fade inset %v mm leaves nothing of a picture area %s: choose a smaller one", float64(f.Inset), layout.Millimetre.FormatSize(area))
	}
	o.corner = math.Min(float64(f.Corner), shorter)
	o.feather = math.Min(float64(f.Feather), shorter)
	o.edge = math.Max(o.feather, pixel)
	return o, nil
}

// kept is the share of its tint that a place keeps.
func (o *outline) kept(x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	if x > o.halfW || y > o.halfH {
		return 0
	}
	within := -o.beyond(x, y)
	// From the outline inwards over the feather; over the pixel that it crosses when
	// the feather is narrower.
	share := smooth(0.5 + (within-o.feather/2)/o.edge)
	if o.vignette > 0 {
		out := math.Sqrt((x*x/(o.halfW*o.halfW) + y*y/(o.halfH*o.halfH)) / 2) // 1 in the corner
		share *= 1 - o.vignette*smooth(2*out-1)
	}
	return share
}

// beyond is how far outside the outline a place lies, negative inside: exact for
// the rectangle with its rounded corners, and for the oval to first order, which
// is exact on the outline, on both axes, and for a circle. Derived.
func (o *outline) beyond(x, y float64) float64 {
	if !o.oval {
		dx, dy := x-o.acrossHalf+o.corner, y-o.downHalf+o.corner
		if dx <= 0 || dy <= 0 {
			return max(dx, dy) - o.corner
		}
		return math.Sqrt(dx*dx+dy*dy) - o.corner
	}
	u, v := x/o.acrossHalf, y/o.downHalf
	scaled := math.Sqrt(u*u + v*v)
	u, v = u/o.acrossHalf, v/o.downHalf
	slope := math.Sqrt(u*u + v*v)
	if slope == 0 {
		return -min(o.acrossHalf, o.downHalf)
	}
	return scaled * (scaled - 1) / slope
}

// smooth goes from 0 at 0 to 1 at 1 without a corner at either.
func smooth(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t >= 1:
		return 1
	}
	return t * t * (3 - 2*t)
}
