package job

import (
	"context"
	"fmt"
	"image"
	"math"
	"slices"

	"undercoat/imaging/burn"
	"undercoat/imaging/colour"
	"undercoat/imaging/match"
	"undercoat/imaging/picture"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// Match says what of the picture is matched by the burn, and with what.
type Match string

const (
	// MatchLightness screens the picture's tones to dots of one power.
	MatchLightness Match = "lightness"
	// MatchPower gives each dot the power whose look is nearest to its colour. The
	// machine must take a power for each dot.
	MatchPower Match = "colour-by-power"
	// MatchSteps gives each dot the coat that is nearest to its colour: one raster a
	// coat, each with its own power, each dot burned once.
	MatchSteps Match = "colour-by-steps"
	// MatchNestedSteps is MatchSteps with every dot burned in all steps down to its
	// own, so that each step takes away one coat more.
	MatchNestedSteps Match = "colour-by-nested-steps"
)

// Matches lists the ways to match, the usual one first.
func Matches() []Match {
	return []Match{MatchLightness, MatchPower, MatchSteps, MatchNestedSteps}
}

func (m Match) validate(machine burn.Machine) error {
	switch m {
	case MatchLightness, MatchSteps, MatchNestedSteps:
		return nil
	case MatchPower:
		if !machine.PowerPerPixel {
			return fmt.Errorf("%s needs a machine that takes a power for each dot: choose colour-by-steps, or set power_per_pixel if yours does", m)
		}
		return nil
	}
	return fmt.Errorf("%q is not a way to match: choose one of lightness, colour-by-power, colour-by-steps, colour-by-nested-steps", m)
}

// ByColour tells whether colours are matched, and not lightness alone.
func (m Match) ByColour() bool { return m != MatchLightness }

// Looks is what a stack can give to match colours with.
type Looks struct {
	Match  Match
	Colour []colour.Linear
	Steps  []match.Step // one a look but for the first, the untouched top coat; none by power
}

// Looks works out the looks that the job's colours are matched with.
func (d Document) Looks(ctx context.Context, tints *proof.TintTable) (*Looks, error) {
	l := &Looks{Match: d.Match}
	var err error
	if d.Match == MatchPower {
		l.Colour, err = match.PowerLooks(ctx, tints)
	} else {
		l.Colour, l.Steps, err = match.StepLooks(ctx, tints, d.Match == MatchNestedSteps)
	}
	return l, err
}

// rasterOf is the raster of a choice of looks.
func (l *Looks) rasterOf(c *match.Choice) Raster {
	if l.Match == MatchPower {
		return Raster{Shares: match.Powers(c)}
	}
	var r Raster
	for i, dots := range match.Steps(c, len(l.Steps), l.Match == MatchNestedSteps) {
		r.Steps = append(r.Steps, RasterStep{l.Steps[i], dots})
	}
	return r
}

// MatchedView is colours, a view of a part of the picture in linear light, toned and
// faded, in the looks that are nearest, with the lettering over them.
func (v *Developed) MatchedView(ctx context.Context, colours *plane.RGB16, part picture.Part, area layout.Area) (*image.RGBA, error) {
	choice, err := v.matchedChoice(ctx, colours, part, area)
	if err != nil {
		return nil, err
	}
	return v.Looks.paint(choice), nil
}

// MatchedRaster is [Developed.MatchedView] as a raster of a dot a pixel: what dots lie
// beside each other in it is as in the job's own, so that it tells which doses a small
// view of the panel gets. The colours are left alone.
func (v *Developed) MatchedRaster(ctx context.Context, colours *plane.RGB16, part picture.Part, area layout.Area) (Raster, error) {
	own := *colours // they are toned in place
	own.Pix = slices.Clone(colours.Pix)
	choice, err := v.matchedChoice(ctx, &own, part, area)
	if err != nil {
		return Raster{}, err
	}
	return v.Looks.rasterOf(choice), nil
}

func (v *Developed) matchedChoice(ctx context.Context, colours *plane.RGB16, part picture.Part, area layout.Area) (*match.Choice, error) {
	d := v.Document
	toning, err := d.readyTone(ctx, v.Light)
	if err != nil {
		return nil, err
	}
	whole, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return nil, err
	}
	tone := func(grey *plane.Grey16) (*plane.Grey16, error) { return toning.Apply(ctx, grey, part) }
	fade := func() (*plane.Grey16, error) {
		return d.Picture.Fade.ApplyPart(ctx, White(colours.W, colours.H), whole.Size, part)
	}
	if err := d.toneColours(ctx, colours, v.Table, tone, fade); err != nil {
		return nil, err
	}
	choice, err := match.Diffuse(ctx, colours, v.Looks.Colour)
	if err != nil {
		return nil, err
	}
	return choice, v.letterChoice(ctx, choice, area)
}

