package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
)

func decodePNG(r io.Reader) (image.Image, error) { return png.Decode(r) }

// The IHDR chunk comes first: length, type, width, height, depth, colour type.
// Source: PNG (Third Edition), W3C 2025, 11.2.1.
const (
	pngDepthAt  = 24
	pngColourAt = 25
)

// pngChannels is the number of samples a pixel, by colour type.
// Source: PNG (Third Edition), W3C 2025, table 12 (colour types).
var pngChannels = map[byte]int64{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}

func probePNG(data []byte) (Header, error) {
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return Header{}, err
	}
	return Header{
		W: c.Width, H: c.Height,
		BitDepth:    int(data[pngDepthAt]),
		Orientation: pngOrientation(data),
		MemoryBytes: int64(c.Width) * int64(c.Height) * int64(bytesPerPixel(c.ColorModel)),
	}, nil
}

func endedPNG(data []byte) bool { return bytes.Contains(data, []byte("IEND")) }

// pngHolds refuses a file that cannot hold what its header claims, before the
// pixels are set aside for it. Deflate packs at most 1032 bytes into one.
// Source: zlib technical details, "Maximum Compression Factor", zlib.net.
func pngHolds(h Header, data []byte) error {
	const mostPacked = 1032
	bits := int64(h.W) * int64(h.H) * int64(h.BitDepth) * pngChannels[data[pngColourAt]]
	if bits/8/mostPacked > int64(len(data)) {
		return fmt.Errorf("the PNG file says %d x %d pixels but its %d bytes cannot hold them: copy or download it again",
			h.W, h.H, len(data))
	}
	return nil
}

// pngOrientation looks for an eXIf chunk, which holds the same TIFF block as a
// JPEG's EXIF segment. Source: PNG (Third Edition), W3C 2025, 11.3.4.5 (eXIf).
func pngOrientation(data []byte) int {
	for at := 8; at+8 <= len(data); {
		n := int64(binary.BigEndian.Uint32(data[at:]))
		if n > int64(len(data)-at-8) {
			break
		}
		if string(data[at+4:at+8]) == "eXIf" {
			return tiffOrientation(data[at+8 : at+8+int(n)])
		}
		at += 12 + int(n)
	}
	return 1
}

// bytesPerPixel is what Go's decoders set aside for a pixel of a colour model.
func bytesPerPixel(m color.Model) int {
	switch m {
	case color.GrayModel:
		return 1
	case color.Gray16Model:
		return 2
	case color.YCbCrModel:
		return 3
	case color.RGBA64Model, color.NRGBA64Model:
		return 8
	}
	if _, ok := m.(color.Palette); ok {
		return 1
	}
	return 4
}

func isUnsupported(err error) bool {
	var p png.UnsupportedError
	var j jpeg.UnsupportedError
	return errors.As(err, &p) || errors.As(err, &j)
}
