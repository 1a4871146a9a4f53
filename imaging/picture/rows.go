package picture

import (
	"image"
	"image/color"
)

// rowReader writes the stored row y, 0 being the first: to light the red, green
// and blue of each pixel, taken through the curves of a space, and to alpha, which
// is nil where the image is opaque, its alpha. Light is not multiplied by alpha.
// It may be called from several goroutines at once.
type rowReader func(y int, light, alpha []uint16)

// rows picks the reader for the way the image is held, and tells whether it
// writes alpha. Each gives what anyRows, the plain way through At, gives.
func rows(img image.Image, s *space) (read rowReader, translucent bool) {
	switch img := img.(type) {
	case *image.YCbCr:
		return ycbcrRows(img, s), false
	case video:
		return videoRows(img.YCbCr, s), false
	case videoAlpha:
		return videoAlphaRows(img, s), true
	case *image.Gray:
		return grayRows(img, s), false
	case *image.Gray16:
		return gray16Rows(img, s), false
	case *image.NRGBA:
		return nrgbaRows(img, s), true
	case *image.RGBA:
		return rgbaRows(img, s), true
	case *image.NRGBA64:
		return nrgba64Rows(img, s), true
	case *image.RGBA64:
		return rgba64Rows(img, s), true
	case *image.Paletted:
		return palettedRows(img, s), true
	case framed:
		return framedRows(img, s), true
	case *image.CMYK:
		return cmykRows(img, s), false
	}
	return anyRows(img, s), true
}

func anyRows(img image.Image, s *space) rowReader {
	b := img.Bounds()
	return func(y int, light, alpha []uint16) {
		for x := range b.Dx() {
			r, g, b, a := straight(img.At(b.Min.X+x, b.Min.Y+y))
			light[3*x], light[3*x+1], light[3*x+2] = s.curves[0][r], s.curves[1][g], s.curves[2][b]
			alpha[x] = uint16(a)
		}
	}
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

func grayRows(img *image.Gray, s *space) rowReader {
	b := img.Bounds()
	table := s.bytes()
	return func(y int, light, _ []uint16) {
		for x, v := range img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
			px := light[3*x : 3*x+3 : 3*x+3]
			px[0], px[1], px[2] = table[0][v], table[1][v], table[2][v]
		}
	}
}

func gray16Rows(img *image.Gray16, s *space) rowReader {
	b := img.Bounds()
	return func(y int, light, _ []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			v := be16(pix[2*x:])
			px := light[3*x : 3*x+3 : 3*x+3]
			px[0], px[1], px[2] = s.curves[0][v], s.curves[1][v], s.curves[2][v]
		}
	}
}

func be16(b []byte) uint16 { return uint16(b[0])<<8 | uint16(b[1]) }

func nrgbaRows(img *image.NRGBA, s *space) rowReader {
	b := img.Bounds()
	table := s.bytes()
	return func(y int, light, alpha []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, v := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			px[0], px[1], px[2] = table[0][v[0]], table[1][v[1]], table[2][v[2]]
			alpha[x] = 257 * uint16(v[3])
		}
	}
}

func rgbaRows(img *image.RGBA, s *space) rowReader {
	b := img.Bounds()
	table := s.bytes()
	return func(y int, light, alpha []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, v := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			a := 257 * uint32(v[3])
			alpha[x] = uint16(a)
			if a == full {
				px[0], px[1], px[2] = table[0][v[0]], table[1][v[1]], table[2][v[2]]
				continue
			}
			for c := range px {
				px[c] = s.curves[c][divided(257*uint32(v[c]), a)]
			}
		}
	}
}

func nrgba64Rows(img *image.NRGBA64, s *space) rowReader {
	b := img.Bounds()
	return func(y int, light, alpha []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, v := light[3*x:3*x+3:3*x+3], pix[8*x:8*x+8:8*x+8]
			px[0], px[1], px[2] = s.curves[0][be16(v)], s.curves[1][be16(v[2:])], s.curves[2][be16(v[4:])]
			alpha[x] = be16(v[6:])
		}
	}
}

func rgba64Rows(img *image.RGBA64, s *space) rowReader {
	b := img.Bounds()
	return func(y int, light, alpha []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, v := light[3*x:3*x+3:3*x+3], pix[8*x:8*x+8:8*x+8]
			a := uint32(be16(v[6:]))
			alpha[x] = uint16(a)
			for c := range px {
				px[c] = s.curves[c][divided(uint32(be16(v[2*c:])), a)]
			}
		}
	}
}

// shownColour is a palette's entry: its light and its alpha.
type shownColour struct{ r, g, b, a uint16 }

func palettedRows(img *image.Paletted, s *space) rowReader {
	b := img.Bounds()
	var shown [256]shownColour
	for i := range shown {
		shown[i].a = full // an index past the palette, which decoders refuse or fill, shows black
	}
	for i, c := range img.Palette[:min(len(img.Palette), 256)] {
		r, g, b, a := straight(c)
		shown[i] = shownColour{s.curves[0][r], s.curves[1][g], s.curves[2][b], uint16(a)}
	}
	return func(y int, light, alpha []uint16) {
		for x, i := range img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
			c, px := &shown[i], light[3*x:3*x+3:3*x+3]
			px[0], px[1], px[2] = c.r, c.g, c.b
			alpha[x] = c.a
		}
	}
}

// cmykRows lets the profile's cube mix the inks. Without one it follows
// color.CMYK.RGBA: each ink takes its share of what black leaves.
func cmykRows(img *image.CMYK, s *space) rowReader {
	b := img.Bounds()
	if s.cube != nil && s.cube.channels == 4 {
		return func(y int, light, _ []uint16) {
			pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
			for x := range b.Dx() {
				v := pix[4*x : 4*x+4 : 4*x+4]
				inks := [4]uint16{257 * uint16(v[0]), 257 * uint16(v[1]), 257 * uint16(v[2]), 257 * uint16(v[3])}
				s.cube.light(inks[:], light[3*x:3*x+3:3*x+3])
			}
		}
	}
	return func(y int, light, _ []uint16) {
		pix := img.Pix[img.PixOffset(b.Min.X, b.Min.Y+y):]
		for x := range b.Dx() {
			px, v := light[3*x:3*x+3:3*x+3], pix[4*x:4*x+4:4*x+4]
			left := full - 257*uint32(v[3])
			for c := range px {
				px[c] = s.curves[c][(full-257*uint32(v[c]))*left/full]
			}
		}
	}
}
