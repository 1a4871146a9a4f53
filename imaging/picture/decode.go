package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"io"
)

// DefaultMaxPixels is what a zero Limits allows.
const DefaultMaxPixels = 250_000_000

// Limits bounds what Decode takes on. The zero value allows DefaultMaxPixels.
type Limits struct {
	MaxPixels int64 // width times height; 0 or less reads as DefaultMaxPixels
}

// Header is what a file tells before it is decoded.
type Header struct {
	Format      string // "jpeg", "png", "gif", "webp", "tiff" or "bmp"
	W, H        int    // as shown, after Orientation
	Orientation int    // EXIF 1..8; 1 where the file has none or a reserved value
	BitDepth    int    // bits a channel: 1, 2, 4, 8 or 16
	MemoryBytes int64  // most that the file, its decoding and one grey plane take, as estimated
	Profile     string // name of the colour profile that the values are read through; empty: plain sRGB
	ProfileNote string // which of the file's colour statements cannot be followed and what happens then, as one sentence; empty: none
}

// Probe reads the header of a picture file and decodes no pixel. The error says in
// one sentence what is wrong with the file and what to do.
func Probe(data []byte) (Header, error) {
	f, err := formatOf(data)
	if err != nil {
		return Header{}, err
	}
	t, err := f.look(data)
	return t.Header, err
}

// mostMeasured bounds the pixels whose memory is worked out: beyond, it is said to be
// more than any machine has.
const mostMeasured = 1 << 40

// look reads what the bytes before the pixels tell.
func (f format) look(data []byte) (t facts, err error) {
	defer func() {
		if r := recover(); r != nil { // decoders are others' work, and files anyone's
			t, err = facts{}, f.explain(data, fmt.Errorf("%v", r))
		}
	}()
	t, err = f.probe(data)
	if err != nil {
		return facts{}, f.explain(data, err)
	}
	if t.W < 1 || t.H < 1 {
		return facts{}, fmt.Errorf("the picture is %d x %d pixels by its header, so the file is damaged: export it again", t.W, t.H)
	}
	t.Format = f.name
	t.MemoryBytes += int64(len(data)) + 2*int64(t.W)*int64(t.H)
	t.W, t.H = orientations[t.Orientation].size(t.W, t.H)
	t.readColours()
	if int64(t.W) > mostMeasured/int64(t.H) {
		t.MemoryBytes = 1 << 60
	}
	return t, nil
}

// Picture is a decoded picture. It does not change and may be shared between
// goroutines.
type Picture struct {
	header Header
	img    image.Image
	space  *space
}

// Decode reads a JPEG, PNG, GIF (its first frame), WebP, TIFF or BMP file. The
// header is checked against lim before anything of the picture's size is set
// aside, so a small file that claims a huge picture costs nothing. Decode returns
// when ctx ends; a decoder that does not look up from its work then ends by itself
// a little later.
func Decode(ctx context.Context, data []byte, lim Limits) (*Picture, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	f, err := formatOf(data)
	if err != nil {
		return nil, err
	}
	t, err := f.look(data)
	if err != nil {
		return nil, err
	}
	if err := lim.allow(t.Header); err != nil {
		return nil, err
	}
	if f.holds != nil {
		if err := f.holds(t, data); err != nil {
			return nil, err
		}
	}
	img, err := f.pixels(ctx, data)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	if err != nil {
		return nil, f.explain(data, err)
	}
	p := &Picture{img: img}
	if p.space, err = t.colours(ctx); err != nil {
		return nil, err
	}
	p.header = t.Header
	if w, h := p.Size(Turn{}); w != t.W || h != t.H {
		return nil, fmt.Errorf("the picture is %d x %d pixels but its header says %d x %d: export it again", w, h, t.W, t.H)
	}
	return p, nil
}

// pixels runs the decoder beside itself, so that a context can end the wait for
// it, and turns a decoder's panic into an error.
func (f format) pixels(ctx context.Context, data []byte) (image.Image, error) {
	type outcome struct {
		img image.Image
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			if r := recover(); r != nil {
				o = outcome{nil, fmt.Errorf("%v", r)}
			}
			done <- o
		}()
		o.img, o.err = f.decode(stoppable{ctx, data, bytes.NewReader(data)})
	}()
	select {
	case <-ctx.Done():
		return nil, ctx.Err()
	case o := <-done:
		return o.img, o.err
	}
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
	return &Picture{img: img, space: plainSRGB(), header: Header{
		W: b.Dx(), H: b.Dy(), Orientation: 1, BitDepth: depth,
		MemoryBytes: n * int64(bytesPerPixel(img.ColorModel())+2),
	}}, nil
}

// Header is what the file told; Format is empty for a picture made by New.
func (p *Picture) Header() Header { return p.header }

// stoppable makes a decoder, which knows nothing of contexts, end with one.
type stoppable struct {
	ctx  context.Context
	file []byte
	r    *bytes.Reader
}

func (s stoppable) Read(into []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.Read(into)
}

// ReadAt spares the decoders that jump about in a file a copy of it.
func (s stoppable) ReadAt(into []byte, at int64) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.r.ReadAt(into, at)
}

// explain puts a decoder's error into words that lead on. A file that lacks its
// end was broken off, whichever way the decoder noticed.
func (f format) explain(data []byte, err error) error {
	var plain plainError
	switch {
	case errors.As(err, &plain):
		return err
	case isUnsupported(err):
		return fmt.Errorf("the %s file uses a feature that is not read here (%w): save it again as an ordinary JPEG or PNG", f.title, err)
	case errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF), !f.ended(data):
		return fmt.Errorf("the %s file ends too early, as if a copy had been broken off (%w): copy or download it again", f.title, err)
	}
	return fmt.Errorf("the %s file is damaged (%w): export it again from where it came", f.title, err)
}

// plainError is a sentence that needs no further explaining.
type plainError string

func (e plainError) Error() string { return string(e) }
