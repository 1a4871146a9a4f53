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
	"undercoat/imaging/screen"
	"undercoat/layout"
)

// MinPicture is the least width and height of a picture, in pixels, that can
// fill a panel with anything.
const MinPicture = 16

// Open decodes the job's picture.
func (j *Job) Open(ctx context.Context) (*picture.Picture, error) {
	return OpenPicture(ctx, j.Document.Picture.Name, j.Picture)
}

// OpenPicture decodes the picture called name and refuses one too small to use.
func OpenPicture(ctx context.Context, name string, data []byte) (*picture.Picture, error) {
	pic, err := picture.Decode(ctx, data, picture.Limits{})
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if w, h := pic.Size(picture.Turn{}); w < MinPicture || h < MinPicture {
		return nil, fmt.Errorf("%s: the picture is %d x %d pixels and at least %d x %d are needed: use a larger picture", name, w, h, MinPicture, MinPicture)
	}
	return pic, nil
}

// WithPicture is the document with another picture in it: its name and
// checksum, and the largest crop of the picture area's shape. The turning is
// set back; the tones stay.
func (d Document) WithPicture(name string, data []byte, pic *picture.Picture) (Document, error) {
	aspect, err := d.Aspect()
	if err != nil {
		return d, err
	}
	d.Picture.Name, d.Picture.SHA256 = name, Checksum(data)
	d.Picture.QuarterTurns, d.Picture.Mirror = 0, false
	w, h := pic.Size(d.Picture.Turn())
	d.Picture.Crop = layout.LargestCrop(w, h, aspect)
	return d, nil
}

// Refit is the document with its crop brought back to the picture area's shape
// and inside the picture, after panel, border or turning have changed.
func (d Document) Refit(pic *picture.Picture) (Document, error) {
	aspect, err := d.Aspect()
	if err != nil {
		return d, err
	}
	w, h := pic.Size(d.Picture.Turn())
	d.Picture.Crop = d.Picture.Crop.Refit(aspect, w, h)
	return d, nil
}

// CheckCrop tells whether the crop lies in the picture and has the picture
// area's shape.
func (d Document) CheckCrop(pic *picture.Picture) error {
	aspect, err := d.Aspect()
	if err != nil {
		return err
	}
	w, h := pic.Size(d.Picture.Turn())
	if err := d.Picture.Crop.Validate(w, h, aspect); err != nil {
		return fmt.Errorf("picture.crop: %w", err)
	}
	return nil
}

// ToneTable takes the picture's linear light to tints, both in 1/65535: the
// tone controls, which way round, and the evening of tones in one table.
func (d Document) ToneTable(tints *proof.TintTable) (*[1 << 16]uint16, error) {
	tone, err := d.Picture.tone().Table()
	if err != nil {
		return nil, fmt.Errorf("picture: %w", err)
	}
	perLight := d.lightTints(tints)
	if d.Picture.Tones == TonesEven {
		perLight = d.evenTints(tints)
	}
	out := new([1 << 16]uint16)
	for i := range out {
		out[i] = perLight[tone[i]]
	}
	return out, nil
}

// brightBurns tells whether the bright parts of the picture burn: as chosen, or as
// the looks call for that the stack can give under the setting of tints.
func (d Document) brightBurns(tints *proof.TintTable) bool {
	if d.Picture.Burns == BurnsByStack {
		return tints.Even().BrightBurns()
	}
	return d.Picture.Burns == BurnsBright
}

// BurnsWhy says which parts of the picture burn under the setting of tints, and
// why those.
func (d Document) BurnsWhy(tints *proof.TintTable) string {
	bright := d.brightBurns(tints)
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
	if d.brightBurns(tints) != even.BrightBurns() {
		even = even.TurnedRound()
	}
	return even.LinearTable()
}

// lightTints makes the share of dots the share of light, or of what lacks to it
// where the dark parts burn.
func (d Document) lightTints(tints *proof.TintTable) *[1 << 16]uint16 {
	bright := d.brightBurns(tints)
	out := new([1 << 16]uint16)
	for i := range out {
		if out[i] = uint16(i); !bright {
			out[i] = math.MaxUint16 - out[i]
		}
	}
	return out
}

// Tints is the crop of the picture's light as tints on cols x rows points.
func (d Document) Tints(ctx context.Context, light *plane.Grey16, table *[1 << 16]uint16, cols, rows int) (*plane.Grey16, error) {
	p, err := resample.ToSize(ctx, light, d.Picture.Crop, cols, rows)
	if err != nil {
		return nil, err
	}
	return p, lookUp(ctx, p, p, table)
}

// ViewLight is a part of the picture's light on at most maxW x maxH points, for
// the screen.
func ViewLight(ctx context.Context, light *plane.Grey16, crop layout.Crop, maxW, maxH int) (*plane.Grey16, error) {
	return resample.GreyView(ctx, light, crop, maxW, maxH)
}

// TonedView is light, made by ViewLight, after the tone controls, as the screen
// shows it.
func (d Document) TonedView(ctx context.Context, light *plane.Grey16) (*image.RGBA, error) {
	tone, err := d.Picture.tone().Table()
	if err != nil {
		return nil, fmt.Errorf("picture: %w", err)
	}
	img := image.NewRGBA(image.Rect(0, 0, light.W, light.H))
	return img, plane.SplitRows(ctx, light.H, func(_ context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			out := img.Pix[y*img.Stride : (y+1)*img.Stride]
			for x, v := range light.Row(y) {
				c := colour.EncodeByte16(tone[v])
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

// Dots is the job's raster: every dot of the grid, burned or not.
func (d Document) Dots(ctx context.Context, light *plane.Grey16, table *[1 << 16]uint16, g layout.Grid) (*plane.Bits, error) {
	tints, err := d.Tints(ctx, light, table, g.Cols, g.Rows)
	if err != nil {
		return nil, err
	}
	return screen.Screen(ctx, tints, d.Screen.Options())
}
