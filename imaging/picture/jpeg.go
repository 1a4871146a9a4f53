package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/jpeg"
	"io"
)

func decodeJPEG(r io.Reader) (image.Image, error) { return jpeg.Decode(r) }

const errFourNoAdobe = plainError("the JPEG file has four channels and does not say what they stand for " +
	"(it has no Adobe marker): open it in an image editor and save it as an RGB JPEG or PNG")

func probeJPEG(data []byte) (Header, error) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return Header{}, err
	}
	s := scanJPEG(data)
	if s.channels == 4 && !s.adobe {
		return Header{}, errFourNoAdobe
	}
	perPixel := int64(bytesPerPixel(c.ColorModel))
	if s.channels == 4 {
		perPixel += 4 // the planes are kept until they are woven into one
	}
	if s.progressive {
		perPixel += 4 * int64(s.channels) // coefficients are 32 bits each and all are kept
	}
	return Header{
		W: c.Width, H: c.Height,
		BitDepth:    8,
		Orientation: s.orientation,
		MemoryBytes: int64(c.Width) * int64(c.Height) * perPixel,
	}, nil
}

func endedJPEG(data []byte) bool {
	return bytes.Contains(data[scanJPEG(data).pixelsAt:], []byte{0xff, markEOI})
}

// jpegScan is what the segments before the pixels tell.
type jpegScan struct {
	orientation int
	channels    int
	progressive bool
	adobe       bool
	pixelsAt    int // where the scan ended
}

// JPEG markers. Source: ITU-T T.81 (1992), table B.1; APP14 "Adobe" is Adobe
// technical note 5116.
const (
	markSOF0, markSOF2  = 0xc0, 0xc2
	markSOI, markEOI    = 0xd8, 0xd9
	markSOS             = 0xda
	markRST0, markTEM   = 0xd0, 0x01
	markAPP1, markAPP14 = 0xe1, 0xee
	exifHead, adobeHead = "Exif\x00\x00", "Adobe"
	sofChannelsAt       = 5 // in a frame header, after its length
)

// scanJPEG walks the segments up to the first scan. It never fails: what a
// damaged file does not tell stays at its default.
func scanJPEG(data []byte) jpegScan {
	s := jpegScan{orientation: 1}
	seenEXIF := false
	at := 2
	for at+4 <= len(data) {
		if data[at] != 0xff {
			at++ // stray bytes between segments are passed over, as the decoder does
			continue
		}
		mark := data[at+1]
		if mark == 0xff || mark == 0 {
			at++
			continue
		}
		if mark == markTEM || mark >= markRST0 && mark <= markSOI {
			at += 2
			continue
		}
		length := int(binary.BigEndian.Uint16(data[at+2:]))
		if mark == markSOS || mark == markEOI || length < 2 || length > len(data)-at-2 {
			break
		}
		body := data[at+4 : at+2+length]
		switch {
		case mark >= markSOF0 && mark <= markSOF2 && len(body) > sofChannelsAt:
			s.channels, s.progressive = int(body[sofChannelsAt]), mark == markSOF2
		case mark == markAPP1 && !seenEXIF && bytes.HasPrefix(body, []byte(exifHead)):
			seenEXIF = true
			s.orientation = tiffOrientation(body[len(exifHead):])
		case mark == markAPP14 && bytes.HasPrefix(body, []byte(adobeHead)):
			s.adobe = true
		}
		at += 2 + length
	}
	s.pixelsAt = min(at, len(data))
	return s
}
