package job

import (
	"context"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/resample"
	"undercoat/layout"
)

// ToneTable takes light to tints, both in 1/65535: which way round, and the
// evening of tones, in one table. A tone that works on each pixel by itself is in
// it too; any other is laid over the light beforehand.
func (d Document) ToneTable(tints *proof.TintTable) (*[1 << 16]uint16, error) {
	perLight := d.lightTints(tints)
	if d.Picture.Tones == TonesEven {
		perLight = d.evenTints(tints)
	}
	if !d.Picture.Tone.Pointwise() {
		return perLight, nil
	}
	tone, err := d.Picture.Tone.Table()
	if err != nil {
		return nil, fmt.Errorf("picture.tone: %w", err)
	}
	out := new([1 << 16]uint16)
	for i := range out {
		out[i] = perLight[tone[i]]
	}
	return out, nil
}

// BrightBurns tells whether the bright parts of the picture burn: as chosen, or as
// the looks call for that the stack can give under the setting of tints.
func (d Document) BrightBurns(tints *proof.TintTable) bool {
	if d.Picture.Burns == BurnsByStack {
		return tints.Even().BrightBurns()
	}
	return d.Picture.Burns == BurnsBright
}

// BurnsWhy says which parts of the picture burn under the setting of tints, and
// why those.
func (d Document) BurnsWhy(tints *proof.TintTable) string {
	bright := d.BrightBurns(tints)
	way, turns := "dark parts burn", "darker"
	if bright {
		way, turns = "bright parts burn", "lighter"
	}
	if d.Picture.Burns != BurnsByStack {
		return way + ", as chosen"
	}
	if wholeStack, reason := proof.BrightBurns(d.Stack); wholeStack == bright {
		return reason
	}
	return "at this setting the burn turns the panel " + turns + ": " + way
}

// evenTints makes equal steps of lightness equal on the panel. The evening finds
// which way round by itself; asking for the other way turns it round.
func (d Document) evenTints(tints *proof.TintTable) *[1 << 16]uint16 {
	even := tints.Even()
	if d.BrightBurns(tints) != even.BrightBurns() {
		even = even.TurnedRound()
	}
	return even.LinearTable()
}

// lightTints makes the share of dots the share of light, or of what lacks to it
// where the dark parts burn.
func (d Document) lightTints(tints *proof.TintTable) *[1 << 16]uint16 {
	bright := d.BrightBurns(tints)
	out := new([1 << 16]uint16)
	for i := range out {
		if out[i] = uint16(i); !bright {
			out[i] = math.MaxUint16 - out[i]
		}
	}
	return out
}

// Tints is the crop of the picture's light as tints on a grid, by a ToneTable.
func (d Document) Tints(ctx context.Context, light *plane.Grey16, table *[1 << 16]uint16, g layout.Grid) (*plane.Grey16, error) {
	p, err := resample.ToSize(ctx, light, d.Picture.Crop, g.Cols, g.Rows)
	if err != nil {
		return nil, err
	}
	perMM := 1 / float64(g.Pitch)
	if !d.Picture.Tone.Pointwise() {
		if p, err = d.Picture.Tone.Apply(ctx, p, perMM); err != nil {
			return nil, err
		}
	}
	if err := lookUp(ctx, p, p, table); err != nil {
		return nil, err
	}
	if d.Picture.Fade == (picture.Fade{}) {
		return p, nil
	}
	return d.Picture.Fade.Apply(ctx, p, perMM)
}

// needsWholeTints tells that a tint depends on more than the light of its own dot.
func (d Document) needsWholeTints() bool {
	return !d.Picture.Tone.Pointwise() || d.Picture.Fade != (picture.Fade{})
}

// readyWide is the width and height of the view on which a tone is made ready: more
// would change nothing that one sees.
const readyWide = 1000

// Toning is the picture's tone made ready for views of the light; nil for a tone
// that works on each pixel by itself.
func (d Document) Toning(ctx context.Context, light *plane.Grey16) (*picture.Toning, error) {
	if d.Picture.Tone.Pointwise() {
		return nil, nil
	}
	return d.readyTone(ctx, light)
}

// readyTone is any tone made ready.
func (d Document) readyTone(ctx context.Context, light *plane.Grey16) (*picture.Toning, error) {
	view, err := ViewLight(ctx, light, d.Picture.Crop, readyWide, readyWide)
	if err != nil {
		return nil, err
	}
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return nil, err
	}
	return d.Picture.Tone.Ready(ctx, view, float64(view.W)/float64(area.Size.W))
}

// TonedView is a view of a part of the picture after the tone controls.
func (d Document) TonedView(ctx context.Context, view *plane.Grey16, toning *picture.Toning, part picture.Part) (*plane.Grey16, error) {
	if toning != nil {
		return toning.Apply(ctx, view, part)
	}
	table, err := d.Picture.Tone.Table()
	if err != nil {
		return nil, fmt.Errorf("picture.tone: %w", err)
	}
	return LookUp(ctx, view, table)
}

// ViewTints is a view of a part of the picture as tints, by a ToneTable.
func (d Document) ViewTints(ctx context.Context, view *plane.Grey16, toning *picture.Toning, part picture.Part, table *[1 << 16]uint16) (*plane.Grey16, error) {
	if toning != nil {
		var err error
		if view, err = toning.Apply(ctx, view, part); err != nil {
			return nil, err
		}
	}
	tints, err := LookUp(ctx, view, table)
	if err != nil || d.Picture.Fade == (picture.Fade{}) {
		return tints, err
	}
	area, err := d.Panel.PictureArea(d.Border)
	if err != nil {
		return nil, err
	}
	return d.Picture.Fade.ApplyPart(ctx, tints, area.Size, part)
}

// ViewLight is a part of the picture's light on at most maxW x maxH points, for
// the screen.
func ViewLight(ctx context.Context, light *plane.Grey16, crop layout.Crop, maxW, maxH int) (*plane.Grey16, error) {
	return resample.GreyView(ctx, light, crop, maxW, maxH)
}

// White is w x h points of full light.
func White(w, h int) *plane.Grey16 {
	p := plane.NewGrey16(w, h)
	for i := range p.Pix {
		p.Pix[i] = math.MaxUint16
	}
	return p
}

// Shown is light as the screen shows it.
func Shown(ctx context.Context, light *plane.Grey16) (*image.RGBA, error) {
	img := image.NewRGBA(image.Rect(0, 0, light.W, light.H))
	return img, plane.SplitRows(ctx, light.H, func(_ context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			out := img.Pix[y*img.Stride : (y+1)*img.Stride]
			for x, v := range light.Row(y) {
				c := colour.EncodeByte16(v)
				out[4*x], out[4*x+1], out[4*x+2], out[4*x+3] = c, c, c, 0xff
			}
		}
		return nil
	})
}

// LookUp is p with every value put through table.
func LookUp(ctx context.Context, p *plane.Grey16, table *[1 << 16]uint16) (*plane.Grey16, error) {
	out := plane.NewGrey16(p.W, p.H)
	return out, lookUp(ctx, out, p, table)
}

// lookUp puts every value of from through table into to, which may be from.
func lookUp(ctx context.Context, to, from *plane.Grey16, table *[1 << 16]uint16) error {
	return plane.SplitRows(ctx, from.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if ctx.Err() != nil {
				return ctx.Err()
			}
			out := to.Row(y)
			for x, v := range from.Row(y) {
				out[x] = table[v]
			}
		}
		return nil
	})
}
