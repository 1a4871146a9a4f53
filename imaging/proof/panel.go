package proof

import (
	"image"
	"image/draw"
	"math"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

// Panel lays the proof of the picture on its panel, seen from the front, as a
// picture of w x h pixels: all round the raster lies the untouched top coat. A
// picture whose size in pixels fits its place to a pixel is copied as it is, any
// other is averaged to size in linear light. Without a w or h of 1 or more the
// picture is empty.
func Panel(r Recipe, pl layout.Placement, picture *image.RGBA, w, h int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, max(0, w), max(0, h)))
	draw.Draw(img, img.Rect, image.NewUniform(untouched(r)), image.Point{}, draw.Src)
	if img.Rect.Empty() || picture == nil || picture.Rect.Empty() {
		return img
	}
	size := pl.Panel.Size
	perX, perY := float64(w)/float64(size.W), float64(h)/float64(size.H)
	upperLeft, lowerRight := pl.Corners[0], pl.Corners[2]
	place := window{
		x0: float64(size.W/2+upperLeft.X) * perX, x1: float64(size.W/2+lowerRight.X) * perX,
		y0: float64(size.H/2-upperLeft.Y) * perY, y1: float64(size.H/2-lowerRight.Y) * perY,
	}
	if at, ok := place.whole(picture.Rect.Size()); ok {
		draw.Draw(img, at, picture, picture.Rect.Min, draw.Src)
		return img
	}
	place.lay(picture, img)
	return img
}

// untouched is the stored colour of the top coat under the recipe's finish.
func untouched(r Recipe) colour.Stored {
	if len(r.Stack.Coats) == 0 {
		return r.Stack.Ground.Colour
	}
	top := r.Stack.Coats[0].Colour
	seen, err := r.Options.Finish.Seen(top.Linear())
	if err != nil {
		return top
	}
	return seen.Stored()
}

// window is a rectangle in pixels, with fractions.
type window struct{ x0, y0, x1, y1 float64 }

// whole is the window in whole pixels when a picture of that size fills it
// within a pixel each way.
func (p window) whole(size image.Point) (image.Rectangle, bool) {
	if math.Abs(p.x1-p.x0-float64(size.X)) > 1 || math.Abs(p.y1-p.y0-float64(size.Y)) > 1 {
		return image.Rectangle{}, false
	}
	at := image.Pt(int(math.Round((p.x0+p.x1-float64(size.X))/2)), int(math.Round((p.y0+p.y1-float64(size.Y))/2)))
	return image.Rectangle{Min: at, Max: at.Add(size)}, true
}

// lay averages the picture into the window, mixing it at the edges with what is there.
func (p window) lay(picture, onto *image.RGBA) {
	pw, ph := picture.Rect.Dx(), picture.Rect.Dy()
	across, down := cover(p.x0, p.x1, pw, onto.Rect.Dx()), cover(p.y0, p.y1, ph, onto.Rect.Dy())
	for y, rows := range down {
		for x, columns := range across {
			covered := rows.sum() * columns.sum()
			if covered == 0 {
				continue
			}
			pixel := onto.Pix[y*onto.Stride+4*x:][:3]
			for c := range pixel {
				light := meanOf(picture, rows, columns, c) + (1-covered)*colour.DecodeByte(pixel[c])
				pixel[c] = colour.EncodeByte(light)
			}
		}
	}
}

// part is one sample's share of a pixel.
type part struct {
	sample int
	share  float64
}

type parts []part

func (p parts) sum() float64 {
	sum := 0.0
	for _, s := range p {
		sum += s.share
	}
	return min(1, sum)
}

// cover lists, for each of pixels pixels, the samples that lie on it when n of
// them fill the stretch from..to.
func cover(from, to float64, n, pixels int) []parts {
	all := make([]parts, pixels)
	step := (to - from) / float64(n)
	for p := range all {
		low, high := (float64(p)-from)/step, (float64(p+1)-from)/step // in samples
		for s := max(0, int(math.Floor(low))); s < n && float64(s) < high; s++ {
			if share := (math.Min(high, float64(s+1)) - math.Max(low, float64(s))) * step; share > 0 {
				all[p] = append(all[p], part{s, share})
			}
		}
	}
	return all
}

// meanOf is the light that one colour of the picture brings to a pixel.
func meanOf(picture *image.RGBA, rows, columns parts, c int) float64 {
	sum := 0.0
	for _, r := range rows {
		line := picture.Pix[r.sample*picture.Stride:]
		for _, s := range columns {
			sum += r.share * s.share * colour.DecodeByte(line[4*s.sample+c])
		}
	}
	return sum
}
