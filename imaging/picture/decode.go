package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
	"strings"
)

// DefaultMaxPixels is what a zero Limits allows.
const DefaultMaxPixels = 250_000_000

// Limits bounds what Decode takes on. The zero value allows DefaultMaxPixels.
type Limits struct {
	MaxPixels int64 // width times height; 0 or less reads as DefaultMaxPixels
}

// Header is what a file tells before it is decoded.
type Header struct {
	Format      string // "jpeg" or "png"
	W, H        int    // as shown, after Orientation
	Orientation int    // EXIF 1..8; 1 where the file has none or a reserved value
	BitDepth    int    // bits a channel: 1, 2, 4, 8 or 16
	MemoryBytes int64  // estimate for the file, its decoded pixels and one grey plane
}

// Probe reads the header of a JPEG or PNG file and decodes no pixel. The error
// says in one sentence what is wrong with the file and what to do.
func Probe(data []byte) (Header, error) {
	f, err := formatOf(data)
	if err != nil {
		return Header{}, err
	}
	return f.header(data)
}

func (f format) header(data []byte) (Header, error) {
	h, err := f.probe(data)
	if err != nil {
		return Header{}, f.explain(data, err)
	}
	if h.W < 1 || h.H < 1 {
		return Header{}, fmt.Errorf("the picture is %d x %d pixels by its header, so the file is damaged: export it again", h.W, h.H)
	}
	h.Format = f.name
	h.MemoryBytes += int64(len(data)) + 2*int64(h.W)*int64(h.H)
	h.W, h.H = orientations[h.Orientation].size(h.W, h.H)
	return h, nil
}

// Picture is a decoded picture. It does not change and may be shared between
// goroutines.
type Picture struct {
	header Header
	img    image.Image
}

// Decode reads a JPEG or PNG file. The header is checked against lim before
// anything of the picture's size is set aside, so a small file that claims a
// huge picture costs nothing. Decoding stops when ctx ends.
func Decode(ctx context.Context, data []byte, lim Limits) (*Picture, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	f, err := formatOf(data)
	if err != nil {
		return nil, err
	}
	h, err := f.header(data)
	if err != nil {
		return nil, err
	}
	if err := lim.allow(h); err != nil {
		return nil, err
	}
	if f.holds != nil {
		if err := f.holds(h, data); err != nil {
			return nil, err
		}
	}
	img, err := f.decode(&stoppable{ctx, bytes.NewReader(data)})
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, f.explain(data, err)
	}
	p := &Picture{header: h, img: img}
	if w, ht := p.Size(Turn{}); w != h.W || ht != h.H {
		return nil, fmt.Errorf("the picture is %d x %d pixels but its header says %d x %d: export it again", w, ht, h.W, h.H)
	}
	return p, nil
}

func (lim Limits) allow(h Header) error {
	most := lim.MaxPixels
	if most <= 0 {
		most = DefaultMaxPixels
	}
	if n := int64(h.W) * int64(h.H); n > most {
		return fmt.Errorf("the picture is %d x %d = %.0f million pixels, more than the %.0f million allowed: make it smaller in an image editor first",
			h.W, h.H, float64(n)/1e6, float64(most)/1e6)
	}
	return nil
}

// New takes an image that is already in memory, read as sRGB; its bounds may
// start anywhere. It must not change afterwards.
func New(img image.Image) (*Picture, error) {
	b := img.Bounds()
	if b.Empty() {
		return nil, fmt.Errorf("the picture is %d x %d pixels: give one of at least 1 x 1", b.Dx(), b.Dy())
	}
	depth := 8
	switch img.(type) {
	case *image.Gray16, *image.NRGBA64, *image.RGBA64:
		depth = 16
	}
	n := int64(b.Dx()) * int64(b.Dy())
	return &Picture{img: img, header: Header{
		W: b.Dx(), H: b.Dy(), Orientation: 1, BitDepth: depth,
		MemoryBytes: n * int64(bytesPerPixel(img.ColorModel())+2),
	}}, nil
}

// Header is what the file told; Format is empty for a picture made by New.
func (p *Picture) Header() Header { return p.header }

// stoppable makes a decoder, which knows nothing of contexts, end with one.
type stoppable struct {
	ctx context.Context
	r   io.Reader
}

func (s *stoppable) Read(into []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(into)
}

// explain puts a decoder's error into words that lead on. A file that lacks its
// end was broken off, whichever way the decoder noticed.
func (f format) explain(data []byte, err error) error {
	kind := strings.ToUpper(f.name)
	var plain plainError
	switch {
	case errors.As(err, &plain):
		return err
	case isUnsupported(err):
		return fmt.Errorf("the %s file uses a feature that is not read here (%w): save it again as an ordinary JPEG or PNG", kind, err)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF), !f.ended(data):
		return fmt.Errorf("the %s file ends too early, as if a copy had been broken off (%w): copy or download it again", kind, err)
	}
	return fmt.Errorf("the %s file is damaged (%w): export it again from where it came", kind, err)
}

// plainError is a sentence that needs no further explaining.
type plainError string

func (e plainError) Error() string { return string(e) }
