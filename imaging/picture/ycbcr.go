package picture

import (
	"image"
	"image/color"
)

// video is a picture in luma and chroma of the narrow range of video, black at 16
// and white at 235, as WebP stores it. The standard library knows the full range
// of JPEG only. Source: RFC 6386 (VP8), section 9.2, by way of ITU-R BT.601.
type video struct{ *image.YCbCr }

// videoAlpha is the same with alpha.
type videoAlpha struct{ *image.NYCbCrA }

// videoRGB is a pixel's stored values at 16 bits: luma is spread by 255/219 and
// chroma by 255/224, so that white is 255 * 0x10101, whose upper 16 bits are 65535.
// Source: ITU-R BT.601-7, 2.5.3 (Kr 0.299, Kb 0.114; 219 and 224 steps).
func videoRGB(y, cb, cr uint8) (r, g, b uint16) {
	yy := (int32(y) - 16) * 76608
	u, v := int32(cb)-128, int32(cr)-128
	return top16(yy + 105007*v), top16(yy - 25775*u - 53488*v), top16(yy + 132720*u)
}

// top16 cuts a 24-bit value to its range and takes its upper 16 bits.
func top16(v int32) uint16 {
	if uint32(v)&0xff000000 != 0 {
		v = ^(v >> 31)
		return uint16(v)
	}
	return uint16(v >> 8)
}

// chromaOf tells where each column finds its chroma, for any subsampling.
func chromaOf(img *image.YCbCr) []int32 {
	b := img.Bounds()
	at := make([]int32, b.Dx())
	for x := range at {
		at[x] = int32(img.COffset(b.Min.X+x, b.Min.Y) - img.COffset(b.Min.X, b.Min.Y))
	}
	return at
}

// ycbcrRows follows color.YCbCr.RGBA, which keeps 16 bits of the conversion, so that
// the look-up costs no second rounding to 8 bits. Source: ITU-T T.871 (JFIF), 7.
func ycbcrRows(img *image.YCbCr, s *space) rowReader {
	b := img.Bounds()
	chroma := chromaOf(img)
	red, green, blue := s.curves[0], s.curves[1], s.curves[2]
	return func(y int, light, _ []uint16) {
		luma := img.Y[img.YOffset(b.Min.X, b.Min.Y+y):]
		c0 := img.COffset(b.Min.X, b.Min.Y+y)
		cb, cr := img.Cb[c0:], img.Cr[c0:]
		luma, light = luma[:len(chroma)], light[:3*len(chroma)]
		for x, c := range chroma {
			yy := int32(luma[x]) * 0x10101
			r, g, b := chromaParts(cb[c], cr[c])
			px := light[3*x : 3*x+3 : 3*x+3]
			px[0], px[1], px[2] = red[top16(yy+r)], green[top16(yy+g)], blue[top16(yy+b)]
		}
	}
}

// ycbcrGrey is ycbcrRows and the luminance in one: of a photograph's pixels it is most
// of the work that is done before resampling. Neighbours that share their chroma, as
// nearly all cameras write them, share what is worked out of it.
func ycbcrGrey(img *image.YCbCr, s *space) func(y int, grey []uint16) {
	b := img.Bounds()
	chroma := chromaOf(img)
	red, green, blue, w := s.curves[0], s.curves[1], s.curves[2], s.weights
	pairs := 0
	if shared := img.SubsampleRatio; b.Min.X&1 == 0 && (shared == image.YCbCrSubsampleRatio420 || shared == image.YCbCrSubsampleRatio422) {
		pairs = b.Dx() / 2
	}
	return func(y int, grey []uint16) {
		luma := img.Y[img.YOffset(b.Min.X, b.Min.Y+y):][:len(chroma)]
		c0 := img.COffset(b.Min.X, b.Min.Y+y)
		cb, cr := img.Cb[c0:], img.Cr[c0:]
		grey = grey[:len(chroma)]
		for i, u := range cb[:pairs] {
			r, g, b := chromaParts(u, cr[i])
			two, out := luma[2*i:2*i+2:2*i+2], grey[2*i:2*i+2:2*i+2]
			y0, y1 := int32(two[0])*0x10101, int32(two[1])*0x10101
			out[0] = w.luminance(red[top16(y0+r)], green[top16(y0+g)], blue[top16(y0+b)])
			out[1] = w.luminance(red[top16(y1+r)], green[top16(y1+g)], blue[top16(y1+b)])
		}
		for x := 2 * pairs; x < len(chroma); x++ {
			r, g, b := chromaParts(cb[chroma[x]], cr[chroma[x]])
			yy := int32(luma[x]) * 0x10101
			grey[x] = w.luminance(red[top16(yy+r)], green[top16(yy+g)], blue[top16(yy+b)])
		}
	}
}

// chromaParts is what a pixel's chroma adds to each channel's luma, at 24 bits.
func chromaParts(cb, cr uint8) (r, g, b int32) {
	u, v := int32(cb)-128, int32(cr)-128
	return 91881 * v, -22554*u - 46802*v, 116130 * u
}

func videoRows(img *image.YCbCr, s *space) rowReader {
	b := img.Bounds()
	chroma := chromaOf(img)
	return func(y int, light, _ []uint16) {
		luma := img.Y[img.YOffset(b.Min.X, b.Min.Y+y):]
		c0 := img.COffset(b.Min.X, b.Min.Y+y)
		for x, c := range chroma {
			r, g, b := videoRGB(luma[x], img.Cb[c0+int(c)], img.Cr[c0+int(c)])
			px := light[3*x : 3*x+3 : 3*x+3]
			px[0], px[1], px[2] = s.curves[0][r], s.curves[1][g], s.curves[2][b]
		}
	}
}

func videoAlphaRows(img videoAlpha, s *space) rowReader {
	b := img.Bounds()
	read := videoRows(&img.YCbCr, s)
	return func(y int, light, alpha []uint16) {
		read(y, light, nil)
		for x, a := range img.A[img.AOffset(b.Min.X, b.Min.Y+y):][:b.Dx()] {
			alpha[x] = 257 * uint16(a)
		}
	}
}

// At is the colour in stored values.
func (v video) At(x, y int) color.Color {
	r, g, b := videoRGB(v.Y[v.YOffset(x, y)], v.Cb[v.COffset(x, y)], v.Cr[v.COffset(x, y)])
	return color.NRGBA64{R: r, G: g, B: b, A: full}
}

// At is the colour in stored values.
func (v videoAlpha) At(x, y int) color.Color {
	c := video{&v.YCbCr}.At(x, y).(color.NRGBA64)
	c.A = 257 * uint16(v.A[v.AOffset(x, y)])
	return c
}
