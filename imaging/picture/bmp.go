package picture

import (
	"bytes"
	"encoding/binary"
	"image"

	"golang.org/x/image/bmp"
)

// decodeBMP takes a picture that is clear all over for an opaque one: many writers
// leave the byte that may be alpha at zero. Common practice, no source.
func decodeBMP(r stoppable) (image.Image, error) {
	img, err := bmp.Decode(r)
	if img, ok := img.(*image.NRGBA); ok && clearAllOver(img) {
		for i := 3; i < len(img.Pix); i += 4 {
			img.Pix[i] = 0xff
		}
	}
	return img, err
}

func clearAllOver(img *image.NRGBA) bool {
	for i := 3; i < len(img.Pix); i += 4 {
		if img.Pix[i] != 0 {
			return false
		}
	}
	return true
}

// Where the headers of a BMP hold the start of the pixels and the bits of one.
// Source: Microsoft, Windows GDI documentation, BITMAPFILEHEADER, BITMAPINFOHEADER.
const bmpPixelsAt, bmpBitsAt = 10, 28

func probeBMP(data []byte) (facts, error) {
	c, err := bmp.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	bits := int(binary.LittleEndian.Uint16(data[bmpBitsAt:]))
	perPixel := 4
	if bits <= 8 {
		perPixel = 1
	}
	return facts{channels: 3, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    min(bits, 8),
		Orientation: 1,
		MemoryBytes: int64(c.Width) * int64(c.Height) * int64(perPixel),
	}}, nil
}

func endedBMP(data []byte) bool {
	t, err := probeBMP(data)
	return err == nil && bmpHolds(t, data) == nil
}

// bmpHolds refuses a file that is shorter than its pixels, which are not packed:
// rows fill up to whole groups of four bytes.
func bmpHolds(t facts, data []byte) error {
	bits := int64(binary.LittleEndian.Uint16(data[bmpBitsAt:]))
	pixels := (int64(t.W)*bits + 31) / 32 * 4 * int64(t.H)
	if int64(binary.LittleEndian.Uint32(data[bmpPixelsAt:]))+pixels > int64(len(data)) {
		return tooShort("BMP", t.Header, data)
	}
	return nil
}
