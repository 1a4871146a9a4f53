package export

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"undercoat/imaging/burn"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// ReadRaster reads a raster that may have come from elsewhere: a PNG in which
// black burns and white does not. Values between are shares of the power, in
// proportion to the stored value; a PNG of black and white alone is a one-bit
// raster. At most layout.MaxDots dots are read.
func ReadRaster(data []byte) (burn.Source, error) {
	head, err := png.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, rasterError(err)
	}
	if head.Width < 1 || head.Height < 1 || head.Width > layout.MaxDots/head.Height {
		return nil, fmt.Errorf("raster of %d x %d dots is out of range: use one of 1 to %d dots", head.Width, head.Height, layout.MaxDots)
	}
	img, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, rasterError(err)
	}
	if !grey(img) {
		return nil, errors.New("this PNG is in colour, as a proof is: give a raster in black and white or greys, in which black burns")
	}
	shares, oneBit := sharesOf(img)
	if !oneBit {
		return burn.EightBit(shares), nil
	}
	dots := plane.NewBits(shares.W, shares.H)
	for y := range shares.H {
		for x, share := range shares.Row(y) {
			if share != 0 {
				dots.Set(x, y)
			}
		}
	}
	return burn.OneBit(dots), nil
}

// grey tells whether every pixel has its three parts alike and hides nothing.
func grey(img image.Image) bool {
	switch img.(type) {
	case *image.Gray, *image.Gray16:
		return true
	}
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			r, g, bl, a := img.At(x, y).RGBA()
			if r != g || g != bl || a != math.MaxUint16 {
				return false
			}
		}
	}
	return true
}

// sharesOf is the power share of each dot, and whether none is between 0 and 1.
func sharesOf(img image.Image) (shares *plane.Grey16, oneBit bool) {
	b := img.Bounds()
	shares, oneBit = plane.NewGrey16(b.Dx(), b.Dy()), true
	for y := range shares.H {
		row := shares.Row(y)
		for x := range row {
			stored := color.Gray16Model.Convert(img.At(b.Min.X+x, b.Min.Y+y)).(color.Gray16).Y
			row[x] = math.MaxUint16 - stored
			oneBit = oneBit && (row[x] == 0 || row[x] == math.MaxUint16)
		}
	}
	return shares, oneBit
}

func rasterError(err error) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return errors.New("the raster ends too early: the file is empty or cut short")
	}
	return fmt.Errorf("the raster cannot be read (%w): give a PNG in which black burns", err)
}
