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

// Grey is the picture as one plane of linear light, upright and turned by t: the
// luminance, by the Rec. 709 weights, of its colours in linear light with the sRGB
// primaries, at 16 bits. A colour outside sRGB keeps its luminance where the file's
// profile is of three primaries. Transparent parts show the paper, mixed in linear
// light.
func (p *Picture) Grey(ctx context.Context, t Turn, paper colour.Stored) (*plane.Grey16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	g := plane.NewGrey16(p.Size(t))
	over := paperOf(paper)
	if err := p.lay(ctx, t, greySheet{g, p.space.weights, rec709.luminance(over[0], over[1], over[2])}); err != nil {
		return nil, err
	}
	return g, nil
}

// RGB is the picture in colour as linear light with the sRGB primaries, upright
// and turned by t. Of a colour outside sRGB each channel is cut to 0..1 by itself.
// Transparent parts show the paper, mixed in linear light.
func (p *Picture) RGB(ctx context.Context, t Turn, paper colour.Stored) (*plane.RGB16, error) {
	if err := t.Validate(); err != nil {
		return nil, err
	}
	c := plane.NewRGB16(p.Size(t))
	if err := p.lay(ctx, t, rgbSheet{c, p.space.matrix, paperOf(paper)}); err != nil {
		return nil, err
	}
	return c, nil
}

// sheet is a plane that rows of light are laid on: straight, or by way of a
// strip that the turning library can turn.
type sheet interface {
	// show is what the plane holds of one row: light over the paper, as grey or
	// in colour. Alpha is nil where the row is opaque.
	show(into, light, alpha []uint16)
	row(y int) []uint16
	strip(w, h int) draw.Image
	pack(strip draw.Image, y int, values []uint16)
	place(strip draw.Image, corner image.Point)
}

// stripPixels bounds the work between two looks at the context, and what the
// turning needs beside the planes.
const stripPixels = 1 << 17

func (p *Picture) lay(ctx context.Context, t Turn, s sheet) error {
	b := p.img.Bounds()
	turn := orientations[p.header.Orientation].then(t)
	read, translucent := p.rows()
	l := layer{read, p.quick(s), translucent, turn, turn.filter(), s, b.Dy()}
	deep := max(1, stripPixels/b.Dx())
	return plane.SplitRows(ctx, b.Dy(), func(ctx context.Context, y0, y1 int) error {
		row := l.newRow(b.Dx())
		for y := y0; y < y1; y += deep {
			if err := ctx.Err(); err != nil {
				return err
			}
			l.strip(image.Rect(0, y, b.Dx(), min(y+deep, y1)), row)
		}
		return nil
	})
}

// rows reads the picture through its space, but for the matrix, which the sheets
// lay over the light.
func (p *Picture) rows() (read rowReader, translucent bool) {
	read, translucent = rows(p.img, p.space)
	if c := p.space.cube; c != nil && c.channels == 3 {
		plain := read
		read = func(y int, light, alpha []uint16) {
			plain(y, light, alpha)
			c.row(light)
		}
	}
	return read, translucent
}

// quick makes a sheet's values of the stored row y at once, as reading and showing it
// would; nil where there is no quicker way.
func (p *Picture) quick(s sheet) func(y int, values []uint16) {
	img, ok := p.img.(*image.YCbCr)
	if _, grey := s.(greySheet); !ok || !grey || p.space.cube != nil {
		return nil
	}
	return ycbcrGrey(img, p.space)
}

// layer brings stored rows, turned, onto a sheet.
type layer struct {
	read        rowReader
	quick       func(y int, values []uint16) // nil: by reading and showing
	translucent bool
	turn        Turn
	filter      gift.Filter // does the turn; nil where there is nothing to turn
	sheet       sheet
	height      int // stored rows in all
}

// rowSpace is the room that one worker needs for a row.
type rowSpace struct{ light, alpha, values []uint16 }

func (l layer) newRow(w int) rowSpace {
	r := rowSpace{light: make([]uint16, 3*w)}
	if l.translucent {
		r.alpha = make([]uint16, w)
	}
	if l.filter != nil {
		r.values = make([]uint16, 3*w)
	}
	return r
}

// strip lays the stored rows of r.
func (l layer) strip(r image.Rectangle, row rowSpace) {
	if l.filter == nil {
		for y := r.Min.Y; y < r.Max.Y; y++ {
			l.values(y, l.sheet.row(y), row)
		}
		return
	}
	src := l.sheet.strip(r.Dx(), r.Dy())
	for y := r.Min.Y; y < r.Max.Y; y++ {
		l.values(y, row.values, row)
		l.sheet.pack(src, y-r.Min.Y, row.values)
	}
	g := gift.New(l.filter)
	g.SetParallelization(false) // the rows are already shared out
	dst := l.sheet.strip(l.turn.size(r.Dx(), r.Dy()))
	g.Draw(dst, src)
	l.sheet.place(dst, l.turn.corner(r.Min.Y, r.Max.Y, l.height))
}

// values are what the sheet holds of the stored row y.
func (l layer) values(y int, into []uint16, row rowSpace) {
	if l.quick != nil {
		l.quick(y, into)
		return
	}
	l.read(y, row.light, row.alpha)
	l.sheet.show(into, row.light, row.alpha)
}

// greySheet weighs the light as it comes through the curves, so that a colour
// outside sRGB keeps its luminance.
type greySheet struct {
	*plane.Grey16
	weights weights
	paper   uint16
}

func (s greySheet) show(into, light, alpha []uint16) {
	w := s.weights
	into = into[:len(light)/3]
	for x := range into {
		px := light[3*x : 3*x+3 : 3*x+3]
		into[x] = w.luminance(px[0], px[1], px[2])
	}
	for x, a := range alpha {
		if a != full {
			into[x] = under(into[x], s.paper, a)
		}
	}
}

func (s greySheet) row(y int) []uint16 { return s.Row(y) }

func (greySheet) strip(w, h int) draw.Image { return image.NewGray16(image.Rect(0, 0, w, h)) }

func (greySheet) pack(strip draw.Image, y int, values []uint16) {
	img := strip.(*image.Gray16)
	out := img.Pix[y*img.Stride : (y+1)*img.Stride]
	for x := range len(out) / 2 {
		binary.BigEndian.PutUint16(out[2*x:], values[x])
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

// rgbSheet takes the light to the sRGB primaries; what lies outside is cut off
// channel by channel.
type rgbSheet struct {
	*plane.RGB16
	matrix *matrix // nil where the light is of those primaries already
	paper  paper
}

func (s rgbSheet) show(into, light, alpha []uint16) {
	into = into[:len(light)]
	copy(into, light)
	if s.matrix != nil {
		s.matrix.light(into)
	}
	for x, a := range alpha {
		if a != full {
			px := into[3*x : 3*x+3 : 3*x+3]
			for c := range px {
				px[c] = under(px[c], s.paper[c], a)
			}
		}
	}
}

func (s rgbSheet) row(y int) []uint16 { return s.Row(y) }

// strip is not premultiplied: the library would divide by alpha, which is a
// rounding more than an opaque picture needs.
func (rgbSheet) strip(w, h int) draw.Image { return image.NewNRGBA64(image.Rect(0, 0, w, h)) }

func (rgbSheet) pack(strip draw.Image, y int, values []uint16) {
	img := strip.(*image.NRGBA64)
	out := img.Pix[y*img.Stride : (y+1)*img.Stride]
	for x := range len(out) / 8 {
		px := out[8*x : 8*x+8 : 8*x+8]
		for c := range 3 {
			binary.BigEndian.PutUint16(px[2*c:], values[3*x+c])
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
