package picture

import (
	"context"
	"encoding/binary"
	"image"
	"image/draw"

	"github.com/disintegration/gift"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// Grey is the picture as one plane of linear light, upright and turned by t:
// each channel is decoded from sRGB and the three are weighed by Rec. 709, at
// 16 bits. Transparent parts show the paper, mixed in linear light.
func (p *Picture) Grey(ctx context.Context, t Turn, paper colour.Stored) (*plane.Grey16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	g := plane.NewGrey16(p.Size(t))
	if err := p.lay(ctx, t, paper, greySheet{g}); err != nil {
		return nil, err
	}
	return g, nil
}

// RGB is the picture in colour as linear light, upright and turned by t.
// Transparent parts show the paper, mixed in linear light.
func (p *Picture) RGB(ctx context.Context, t Turn, paper colour.Stored) (*plane.RGB16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	c := plane.NewRGB16(p.Size(t))
	if err := p.lay(ctx, t, paper, rgbSheet{c}); err != nil {
		return nil, err
	}
	return c, nil
}

// sheet is a plane that rows of light are laid on: straight, or by way of a
// strip that the turning library can hold.
type sheet interface {
	row(y int, light []uint16)                    // a row of the shown picture
	strip(w, h int) draw.Image                    // a blank strip
	load(strip draw.Image, y int, light []uint16) // a row of a strip
	place(strip draw.Image, corner image.Point)   // a whole strip, turned, on the plane
}

// stripPixels bounds the work between two looks at the context, and what the
// turning needs beside the planes.
const stripPixels = 1 << 17

func (p *Picture) lay(ctx context.Context, t Turn, paper colour.Stored, s sheet) error {
	b := p.img.Bounds()
	turn := orientations[p.header.Orientation].then(t)
	l := layer{rows(p.img, paperOf(paper)), turn, turn.filter(), s, b.Dy()}
	deep := max(1, stripPixels/b.Dx())
	return plane.SplitRows(ctx, b.Dy(), func(ctx context.Context, y0, y1 int) error {
		light := make([]uint16, 3*b.Dx())
		for y := y0; y < y1; y += deep {
			if err := ctx.Err(); err != nil {
				return err
			}
			l.strip(image.Rect(0, y, b.Dx(), min(y+deep, y1)), light)
		}
		return nil
	})
}

// layer brings stored rows, turned, onto a sheet.
type layer struct {
	read   rowReader
	turn   Turn
	filter gift.Filter // does the turn; nil where there is nothing to turn
	sheet  sheet
	height int // stored rows in all
}

// strip lays the stored rows of r; light has room for one row.
func (l layer) strip(r image.Rectangle, light []uint16) {
	if l.filter == nil {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			l.read(y, light)
			l.sheet.row(y, light)
		}
		return
	}
	src := l.sheet.strip(r.Dx(), r.Dy())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		l.read(y, light)
		l.sheet.load(src, y-r.Min.Y, light)
	}
	g := gift.New(l.filter)
	g.SetParallelization(false) // the rows are already shared out
	dst := l.sheet.strip(l.turn.size(r.Dx(), r.Dy()))
	g.Draw(dst, src)
	l.sheet.place(dst, l.turn.corner(r.Min.Y, r.Max.Y, l.height))
}

type greySheet struct{ *plane.Grey16 }

func (s greySheet) row(y int, light []uint16) {
	out := s.Row(y)
	for x := range out {
		px := light[3*x : 3*x+3 : 3*x+3]
		out[x] = luminance(px[0], px[1], px[2])
	}
}

func (greySheet) strip(w, h int) draw.Image { return image.NewGray16(image.Rect(0, 0, w, h)) }

func (greySheet) load(strip draw.Image, y int, light []uint16) {
	img := strip.(*image.Gray16)
	out := img.Pix[y*img.Stride : (y+1)*img.Stride]
	for x := range len(out) / 2 {
		binary.BigEndian.PutUint16(out[2*x:], luminance(light[3*x], light[3*x+1], light[3*x+2]))
	}
}

func (s greySheet) place(strip draw.Image, corner image.Point) {
	img := strip.(*image.Gray16)
	for y := range img.Rect.Dy() {
		unpack(s.Row(corner.Y + y)[corner.X:], img.Pix[y*img.Stride:(y+1)*img.Stride])
	}
}

// unpack reads the big-endian values of an image of the standard library.
func unpack(into []uint16, pix []byte) {
	into = into[:len(pix)/2]
	for i := range into {
		into[i] = binary.BigEndian.Uint16(pix[2*i:])
	}
}

type rgbSheet struct{ *plane.RGB16 }

func (s rgbSheet) row(y int, light []uint16) { copy(s.Row(y), light) }

// strip is not premultiplied: the library would divide by alpha, which is a
// rounding more than an opaque picture needs.
func (rgbSheet) strip(w, h int) draw.Image { return image.NewNRGBA64(image.Rect(0, 0, w, h)) }

func (rgbSheet) load(strip draw.Image, y int, light []uint16) {
	img := strip.(*image.NRGBA64)
	out := img.Pix[y*img.Stride : (y+1)*img.Stride]
	for x := range len(out) / 8 {
		px := out[8*x : 8*x+8 : 8*x+8]
		for c := range 3 {
			binary.BigEndian.PutUint16(px[2*c:], light[3*x+c])
		}
		px[6], px[7] = 0xff, 0xff
	}
}

func (s rgbSheet) place(strip draw.Image, corner image.Point) {
	img := strip.(*image.NRGBA64)
	for y := range img.Rect.Dy() {
		pix := img.Pix[y*img.Stride : (y+1)*img.Stride]
		out := s.Row(corner.Y + y)[3*corner.X:]
		for x := range img.Rect.Dx() {
			unpack(out[3*x:3*x+3], pix[8*x:8*x+6])
		}
	}
}
