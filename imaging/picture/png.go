package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/png"
)

func decodePNG(r stoppable) (image.Image, error) { return png.Decode(r) }

// The IHDR chunk comes first: length, type, width, height, depth, colour type,
// compression, filter, interlace. Source: PNG (Third Edition), W3C 2025, 11.2.1.
const (
	pngSignature   = 8
	pngChunkFrame  = 12 // length, type and checksum
	pngDepthAt     = 24
	pngColourAt    = 25
	pngInterlaceAt = 28
)

// pngChannels is the number of samples a pixel, by colour type.
// Source: PNG (Third Edition), W3C 2025, table 12 (colour types).
var pngChannels = map[byte]int64{0: 1, 2: 3, 3: 1, 4: 2, 6: 4}

func probePNG(data []byte) (facts, error) {
	c, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	s := scanPNG(data)
	perPixel := int64(bytesPerPixel(c.ColorModel))
	if s.transparency && data[pngColourAt] != 3 { // the decoder then adds alpha
		perPixel = max(4, 4*int64(data[pngDepthAt])/8)
	}
	if data[pngInterlaceAt] != 0 {
		perPixel *= 2 // the passes are decoded by themselves
	}
	t := facts{channels: 3, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    int(data[pngDepthAt]),
		Orientation: s.orientation,
		MemoryBytes: int64(c.Width) * int64(c.Height) * perPixel,
	}}
	if c.ColorModel == color.GrayModel || c.ColorModel == color.Gray16Model || data[pngColourAt] == 4 {
		t.channels = 1
	}
	s.colours(&t)
	return t, nil
}

func endedPNG(data []byte) bool { return bytes.Contains(data, []byte("IEND")) }

// pngHolds refuses a file that cannot hold what its header claims, before the
// pixels are set aside for it.
func pngHolds(t facts, data []byte) error {
	bits := int64(t.W) * int64(t.H) * int64(t.BitDepth) * pngChannels[data[pngColourAt]]
	if bits/8/mostDeflated > int64(len(data)) {
		return tooShort("PNG", t.Header, data)
	}
	return nil
}

// mostDeflated is how many bytes deflate packs into one at most.
// Source: zlib technical details, "Maximum Compression Factor", zlib.net.
const mostDeflated = 1032

// pngScan is what the chunks before the pixels tell.
type pngScan struct {
	orientation  int
	transparency bool
	chunks       map[string][]byte // the first of each kind that speaks of colours
}

// scanPNG walks the chunks up to the pixels, and beyond them for an eXIf chunk
// only, which may stand anywhere and holds the same TIFF block as a JPEG's EXIF
// segment. It never fails: what a damaged file does not tell stays at its default.
// Source: PNG (Third Edition), W3C 2025, 5.6 (order), 11.3.4.5 (eXIf).
func scanPNG(data []byte) pngScan {
	s := pngScan{orientation: 1, chunks: map[string][]byte{}}
	seenEXIF, pixels := false, false
	for at := pngSignature; at+8 <= len(data); {
		n := int64(binary.BigEndian.Uint32(data[at:]))
		if n > int64(len(data)-at-8) {
			break
		}
		body := data[at+8 : at+8+int(n)]
		switch kind := string(data[at+4 : at+8]); kind {
		case "eXIf":
			if !seenEXIF {
				seenEXIF, s.orientation = true, exifOrientation(body)
			}
		case "IDAT":
			pixels = true
		case "tRNS":
			s.transparency = true
		case "cICP", "iCCP", "sRGB", "gAMA", "cHRM":
			if _, twice := s.chunks[kind]; !twice && !pixels {
				s.chunks[kind] = body
			}
		}
		at += pngChunkFrame + int(n)
	}
	return s
}
