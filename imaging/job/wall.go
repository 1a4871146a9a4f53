package job

import (
	"context"
	"fmt"
	"image"

	"undercoat/assets"
	"undercoat/imaging/coat"
	"undercoat/imaging/colour"
	"undercoat/imaging/export"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/imaging/proof"
	"undercoat/imaging/scene"
)

// UsualWall is the paint of a wall that nobody chose: a warm light grey.
var UsualWall = colour.Stored{R: 0xd8, G: 0xd4, B: 0xcc}

// WallView says on which wall a panel is shown.
type WallView struct {
	Kind scene.Kind    // a room drawn by the program
	Wall colour.Stored // its paint
	// Photo is the client's own wall, in place of a room; Mark says how large it is.
	Photo     *image.RGBA
	Mark      scene.Mark
	Watermark string // written over all of it; empty: none
}

// WallLong is the long side of the proof that hangs on a wall, in pixels.
const WallLong = 1600

// Wall shows the finished panel on a wall, w x h pixels; a photo keeps its own size.
func (v *Developed) Wall(ctx context.Context, view WallView, w, h int, progress func(float64)) (*image.RGBA, error) {
	img, err := v.Proof(ctx, ProofRequest{Long: WallLong}, progress)
	if err != nil {
		return nil, err
	}
	return v.Document.OnWall(ctx, img, view, w, h)
}

// OnWall hangs a proof of the whole panel, w x h pixels; a photo keeps its own size.
func (d Document) OnWall(ctx context.Context, panel *image.RGBA, view WallView, w, h int) (*image.RGBA, error) {
	edge, err := d.Finish.Seen(d.Stack.Coats[0].Colour.Linear())
	if err != nil {
		return nil, err
	}
	o := scene.Options{
		Kind: view.Kind, Wall: view.Wall,
		Panel: panel, PanelMM: d.Panel.Size, EdgeMM: d.Panel.EdgeDepth, EdgeColour: edge.Stored(), Finish: d.Finish,
	}
	var img *image.RGBA
	if view.Photo != nil {
		img, err = scene.OnPhoto(ctx, view.Photo, view.Mark, o)
	} else {
		img, err = scene.Render(ctx, o, w, h)
	}
	if err != nil {
		return nil, err
	}
	return view.watermarked(ctx, img)
}

// watermarked is an image under the view's watermark.
func (v WallView) watermarked(ctx context.Context, img *image.RGBA) (*image.RGBA, error) {
	if v.Watermark == "" {
		return img, nil
	}
	font, _ := assets.Font(assets.DefaultFont)
	return scene.Watermark(ctx, img, v.Watermark, font)
}

// CheckWatermark tells whether a text can be written over a view; an empty one is none.
func CheckWatermark(text string) error {
	if text == "" {
		return nil
	}
	font, _ := assets.Font(assets.DefaultFont)
	return scene.CheckWatermark(text, font)
}

// Pixels is a decoded picture, upright, as the screen shows it.
func Pixels(ctx context.Context, pic *picture.Picture) (*image.RGBA, error) {
	light, err := pic.RGB(ctx, picture.Turn{}, colour.Stored{R: 0xff, G: 0xff, B: 0xff})
	if err != nil {
		return nil, err
	}
	img := image.NewRGBA(image.Rect(0, 0, light.W, light.H))
	err = plane.SplitRows(ctx, light.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := img.Pix[y*img.Stride:]
			for x, from := 0, light.Row(y); x < light.W; x++ {
				row[4*x] = colour.EncodeByte16(from[3*x])
				row[4*x+1] = colour.EncodeByte16(from[3*x+1])
				row[4*x+2] = colour.EncodeByte16(from[3*x+2])
				row[4*x+3] = 0xff
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return img, nil
}

// MaxSets is how many colour sets are shown side by side at the most.
const MaxSets = 6

// ColourSets shows the same picture on the same wall in other stacks, side by side, each
// above its name; each view is w x h pixels. The job's tones follow each stack; its
// setting stays, and what it does to another paint is as much a guess as that stack's
// curve is.
func (j *Job) ColourSets(ctx context.Context, pic *picture.Picture, stacks []coat.Stack, view WallView, w, h int, progress func(float64)) (*image.RGBA, error) {
	if len(stacks) < 1 || len(stacks) > MaxSets {
		return nil, fmt.Errorf("%d colour sets are not possible: choose 1 to %d", len(stacks), MaxSets)
	}
	if progress == nil {
		progress = func(float64) {}
	}
	var sets []proof.Labelled
	var foot []string
	for i, s := range stacks {
		other := *j
		other.Document = j.Document.Clone()
		other.Document.Stack = s
		if err := other.Document.Validate(); err != nil {
			return nil, fmt.Errorf("colour set %s: %w", s.Name, err)
		}
		dev, err := other.Develop(ctx, pic)
		if err != nil {
			return nil, fmt.Errorf("colour set %s: %w", s.Name, err)
		}
		img, err := dev.Wall(ctx, view, w, h, func(f float64) { progress((float64(i) + f) / float64(len(stacks))) })
		if err != nil {
			return nil, err
		}
		lines := []string{s.Name}
		if !s.Curve.Calibrated {
			lines = append(lines, "uncalibrated")
			foot = []string{export.Uncalibrated}
		}
		sets = append(sets, proof.Labelled{Image: img, Lines: lines})
	}
	return proof.SideBySide(sets, foot...)
}
