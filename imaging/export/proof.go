package export

import (
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
)

// WriteProof writes a picture whose pixels are stored sRGB values as a PNG that
// says so (sRGB and gAMA chunks), and with its true size (pHYs) if dotsPerMetre
// is above 0. The picture needs at least one pixel and may lie anywhere.
func WriteProof(w io.Writer, img image.Image, dotsPerMetre int) error {
	if img == nil || img.Bounds().Empty() {
		return fmt.Errorf("proof without a pixel: give it at least 1 x 1 pixels")
	}
	if dotsPerMetre < 0 || dotsPerMetre > math.MaxInt32 {
		return fmt.Errorf("proof at %d dots per metre: must be 1 to %d, or 0 to leave its size open", dotsPerMetre, math.MaxInt32)
	}
	extra := appendStoredSpace(nil)
	if dotsPerMetre > 0 {
		extra = appendPhysical(extra, uint32(dotsPerMetre))
	}
	// A proof is looked at once or twice and often remade: speed before size.
	encoder := png.Encoder{CompressionLevel: png.BestSpeed}
	if err := encoder.Encode(&headInserter{w: w, extra: extra}, img); err != nil {
		return fmt.Errorf("write the proof: %w", err)
	}
	return nil
}

// headInserter passes a PNG through and adds extra chunks right after its IHDR,
// which lies within the first headLength bytes of every PNG.
type headInserter struct {
	w     io.Writer
	extra []byte
	seen  int // bytes of the head passed so far
}

// headLength is the signature's 8 bytes, and IHDR's 13 between its 8 and 4 of frame.
const headLength = 8 + 8 + 13 + 4

func (h *headInserter) Write(p []byte) (int, error) {
	head := min(headLength-h.seen, len(p))
	if head == 0 {
		return h.w.Write(p)
	}
	n, err := h.w.Write(p[:head])
	h.seen += n
	if err != nil || h.seen < headLength {
		return n, err
	}
	if _, err := h.w.Write(h.extra); err != nil {
		return n, err
	}
	rest, err := h.w.Write(p[head:])
	return n + rest, err
}
