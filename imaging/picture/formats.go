package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"io"
	"strings"
)

// format is one kind of file that can be read. A new one is a new line in
// formats and nothing else.
type format struct {
	name   string // as in Header.Format and, in capitals, in messages
	magic  string // how such a file starts
	probe  func(data []byte) (Header, error)
	ended  func(data []byte) bool            // whether the file has its end
	holds  func(h Header, data []byte) error // refuses a file too short for what its header claims; may be nil
	decode func(r io.Reader) (image.Image, error)
}

var formats = []format{
	{name: "jpeg", magic: "\xff\xd8", probe: probeJPEG, ended: endedJPEG, decode: decodeJPEG},
	{name: "png", magic: "\x89PNG\r\n\x1a\n", probe: probePNG, ended: endedPNG, holds: pngHolds, decode: decodePNG},
}

// strangers are files people try that are not read; naming them saves a search
// for what is wrong.
var strangers = []struct {
	at          int
	magic, name string
}{
	{0, "GIF8", "GIF picture"},
	{0, "BM", "BMP picture"},
	{0, "II*\x00", "TIFF or camera raw picture"},
	{0, "MM\x00*", "TIFF or camera raw picture"},
	{8, "WEBP", "WebP picture"},
	{4, "ftyphei", "HEIC picture"},
	{4, "ftypmif1", "HEIC picture"},
	{4, "ftypavif", "AVIF picture"},
	{0, "%PDF", "PDF document"},
	{0, "8BPS", "layered image editor file"},
	{0, "PK\x03\x04", "zip archive"},
	{0, "<svg", "SVG drawing"},
	{0, "<?xml", "XML or SVG file"},
}

var errEmpty = errors.New("the picture file is empty (0 bytes): copy or download it again")

func formatOf(data []byte) (format, error) {
	if len(data) == 0 {
		return format{}, errEmpty
	}
	for _, f := range formats {
		if bytes.HasPrefix(data, []byte(f.magic)) {
			return f, nil
		}
	}
	for _, s := range strangers {
		if len(data) > s.at && bytes.HasPrefix(data[s.at:], []byte(s.magic)) {
			return format{}, fmt.Errorf("the file is a %s, not a JPEG or PNG: save it as JPEG or PNG and open that", s.name)
		}
	}
	head := data[:min(len(data), 16)]
	if isText(data[:min(len(data), 512)]) {
		return format{}, fmt.Errorf("the file holds text (%q...), not a picture, whatever its name says: choose a JPEG or PNG file", head)
	}
	return format{}, fmt.Errorf("the file is neither JPEG nor PNG (it starts with % x): save the picture as JPEG or PNG and open that", head)
}

// isText looks for control bytes, which text has none of and pictures many.
func isText(head []byte) bool {
	for _, b := range head {
		if b < ' ' && !strings.ContainsRune("\t\r\n\f", rune(b)) {
			return false
		}
	}
	return true
}
