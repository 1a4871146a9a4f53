package picture

import (
	"errors"
	"image/color"
	"image/jpeg"
	"image/png"

	"golang.org/x/image/bmp"
	"golang.org/x/image/tiff"
)

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

// isUnsupported tells a sound file that is beyond its decoder.
func isUnsupported(err error) bool {
	var p png.UnsupportedError
	var j jpeg.UnsupportedError
	var t tiff.UnsupportedError
	return errors.As(err, &p) || errors.As(err, &j) || errors.As(err, &t) || errors.Is(err, bmp.ErrUnsupported)
}
