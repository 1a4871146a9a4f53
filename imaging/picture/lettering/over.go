package lettering

import (
	"errors"

	"undercoat/imaging/plane"
)

var errSizes = errors.New("picture and lettering differ in size: make both for the same raster or view")

// OverDots puts lettering over a picture's dots: those kept are cleared, those
// burned are set. Without a picture dots is an empty raster. The result is new.
func OverDots(dots, burn, keep *plane.Bits) (*plane.Bits, error) {
	if dots.W != burn.W || dots.H != burn.H || dots.W != keep.W || dots.H != keep.H {
		return nil, errSizes
	}
	out := plane.NewBits(dots.W, dots.H)
	for i := range out.Pix {
		out.Pix[i] = dots.Pix[i]&^keep.Pix[i] | burn.Pix[i]
	}
	return out, nil
}

// OverTints puts a view of lettering over the tints of a view of the picture,
// each by its share of the pixel. The result is new.
func OverTints(tints, burn, keep *plane.Grey16) (*plane.Grey16, error) {
	if tints.W != burn.W || tints.H != burn.H || tints.W != keep.W || tints.H != keep.H {
		return nil, errSizes
	}
	out := plane.NewGrey16(tints.W, tints.H)
	for i, t := range tints.Pix {
		burned, kept := uint64(burn.Pix[i]), uint64(keep.Pix[i])
		rest := 65535 - min(burned+kept, 65535)
		out.Pix[i] = uint16(burned + (uint64(t)*rest+32767)/65535)
	}
	return out, nil
}
