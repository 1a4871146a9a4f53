package picture

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"strings"
)

// format is one kind of file that can be read. A new one is a new line in
// formats and nothing else.
type format struct {
	name   string   // as in Header.Format
	title  string   // as in messages
	magics []string // how such a file may start; ? stands for any byte
	probe  func(data []byte) (facts, error)
	ended  func(data []byte) bool           // whether the file has its end
	holds  func(t facts, data []byte) error // refuses a file too short for what its header claims; may be nil
	decode func(r stoppable) (image.Image, error)
}

var formats = []format{
	{"jpeg", "JPEG", []string{"\xff\xd8"}, probeJPEG, endedJPEG, jpegHolds, decodeJPEG},
	{"png", "PNG", []string{"\x89PNG\r\n\x1a\n"}, probePNG, endedPNG, pngHolds, decodePNG},
	{"gif", "GIF", []string{"GIF87a", "GIF89a"}, probeGIF, endedGIF, gifHolds, decodeGIF},
	{"webp", "WebP", []string{"RIFF????WEBP"}, probeWebP, endedWebP, webpHolds, decodeWebP},
	{"tiff", "TIFF", []string{"II*\x00", "MM\x00*"}, probeTIFF, endedTIFF, tiffHolds, decodeTIFF},
	{"bmp", "BMP", []string{"BM????\x00\x00\x00\x00"}, probeBMP, endedBMP, bmpHolds, decodeBMP},
}

// readable names the formats in messages.
const readable = "JPEG, PNG, TIFF, WebP, GIF or BMP"

// strangers are files people try that are not read; naming them saves a search
// for what is wrong.
var strangers = []struct{ magic, name string }{
	{"????ftyphei", "HEIC picture"},
	{"????ftypmif1", "HEIC picture"},
	{"????ftypavif", "AVIF picture"},
	{"????ftypcrx", "camera raw picture"},
	{"II+\x00", "TIFF of the kind for more than 4 GB"},
	{"MM\x00+", "TIFF of the kind for more than 4 GB"},
	{"IIU\x00", "camera raw picture"},
	{"FUJIFILM", "camera raw picture"},
	{"\x00\x00\x00\x0cjP  ", "JPEG 2000 picture"},
	{"\xff\x0a", "JPEG XL picture"},
	{"\x00\x00\x00\x0cJXL ", "JPEG XL picture"},
	{"%PDF", "PDF document"},
	{"8BPS", "layered image editor file"},
	{"PK\x03\x04", "zip archive"},
}

// drawings are told apart from other text by these, within the first bytes.
const svgMark = "<svg"

var errEmpty = errors.New("the picture file is empty (0 bytes): copy or download it again")

func formatOf(data []byte) (format, error) {
	if len(data) == 0 {
		return format{}, errEmpty
	}
	for _, f := range formats {
		for _, m := range f.magics {
			if starts(data, m) {
				return f, nil
			}
		}
	}
	return format{}, unknown(data)
}

// starts tells whether data starts as magic says.
func starts(data []byte, magic string) bool {
	if len(data) < len(magic) {
		return false
	}
	for i := range len(magic) {
		if magic[i] != '?' && magic[i] != data[i] {
			return false
		}
	}
	return true
}

// unknown says what a file that cannot be read seems to be.
func unknown(data []byte) error {
	for _, s := range strangers {
		if starts(data, s.magic) {
			return fmt.Errorf("the file is a %s, which is not read here: save it as %s and open that", s.name, readable)
		}
	}
	text := data[:min(len(data), 512)]
	head := data[:min(len(data), 16)]
	switch {
	case bytes.Contains(text, []byte(svgMark)):
		return errors.New("the file is an SVG drawing, which is not read here: export it as PNG, with as many pixels as the panel is to have dots, and open that")
	case isText(text):
		return fmt.Errorf("the file holds text (%q...), not a picture, whatever its name says: choose a %s file", head, readable)
	}
	return fmt.Errorf("the file is not one of %s (it starts with % x): save the picture as one of these and open that", readable, head)
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

// tooShort is what holds says of a file whose header promises more than the most
// that its bytes can hold.
func tooShort(title string, h Header, data []byte) error {
	return fmt.Errorf("the %s file says %d x %d pixels but its %d bytes cannot hold them: copy or download it again", title, h.W, h.H, len(data))
}
