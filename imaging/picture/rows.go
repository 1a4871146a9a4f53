package picture

import (
	"image"
	"image/color"

	"undercoat/imaging/colour"
)

// rowReader writes the linear light of the stored row y, 0 being the first, to
// light: red, green and blue of each pixel. It may be called from several
// goroutines at once.
type rowReader func(y int, light []uint16)

// rows picks the reader for the way the image is held. Each gives what
// anyRows, the plain way through At, gives.
func rows(img image.Image, over paper) rowReader {
	switch img := img.(type) {
	case *image.YCbCr:
		return ycbcrRows(img)
	case *image.Gray:
		return grayRows(img)
	case *image.Gray16:
		return gray16Rows(img)
	case *image.NRGBA:
		return nrgbaRows(img, over)
	case *image.RGBA:
		return rgbaRows(img, over)
	case *image.NRGBA64:
		return nrgba64Rows(img, over)
	case *image.RGBA64:
		return rgba64Rows(img, over)
	case *image.Paletted:
		return palettedRows(img, over)
	case *image.CMYK:
		return cmykRows(img)
	}
	return anyRows(img, over)
}

func anyRows(img image.Image, over paper) rowReader {
	b := img.Bounds()
	return func(y int, light []uint16) {
		for x := range b.Dx() {
			c := over.show(img.At(b.Min.X+x, b.Min.Y+y))
			copy(light[3*x:], c[:])
		}
	}
}

// show is the linear light of any colour over the paper.
func (p paper) show(c color.Color) [3]uint16 {
	r, g, b, a := straight(c)
	table := light16()
	return [3]uint16{under(table[r], p[0], a), under(table[g], p[1], a), under(table[b], p[2], a)}
}

// straight is a colour's stored value, not multiplied by its alpha, at 16 bits.
func straight(c color.Color) (r, g, b, a uint32) {
	switch c := c.(type) {
	case color.NRGBA:
		return 257 * uint32(c.R), 257 * uint32(c.G), 257 * uint32(c.B), 257 * uint32(c.A)
	case color.NRGBA64:
		return uint32(c.R), uint32(c.G), uint32(c.B), uint32(c.A)
	}
	r, g, b, a = c.RGBA()
	return divided(r, a), divided(g, a), divided(b, a), a
}

// divided takes the alpha out of a premultiplied value. A value above its alpha
// does not occur in a sound image and is cut to white.
func divided(v, a uint32) uint32 {
	if a == full || a == 0 {
		return min(v, a)
	}
	return min(v*full/a, full)
}

// ycbcrRows follows color.YCbCr.RGBA, which keeps 16 bits of the conversion, so
// that the look-up costs no second rounding to 8 bits.
func ycbcrRows(img *image.YCbCr) rowReader {
	b := img.Bounds()
	table := light16()
	chroma := make([]int32, b.Dx()) // where each column finds its chroma, for any subsampling
	for x := range chroma {
		chroma[x] = int32(img.COffset(b.Min.X+x, b.Min.Y) - img.COffset(b.Min.X, b.Min.Y))
	}
	return func(y int, light []uint16) {
		luma := img.Y[img.YOffset(b.Min.X, b.Min.Y+y):]
		c0 := img.COffset(b.Min.X, b.Min.Y+y)
		cb, cr := img.Cb[c0:], img.Cr[c0:]
		luma, light = luma[:len(chroma)], light[:3*len(chroma)]
		for x, c := range chroma {
			yy := int32(luma[x]) * 0x10101
			u, v := int32(cb[c])-128, int32(cr[c])-128
			px := light[3*x : 3*x+3 : 3*x+3]
			px[0] = table[top16(yy+91881*v)]
			px[1] = table[top16(yy-22554*u-46802*v)]
			px[2] = table[top16(yy+116130*u)]
		}
	}
}

// top16 cuts a 24-bit value to its range and takes its upper 16 bits.
func top16(v int32) uint16 {
	if uint32(v)&0xff000000 != 0 {
		v = ^(v >> 31)
		return uint16(v)
	}
	return uint16(v >> 8)
}

func grayRows(img *image.Gray) rowReader {
	b := img.Bounds()
	return func(y int, light []uint16) {
		for x, v := range img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
			l := colour.DecodeByte16(v)
			light[3*x], light[3*x+1], light[3*x+2] = l, l, l
		}
	}
}

func gray16Rows(img *image.Gray16) rowReader {
	b := img.Bounds()
	table := light16()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			l := table[be16(pix[2*x:])]
			light[3*x], light[3*x+1], light[3*x+2] = l, l, l
		}
	}
}

func be16(b []byte) uint16 { return uint16(b[0])<<8 | uint16(b[1]) }

func nrgbaRows(img *image.NRGBA, over paper) rowReader {
	b := img.Bounds()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, s := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			px[0], px[1], px[2] = colour.DecodeByte16(s[0]), colour.DecodeByte16(s[1]), colour.DecodeByte16(s[2])
			if s[3] != 0xff {
				over.blend(px, 257*uint32(s[3]))
			}
		}
	}
}

func rgbaRows(img *image.RGBA, over paper) rowReader {
	b := img.Bounds()
	table := light16()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, s := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			if s[3] == 0xff {
				px[0], px[1], px[2] = colour.DecodeByte16(s[0]), colour.DecodeByte16(s[1]), colour.DecodeByte16(s[2])
				continue
			}
			a := 257 * uint32(s[3])
			for c := range px {
				px[c] = table[divided(257*uint32(s[c]), a)]
			}
			over.blend(px, a)
		}
	}
}

func nrgba64Rows(img *image.NRGBA64, over paper) rowReader {
	b := img.Bounds()
	table := light16()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, s := light[3*x:3*x+3:3*x+3], pix[8*x:8*x+8:8*x+8]
			px[0], px[1], px[2] = table[be16(s)], table[be16(s[2:])], table[be16(s[4:])]
			if a := be16(s[6:]); a != full {
				over.blend(px, uint32(a))
			}
		}
	}
}

func rgba64Rows(img *image.RGBA64, over paper) rowReader {
	b := img.Bounds()
	table := light16()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, s := light[3*x:3*x+3:3*x+3], pix[8*x:8*x+8:8*x+8]
			a := uint32(be16(s[6:]))
			for c := range px {
				px[c] = table[divided(uint32(be16(s[2*c:])), a)]
			}
			if a != full {
				over.blend(px, a)
			}
		}
	}
}

// blend lays a pixel's light, of alpha a, over the paper.
func (p paper) blend(px []uint16, a uint32) {
	for c := range px {
		px[c] = under(px[c], p[c], a)
	}
}

func palettedRows(img *image.Paletted, over paper) rowReader {
	b := img.Bounds()
	var shown [256][3]uint16 // an index past the palette, which decoders refuse or fill, shows black
	for i, c := range img.Palette[:min(len(img.Palette), 256)] {
		shown[i] = over.show(c)
	}
	return func(y int, light []uint16) {
		for x, i := range img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
			c := &shown[i]
			light[3*x], light[3*x+1], light[3*x+2] = c[0], c[1], c[2]
		}
	}
}

// cmykRows follows color.CMYK.RGBA: each ink takes its share of what black leaves.
func cmykRows(img *image.CMYK) rowReader {
	b := img.Bounds()
	table := light16()
	return func(y int, light []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, s := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			left := full - 257*uint32(s[3])
			for c := range px {
				px[c] = table[(full-257*uint32(s[c]))*left/full]
			}
		}
	}
}
