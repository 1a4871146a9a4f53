package picture

import (
	"context"
	"errors"

	"undercoat/imaging/plane"
)

// Toning is a tone made ready for one picture area. It lays the tone over parts of
// that area, at any size, so that they look as in the whole: what local contrast
// does to a place is settled by the whole. It does not change and may be shared
// between goroutines.
type Toning struct {
	tone  Tone
	table *[full + 1]uint16 // nil where the pointwise part changes nothing
	local *localSurvey      // nil without local contrast
}

// Ready makes the tone ready for a picture area, of which light is the whole, with
// perMM pixels a millimetre; a view of a thousand pixels is enough. A tone without
// local contrast needs no plane: light may be nil.
func (t Tone) Ready(ctx context.Context, light *plane.Grey16, perMM float64) (*Toning, error) {
	g, err := t.prepared(Whole(perMM))
	if err != nil || !t.Local.works() {
		return g, err
	}
	if light == nil || len(light.Pix) == 0 {
		return nil, errors.New("local contrast needs the picture to look at: open one first")
	}
	if light, err = t.Noise.apply(ctx, light, perMM); err != nil {
		return nil, err
	}
	g.local, err = t.Local.survey(ctx, light, perMM)
	if err != nil {
		return nil, err
	}
	return g, nil
}

// prepared is a toning but for its local contrast.
func (t Tone) prepared(p Part) (*Toning, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	if err := p.Validate(); err != nil {
		return nil, err
	}
	g := &Toning{tone: t}
	if t.points() != (Tone{}) {
		var err error
		if g.table, err = t.Table(); err != nil {
			return nil, err
		}
	}
	return g, nil
}

// Apply lays the tone over a part of the picture area and gives a new plane. Noise
// and sharpening see the part's edge pixels go on, so that a strip as wide as they
// reach can differ there from the whole.
func (g *Toning) Apply(ctx context.Context, light *plane.Grey16, p Part) (*plane.Grey16, error) {
	if err := p.Validate(); err != nil || len(light.Pix) == 0 {
		return plane.NewGrey16(light.W, light.H), err
	}
	light, err := g.tone.Noise.apply(ctx, light, p.PerMM)
	if err != nil {
		return nil, err
	}
	return g.afterNoise(ctx, light, p)
}

// afterNoise is all that follows on the removal of noise. Its result is new.
func (g *Toning) afterNoise(ctx context.Context, light *plane.Grey16, p Part) (*plane.Grey16, error) {
	toned := plane.NewGrey16(light.W, light.H)
	var err error
	switch {
	case g.local != nil:
		err = g.local.apply(ctx, toned, light, p)
		if err == nil && g.table != nil {
			err = lookUp(ctx, toned, toned, g.table)
		}
	case g.table != nil:
		err = lookUp(ctx, toned, light, g.table)
	default:
		copy(toned.Pix, light.Pix)
	}
	if err != nil {
		return nil, err
	}
	if !g.tone.Sharpen.works() {
		return toned, ctx.Err()
	}
	return g.tone.Sharpen.apply(ctx, toned, p.PerMM)
}

// lookUp puts each value of a plane through a table, to another or to itself.
func lookUp(ctx context.Context, to, from *plane.Grey16, table *[full + 1]uint16) error {
	return plane.SplitRows(ctx, from.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			out := to.Row(y)
			for x, v := range from.Row(y)[:len(out)] {
				out[x] = table[v]
			}
		}
		return nil
	})
}