// DosesJCM2 are the doses that dots reach in each step, on an even, fully burned field;
// none where the dots are not burned in steps.
func (l *Looks) DosesJCM2() []float64 {
	var doses []float64
	total := 0.0
	for _, s := range l.Steps {
		if l.Match == MatchNestedSteps {
			total += s.DoseJCM2
			doses = append(doses, total)
		} else {
			doses = append(doses, s.DoseJCM2)
		}
	}
	return doses
}

// letterChoice puts the lettering into a choice of looks: the last is the deepest.
func (v *Developed) letterChoice(ctx context.Context, c *match.Choice, area layout.Area) error {
	if len(v.Letters) == 0 {
		return nil
	}
	burn, keep, err := lettering.Draw(ctx, v.Letters, area, c.W, c.H)
	if err != nil {
		return err
	}
	for i := range c.Pix {
		switch {
		case burn.Pix[i] > math.MaxUint16/2:
			c.Pix[i] = uint8(len(v.Looks.Colour) - 1)
		case keep.Pix[i] > math.MaxUint16/2:
			c.Pix[i] = 0
		}
	}
	return nil
}

func (l *Looks) paint(c *match.Choice) *image.RGBA {
	stored := make([]colour.Stored, len(l.Colour))
	for i, look := range l.Colour {
		stored[i] = look.Stored()
	}
	img := image.NewRGBA(image.Rect(0, 0, c.W, c.H))
	for y := range c.H {
		out := img.Pix[y*img.Stride:]
		for x, v := range c.Row(y) {
			s := stored[v]
			out[4*x], out[4*x+1], out[4*x+2], out[4*x+3] = s.R, s.G, s.B, 0xff
		}
	}
	return img
}

// MatchColours is the crop of the picture's colours on a grid, toned and faded to
// the untouched top coat.
func (d Document) MatchColours(ctx context.Context, colours *plane.RGB16, tints *proof.TintTable, g layout.Grid) (*plane.RGB16, error) {
	var channels [3]*plane.Grey16
	for c := range channels {
		whole, err := channel(ctx, colours, c)
		if err != nil {
			return nil, err
		}
		if channels[c], err = resample.ToSize(ctx, whole, d.Picture.Crop, g.Cols, g.Rows); err != nil {
			return nil, err
		}
	}
	p := plane.NewRGB16(g.Cols, g.Rows)
	for y := range p.H {
		row := p.Row(y)
		for c, from := range channels {
			for x, v := range from.Row(y) {
				row[3*x+c] = v
			}
		}
	}
	perMM := 1 / float64(g.Pitch)
	tone := func(grey *plane.Grey16) (*plane.Grey16, error) { return d.Picture.Tone.Apply(ctx, grey, perMM) }
	fade := func() (*plane.Grey16, error) { return d.Picture.Fade.Mask(ctx, g.Cols, g.Rows, perMM) }
	return p, d.toneColours(ctx, p, tints, tone, fade)
}

// channel is one of the three of a picture in colour.
func channel(ctx context.Context, p *plane.RGB16, c int) (*plane.Grey16, error) {
	out := plane.NewGrey16(p.W, p.H)
	return out, plane.SplitRows(ctx, p.H, func(_ context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			row, from := out.Row(y), p.Row(y)
			for x := range row {
				row[x] = from[3*x+c]
			}
		}
		return nil
	})
}

// toneColours lays the tone over colours by what it does to their luminance, so that
// hues stay, and fades them to the untouched top coat.
func (d Document) toneColours(ctx context.Context, p *plane.RGB16, tints *proof.TintTable,
	tone func(*plane.Grey16) (*plane.Grey16, error), fade func() (*plane.Grey16, error)) error {
	if d.Picture.Tone != (picture.Tone{}) {
		before, err := picture.GreyOf(ctx, p, picture.Mix{})
		if err != nil {
			return err
		}
		after, err := tone(before)
		if err != nil {
			return err
		}
		for i, was := range before.Pix {
			gain := float64(after.Pix[i]) / max(1, float64(was))
			for c := range 3 {
				v := &p.Pix[3*i+c]
				*v = uint16(min(math.MaxUint16, math.Round(float64(*v)*gain)))
			}
		}
	}
	if d.Picture.Fade == (picture.Fade{}) {
		return nil
	}
	mask, err := fade()
	if err != nil {
		return err
	}
	top := tints.Look(0)
	bare := [3]float64{top.R * math.MaxUint16, top.G * math.MaxUint16, top.B * math.MaxUint16}
	for i, keep := range mask.Pix {
		k := float64(keep) / math.MaxUint16
		for c := range 3 {
			v := &p.Pix[3*i+c]
			*v = uint16(math.Round(k*float64(*v) + (1-k)*bare[c]))
		}
	}
	return nil
}
