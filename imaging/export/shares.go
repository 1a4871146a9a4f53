package export

import (
	"io"

	"undercoat/imaging/plane"
	"undercoat/layout"
)

// WriteShares writes shares of power, of 65535, as an eight-bit greyscale PNG for
// machines that take a power for each dot: white does not burn, black burns with the
// setting's full power, and what lies between is in proportion to the stored value.
// All else is as [WriteRaster] has it.
func WriteShares(w io.Writer, shares *plane.Grey16, pitch layout.MM) error {
	r, err := newRasterWriter(w, shares.W, shares.H, 8, pitch)
	if err != nil {
		return err
	}
	row := make([]byte, shares.W)
	for y := range shares.H {
		for x, v := range shares.Row(y) {
			row[x] = byte((uint32(v) + 128) / 257)
		}
		if err := r.WriteRow(row); err != nil {
			return err
		}
	}
	return r.Close()
}
