package picture

import (
	"bytes"
	"image"
	"image/color"

	"golang.org/x/image/tiff"
)

func decodeTIFF(r stoppable) (image.Image, error) {
	img, err := tiff.Decode(r)
	if err != nil {
		return nil, err
	}
	switch img := img.(type) {
	case *image.Gray:
		d := firstDirectory(r.file)
		if c := d.number(tagCompression, tiffUncompressed); c == tiffFax3 || c == tiffFax4 {
			if d.number(tagPhotometric, 0) == tiffBlackIsZero {
				invert(img.Pix)
			}
		}
	case *image.Paletted:
		widen(img.Palette)
	}
	return img, nil
}

// invert turns fax coding the right way round where black is zero: the white of
// the code is then black, which the decoder does not know.
// Source: TIFF 6.0, Adobe 1992, section 11, PhotometricInterpretation.
func invert(pix []byte) {
	for i := range pix {
		pix[i] = ^pix[i]
	}
}

// widen spreads palettes written as 256 times a byte, rather than 257 times, to
// the full range, so that their white is white. Common practice, no source.
func widen(p color.Palette) {
	for _, c := range p {
		if v, ok := c.(color.RGBA64); !ok || (v.R|v.G|v.B)&0xff != 0 {
			return
		}
	}
	for i, c := range p {
		v := c.(color.RGBA64)
		p[i] = color.RGBA64{R: v.R | v.R>>8, G: v.G | v.G>>8, B: v.B | v.B>>8, A: v.A}
	}
}

// Tags of the first directory. Source: TIFF 6.0, Adobe 1992; ICC.1:2022, annex B.3
// (34675); DNG 1.7, Adobe 2023 (50706).
const (
	tagSubfile       = 254
	tagBits          = 258
	tagCompression   = 259
	tagPhotometric   = 262
	tagStripOffsets  = 273
	tagSamples       = 277
	tagStripRows     = 278
	tagStripBytes    = 279
	tagPlanar        = 284
	tagTileWidth     = 322
	tagTileHeight    = 323
	tagTileOffsets   = 324
	tagTileBytes     = 325
	tagExtra         = 338
	tagProfile       = 34675
	tagRawVersion    = 50706
	tiffReduced      = 1 // in tagSubfile: a smaller copy of another picture in the file
	tiffSeparate     = 2 // in tagPlanar: each channel by itself
	tiffBlackIsZero  = 1 // in tagPhotometric
	tiffRGB          = 2
	tiffInks         = 5
	tiffUncompressed = 1 // in tagCompression
	tiffFax3         = 3
	tiffFax4         = 4
)

// What TIFF compresses by, and the most bytes that one byte can hold: LZW codes
// of 9 to 12 bits stand for at most 4096 bytes, PackBits repeats a byte 128 times
// by two. Source: TIFF 6.0, Adobe 1992, sections 9 and 13.
var tiffMostPacked = map[uint32]int64{0: 1, 1: 1, 5: 4096 * 8 / 9, 8: mostDeflated, 32946: mostDeflated, 32773: 64}

const (
	errRaw = plainError("the file is a camera raw picture, of which only a small preview could be read here: " +
		"develop it and save it as 16-bit TIFF or JPEG")
	errInkTIFF  = plainError("the TIFF file is in inks (CMYK), which are read from JPEG files only: save it as an RGB TIFF or PNG")
	errChannels = plainError("the TIFF file has channels beside its colours, and does not say that they are alpha: save it without them")
	errSeparate = plainError("the TIFF file stores each colour by itself (planar), which is not read here: save it with interleaved colours")
)

func probeTIFF(data []byte) (facts, error) {
	d := firstDirectory(data)
	_, raw := d.find(tagRawVersion)
	switch {
	case raw != nil || d.number(tagSubfile, 0)&tiffReduced != 0:
		return facts{}, errRaw
	case d.number(tagPhotometric, 0) == tiffInks:
		return facts{}, errInkTIFF
	case d.number(tagPlanar, 1) == tiffSeparate && d.number(tagSamples, 1) > 1:
		return facts{}, errSeparate
	case d.number(tagPhotometric, 0) == tiffRGB && len(d.numbers(tagBits)) > 3 && d.number(tagExtra, 0) == 0:
		return facts{}, errChannels
	}
	c, err := tiff.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	t := facts{channels: 3, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    int(d.number(tagBits, 1)),
		Orientation: d.orientation(),
		MemoryBytes: int64(c.Width)*int64(c.Height)*int64(bytesPerPixel(c.ColorModel)) + d.unpacking(c),
	}}
	if c.ColorModel == color.GrayModel || c.ColorModel == color.Gray16Model {
		t.channels = 1
	}
	if kind, profile := d.find(tagProfile); kind != 0 {
		if t.profile = profile; profile == nil {
			t.profileFault = errProfileShort
		}
	}
	return t, nil
}

// unpacking bounds what the decoder needs for one strip or tile while it unpacks
// it: at most 8 bytes a pixel, and of what is not packed no more than the file has,
// in a buffer that grows by doubling; and the places of the tiles.
func (d directory) unpacking(c image.Config) int64 {
	const most, growing, tilePad = 8, 3, 1024
	w, h := int64(c.Width), min(int64(c.Height), max(1, int64(d.number(tagStripRows, 1<<31))))
	places := int64(0)
	if tw := d.number(tagTileWidth, 0); tw != 0 {
		w = min(int64(tw), max(w, tilePad))
		h = min(int64(d.number(tagTileHeight, 0)), max(int64(c.Height), tilePad))
		places = int64(c.Width) * int64(c.Height) / 2 // of tiles of at least 8 x 8 pixels
	}
	strip := most * w * h
	if d.number(tagCompression, tiffUncompressed) == tiffUncompressed {
		strip = min(strip, int64(len(d.block)))
	}
	return growing*strip + places
}

// endedTIFF tells whether the strips, or tiles, lie within the file.
func endedTIFF(data []byte) bool {
	d := firstDirectory(data)
	if len(d.entries) == 0 {
		return false
	}
	for _, tags := range [][2]uint16{{tagStripOffsets, tagStripBytes}, {tagTileOffsets, tagTileBytes}} {
		offsets, sizes := d.numbers(tags[0]), d.numbers(tags[1])
		for i := range min(len(offsets), len(sizes)) {
			if uint64(offsets[i])+uint64(sizes[i]) > uint64(len(data)) {
				return false
			}
		}
	}
	return true
}

// tiffHolds refuses a file that cannot hold what its header claims.
func tiffHolds(t facts, data []byte) error {
	d := firstDirectory(data)
	w, h := int64(t.W), int64(t.H)
	most, known := tiffMostPacked[d.number(tagCompression, tiffUncompressed)]
	samples := max(1, int64(len(d.numbers(tagBits))))
	if known && w*h*samples*int64(t.BitDepth)/8/most > int64(len(data)) {
		return tooShort("TIFF", t.Header, data)
	}
	if !known && max(w, h)/8 > int64(len(data)) { // fax coding spends a bit a row at least
		return tooShort("TIFF", t.Header, data)
	}
	return nil
}
