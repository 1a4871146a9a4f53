package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"io"

	"golang.org/x/image/webp"
)

// decodeWebP marks lossy pictures for what they are: the decoder hands their luma
// and chroma on in an image that stands for those of JPEG.
func decodeWebP(r stoppable) (image.Image, error) {
	img, err := webp.Decode(r)
	switch img := img.(type) {
	case *image.YCbCr:
		return video{img}, err
	case *image.NYCbCrA:
		return videoAlpha{img}, err
	}
	return img, err
}

const errAnimated = plainError("the WebP file is an animation, which is not read here: save one frame of it as PNG and open that")

func probeWebP(data []byte) (facts, error) {
	s := scanWebP(data)
	if !s.whole {
		// The decoder would set aside what the chunks claim to hold.
		return facts{}, io.ErrUnexpectedEOF
	}
	if s.animated {
		return facts{}, errAnimated
	}
	c, err := webp.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	// Beside the picture: what a lossless one is decoded from, and its code tables,
	// which grow with the file. Lossy pixels come in blocks of 16 x 16.
	perPixel, tables := int64(2), int64(0)
	if s.lossless {
		perPixel, tables = 9, min(256*int64(len(data)), 160<<20)
	}
	if s.alpha {
		perPixel, tables = perPixel+10, min(256*int64(len(data)), 160<<20)
	}
	t := facts{channels: 3, profile: s.profile, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    8,
		Orientation: s.orientation,
		MemoryBytes: int64(c.Width+15)*int64(c.Height+15)*perPixel + tables,
	}}
	if c.ColorModel == color.GrayModel {
		t.channels = 1
	}
	return t, nil
}

func endedWebP(data []byte) bool { return scanWebP(data).whole }

// webpHolds refuses what is packed more tightly than any picture worth burning. A
// WebP of one colour takes some thirty bytes whatever its size, so that no bound
// follows from the format. Common practice, no source.
func webpHolds(t facts, data []byte) error {
	const mostPerByte = 1 << 16
	if int64(t.W)*int64(t.H)/mostPerByte > int64(len(data)) {
		return tooShort("WebP", t.Header, data)
	}
	return nil
}

// webpScan is what the chunks tell.
type webpScan struct {
	whole           bool // every chunk lies within the file
	animated        bool
	lossless, alpha bool
	orientation     int
	profile         []byte
}

// scanWebP walks the chunks of a RIFF file: four letters, a length, the body, and a
// byte more where the length is odd. Source: RFC 9649 (WebP), 2.3 to 2.7.
func scanWebP(data []byte) webpScan {
	const riffHead, chunkHead = 12, 8
	s := webpScan{orientation: 1}
	le := binary.LittleEndian
	if size := uint64(chunkHead); len(data) < riffHead || size+uint64(le.Uint32(data[4:])) > uint64(len(data)) || le.Uint32(data[4:]) < riffHead-chunkHead {
		return s
	}
	data = data[:chunkHead+int(le.Uint32(data[4:]))]
	seenEXIF := false
	for at := riffHead; at < len(data); {
		if at+chunkHead > len(data) {
			return s
		}
		n := uint64(le.Uint32(data[at+4:]))
		if n > uint64(len(data)-at-chunkHead) {
			return s
		}
		body := data[at+chunkHead : at+chunkHead+int(n)]
		switch string(data[at : at+4]) {
		case "ANIM", "ANMF":
			s.animated = true
		case "VP8L":
			s.lossless = true
		case "ALPH":
			s.alpha = true
		case "EXIF":
			if !seenEXIF { // some writers keep the head that the block has in a JPEG
				seenEXIF, s.orientation = true, exifOrientation(bytes.TrimPrefix(body, []byte(exifHead)))
			}
		case "ICCP":
			if s.profile == nil {
				s.profile = body
			}
		}
		at += chunkHead + int(n+n%2)
	}
	s.whole = true
	return s
}
