package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	"image/color"
	"image/gif"
)

// decodeGIF gives the first frame in its place on the screen that the file
// describes; around it the picture is transparent.
func decodeGIF(r stoppable) (image.Image, error) {
	c, err := gif.DecodeConfig(bytes.NewReader(r.file))
	if err != nil {
		return nil, err
	}
	img, err := gif.Decode(r)
	if err != nil {
		return nil, err
	}
	frame, screen := img.(*image.Paletted), image.Rect(0, 0, c.Width, c.Height)
	if frame.Rect == screen {
		return frame, nil
	}
	return framed{frame, screen}, nil
}

const errNoFrame = plainError("the GIF file holds no picture: export it again from where it came")

// A screen descriptor follows the signature; a frame's descriptor its mark.
// Source: GIF89a, CompuServe 1990, 18 and 20.
const (
	gifFlagsAt, gifScreenEnd = 10, 13
	gifFrameDescriptor       = 10
	gifMarkFrame             = 0x2c
	gifMarkExtension         = 0x21
	gifMarkEnd               = 0x3b
	gifHasTable              = 0x80
)

func probeGIF(data []byte) (facts, error) {
	c, err := gif.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return facts{}, err
	}
	if _, ended := firstFrame(data); ended {
		return facts{}, errNoFrame
	}
	return facts{channels: 3, Header: Header{
		W: c.Width, H: c.Height,
		BitDepth:    8,
		Orientation: 1,
		MemoryBytes: 2 * int64(c.Width) * int64(c.Height), // twice for a frame whose rows are interlaced
	}}, nil
}

func endedGIF(data []byte) bool { return bytes.Contains(data, []byte{0, gifMarkEnd}) }

// gifHolds refuses a frame that the bytes cannot hold. A code is of three bits at
// least and stands for at most 4096 pixels. Source: GIF89a, CompuServe 1990, annex F.
func gifHolds(t facts, data []byte) error {
	const mostPerByte = 4096 * 8 / 3
	frame, _ := firstFrame(data)
	if int64(frame.X)*int64(frame.Y)/mostPerByte > int64(len(data)) {
		return tooShort("GIF", t.Header, data)
	}
	return nil
}

// firstFrame is the size of the first frame, or ended where the file closes
// without one. What is broken off gives neither.
func firstFrame(data []byte) (size image.Point, ended bool) {
	if len(data) < gifScreenEnd {
		return image.Point{}, false
	}
	at := gifScreenEnd
	if flags := data[gifFlagsAt]; flags&gifHasTable != 0 {
		at += 3 << (1 + flags&7)
	}
	for at < len(data) {
		switch data[at] {
		case gifMarkEnd:
			return image.Point{}, true
		case gifMarkFrame:
			if at+gifFrameDescriptor > len(data) {
				return image.Point{}, false
			}
			le := binary.LittleEndian
			return image.Pt(int(le.Uint16(data[at+5:])), int(le.Uint16(data[at+7:]))), false
		case gifMarkExtension:
			at += 2 // its kind, then blocks, each after its length, up to an empty one
			for at < len(data) && data[at] != 0 {
				at += 1 + int(data[at])
			}
			at++
		default:
			return image.Point{}, false
		}
	}
	return image.Point{}, false
}

// framed is a frame that leaves a part of its screen free.
type framed struct {
	*image.Paletted
	screen image.Rectangle
}

// Bounds are the screen's.
func (f framed) Bounds() image.Rectangle { return f.screen }

// At is transparent outside the frame.
func (f framed) At(x, y int) color.Color {
	if !image.Pt(x, y).In(f.Rect) {
		return color.RGBA{}
	}
	return f.Paletted.At(x, y)
}

func framedRows(f framed, s *space) rowReader {
	read := palettedRows(f.Paletted, s)
	left, right := f.Rect.Min.X-f.screen.Min.X, f.Rect.Max.X-f.screen.Min.X
	return func(y int, light, alpha []uint16) {
		clear(light)
		clear(alpha)
		if in := y + f.screen.Min.Y - f.Rect.Min.Y; in >= 0 && in < f.Rect.Dy() {
			read(in, light[3*left:3*right], alpha[left:right])
		}
	}
}
