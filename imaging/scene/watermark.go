package scene

import (
	"context"
	"errors"
	"fmt"
	"image"
	"math"

	"undercoat/imaging/colour"
	"undercoat/imaging/picture/lettering"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

const (
	markSide  = 1000.0 // mm; what the longer side of an image counts as
	markCap   = 26.0   // mm
	markTurn  = 28.0   // degrees
	markShade = 0.16   // how far a letter goes towards white, or black on what is bright
)

// Watermark writes a text slantwise all over an image, pale on what is dark and
// dim on what is bright, and gives the result. font is a TTF or OTF font.
func Watermark(ctx context.Context, img *image.RGBA, text string, font []byte) (*image.RGBA, error) {
	if img == nil || img.Rect.Empty() {
		return nil, errors.New("the image to be marked is empty: render a view first")
	}
	w, h := img.Rect.Dx(), img.Rect.Dy()
	perPixel := markSide / float64(max(w, h))
	size := layout.Size{W: layout.MM(float64(w) * perPixel), H: layout.MM(float64(h) * perPixel)}
	placed, err := markLines(text, font, size)
	if err != nil {
		return nil, fmt.Errorf("watermark: %w", err)
	}
	letters, _, err := lettering.Draw(ctx, placed, layout.Area{Size: size}, w, h)
	if err != nil {
		return nil, fmt.Errorf("watermark: %w", err)
	}
	return shaded(ctx, img, letters)
}

// CheckWatermark tells whether a text can be written by a font.
func CheckWatermark(text string, font []byte) error {
	if _, err := markLines(text, font, layout.Size{W: markSide, H: markSide}); err != nil {
		return fmt.Errorf("watermark: %w", err)
	}
	return nil
}

// markLines repeats the text in rows along the slant, every other one shifted by
// half, over all of the size and a little beyond.
func markLines(text string, font []byte, size layout.Size) ([]lettering.Placed, error) {
	fonts := lettering.NewFonts(nil)
	if err := fonts.Add("mark", font); err != nil {
		return nil, err
	}
	line := lettering.Line{Text: text, Font: "mark", CapHeight: markCap, Burn: true}
	one, err := lettering.Layout([]lettering.Line{line}, fonts)
	if err != nil {
		return nil, err
	}
	sin, cos := math.Sincos(markTurn * math.Pi / 180)
	across := float64(one[0].Bounds.Size.W) + 6*markCap
	down := 7.0 * markCap
	reach := math.Hypot(float64(size.W), float64(size.H)) / 2
	var lines []lettering.Line
	for row := -int(reach / down); row <= int(reach/down); row++ {
		for col := -int(reach/across) - 1; col <= int(reach/across)+1; col++ {
			u, v := (float64(col)+0.5*float64(row&1))*across, float64(row)*down
			x, y := u*cos-v*sin, u*sin+v*cos
			if math.Abs(x) > float64(size.W)/2+across/2 || math.Abs(y) > float64(size.H)/2+across/2 || len(lines) == lettering.MaxLines {
				continue
			}
			line.At, line.RotationDegrees = layout.Point{X: layout.MM(x), Y: layout.MM(y)}, markTurn
			lines = append(lines, line)
		}
	}
	return lettering.Layout(lines, fonts)
}

func shaded(ctx context.Context, img *image.RGBA, letters *plane.Grey16) (*image.RGBA, error) {
	out := image.NewRGBA(image.Rect(0, 0, letters.W, letters.H))
	white := colour.Linear{R: 1, G: 1, B: 1}
	err := plane.SplitRows(ctx, letters.H, func(ctx context.Context, y0, y1 int) error {
		for y := y0; y < y1; y++ {
			if err := ctx.Err(); err != nil {
				return err
			}
			row := out.Pix[y*out.Stride:][:4*letters.W]
			copy(row, img.Pix[y*img.Stride:])
			for x, share := range letters.Row(y) {
				if share == 0 {
					continue
				}
				pixel := row[4*x : 4*x+4]
				under := colour.Stored{R: pixel[0], G: pixel[1], B: pixel[2]}.Linear()
				to := white
				if under.Y() > 0.3 {
					to = colour.Linear{}
				}
				store(pixel, colour.Mix(under, to, markShade*float64(share)/65535), 0.5)
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return out, nil
}
