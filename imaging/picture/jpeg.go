package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
)

func decodeJPEG(r stoppable) (image.Image, error) { return jpeg.Decode(r) }

const errFourNoAdobe = plainError("the JPEG file has four channels and does not say what they stand for " +
	"(it has no Adobe marker): open it in an image editor and save it as an RGB JPEG or PNG")

func probeJPEG(data []byte) (facts, error) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	s := scanJPEG(data)
	if s.channels == 4 && !s.adobe {
		return facts{}, errFourNoAdobe
	}
	perPixel := int64(bytesPerPixel(c.ColorModel))
	if s.channels == 4 || c.ColorModel == color.RGBAModel {
		perPixel += 4 // the planes are kept until they are woven into one
	}
	if s.progressive {
		perPixel += 4 * int64(s.channels) // coefficients are 32 bits each and all are kept
	}
	t := facts{channels: s.channels, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    8,
		Orientation: s.orientation,
		// Blocks are filled up to whole units of at most 32 x 32 pixels.
		MemoryBytes: int64(c.Width+31) * int64(c.Height+31) * perPixel,
	}}
	t.profile, t.profileFault = s.profile.joined()
	return t, nil
}

func endedJPEG(data []byte) bool {
	return bytes.Contains(data[scanJPEG(data).pixelsAt:], []byte{0xff, markEOI})
}

// jpegHolds refuses a file that cannot hold what its header claims: every block of
// 8 x 8 pixels takes a bit at least. Source: ITU-T T.81 (1992), F.1.2.1 and G.1.2.1:
// a difference code for each block, and no code is shorter than a bit.
func jpegHolds(t facts, data []byte) error {
	const pixelsPerByte = 8 * 8 * 8
	if int64(t.W)*int64(t.H)/pixelsPerByte > int64(len(data)) {
		return tooShort("JPEG", t.Header, data)
	}
	return nil
}

// jpegScan is what the segments before the pixels tell.
type jpegScan struct {
	orientation int
	channels    int
	progressive bool
	adobe       bool
	profile     profileParts
	pixelsAt    int // where the scan ended
}

// JPEG markers. Source: ITU-T T.81 (1992), table B.1; APP14 "Adobe" is Adobe
// technical note 5116; APP2 "ICC_PROFILE" is ICC.1:2022, annex B.4.
const (
	markSOF0, markSOF2            = 0xc0, 0xc2
	markSOI, markEOI              = 0xd8, 0xd9
	markSOS                       = 0xda
	markRST0, markTEM             = 0xd0, 0x01
	markAPP1, markAPP2, markAPP14 = 0xe1, 0xe2, 0xee
	exifHead, iccHead, adobeHead  = "Exif\x00\x00", "ICC_PROFILE\x00", "Adobe"
	sofChannelsAt                 = 5 // in a frame header, after its length
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
			s.orientation = exifOrientation(body[len(exifHead):])
		case mark == markAPP2 && bytes.HasPrefix(body, []byte(iccHead)):
			s.profile.add(body[len(iccHead):])
		case mark == markAPP14 && bytes.HasPrefix(body, []byte(adobeHead)):
			s.adobe = true
		}
		at += 2 + length
	}
	s.pixelsAt = min(at, len(data))
	return s
}

// profileParts is a profile in the parts that segments of at most 64 kB can hold.
// Each says which it is, from 1, and of how many.
type profileParts struct {
	parts [256][]byte
	of    byte
	seen  int
	bad   bool
}

func (p *profileParts) add(body []byte) {
	if len(body) < 2 {
		p.bad = true
		return
	}
	number, of := body[0], body[1]
	if number < 1 || number > of || p.of != 0 && p.of != of || p.parts[number] != nil {
		p.bad = true
		return
	}
	p.of, p.parts[number] = of, body[2:]
	p.seen++
}

// joined is nil where there is no profile.
func (p *profileParts) joined() ([]byte, error) {
	switch {
	case p.bad:
		return nil, errors.New("its parts in the file do not fit together")
	case p.seen == 0:
		return nil, nil
	case p.seen < int(p.of):
		return nil, fmt.Errorf("the file holds %d of its %d parts", p.seen, p.of)
	}
	return bytes.Join(p.parts[:], nil), nil
}
