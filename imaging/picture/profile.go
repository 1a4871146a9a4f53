package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode"

	"github.com/kovidgoyal/imaging/prism/meta/icc"

	"undercoat/imaging/colour"
)

// profile is an embedded ICC profile, ready to be asked what a stored value looks
// like: relative to the white of its medium, with its black brought down to black.
type profile struct {
	name     string
	channels int           // of the values it speaks of: 1, 3 or 4
	stored   *icc.Pipeline // to stored sRGB values, 0..1 and beyond
	xyz      *icc.Pipeline // to XYZ under D50; nil where a table does more than add three lights
}

// Channels of the colour spaces that pictures are stored in.
// Source: ICC.1:2022, table 19.
var profileChannels = map[string]int{"GRAY": 1, "RGB ": 3, "CMYK": 4}

// d50 is the white of the connection space, which every profile has to state and
// some state wrongly. Source: ICC.1:2022, 7.2.16.
var d50 = []byte{0, 0, 0xf6, 0xd6, 0, 1, 0, 0, 0, 0, 0xd3, 0x2d}

// openProfile reads a profile for a picture of so many channels. A grey picture
// may have a profile of three: its value stands for all of them.
func openProfile(data []byte, channels int) (p *profile, err error) {
	defer func() {
		if r := recover(); r != nil { // the library trusts some numbers in the profile
			p, err = nil, errors.New("it contradicts itself")
		}
	}()
	if err := checkProfile(data); err != nil {
		return nil, err
	}
	kind := string(data[iccColoursAt : iccColoursAt+4])
	n := profileChannels[kind]
	if n == 0 {
		return nil, fmt.Errorf("it speaks of %q colours, not of RGB, grey or CMYK", strings.TrimSpace(kind))
	}
	if n != channels && !(channels == 1 && n == 3) {
		return nil, fmt.Errorf("it speaks of %d channels and the picture has %d", n, channels)
	}
	data = bytes.Clone(data)
	copy(data[iccWhiteAt:], d50)
	file, err := icc.DecodeProfile(bytes.NewReader(data))
	if err != nil {
		return nil, inShort(err)
	}
	const bringBlackDown, cut, mapGamut, optimise = true, false, false, true
	p = &profile{name: nameOf(file), channels: n}
	p.stored, err = file.CreateTransformerToSRGB(icc.RelativeColorimetricRenderingIntent, bringBlackDown, n, cut, mapGamut, optimise)
	if err != nil {
		return nil, inShort(err)
	}
	table := file.TagTable.Has(icc.AToB1TagSignature) || file.TagTable.Has(icc.AToB0TagSignature)
	if n == 3 && !table {
		if p.xyz, err = file.CreateTransformerToPCS(icc.RelativeColorimetricRenderingIntent, n, optimise); err != nil {
			return nil, inShort(err)
		}
	}
	return p, p.try()
}

// inShort keeps the library's errors to what fits into a sentence: some hold the
// whole of what was called.
func inShort(err error) error {
	const longest = 120
	if text := err.Error(); len(text) > longest || strings.Contains(text, "\n") {
		return errors.New("it contradicts itself")
	}
	return err
}

// nameOf is the profile's own description, made fit for one line.
func nameOf(file *icc.Profile) string {
	const longest = 60
	text, err := file.Description()
	if err != nil {
		return "unnamed"
	}
	text = strings.Join(strings.Fields(strings.Map(func(r rune) rune {
		if !unicode.IsPrint(r) || r == unicode.ReplacementChar {
			return ' '
		}
		return r
	}, text)), " ")
	if r := []rune(text); len(r) > longest {
		text = string(r[:longest])
	}
	if text == "" {
		return "unnamed"
	}
	return text
}

// try asks for black, grey and white, so that a profile that gives no numbers is
// known before it is needed.
func (p *profile) try() error {
	stored := ask(p.stored)
	for _, v := range []float64{0, 0.5, 1} {
		if _, err := stored([4]float64{v, v, v, v}); err != nil {
			return err
		}
	}
	return nil
}

// ask is what one goroutine calls to take values 0..1 through a pipeline.
func ask(to *icc.Pipeline) func(v [4]float64) ([3]float64, error) {
	in, out := make([]float64, 4), make([]float64, 4)
	return func(v [4]float64) (three [3]float64, err error) {
		defer func() {
			if r := recover(); r != nil {
				err = errors.New("its table contradicts itself")
			}
		}()
		copy(in, v[:])
		to.TransformGeneral(out, in)
		copy(three[:], out)
		for _, v := range three {
			const farthest = 100 // a colour that far outside is no colour
			if !(math.Abs(v) < farthest) {
				return three, errors.New("it leads to no colour")
			}
		}
		return three, nil
	}
}

// memory is what working out the space takes beside the picture, for a profile of
// so many bytes. Its tables are held in 64 bits a value.
func (p *profile) memory(size int) int64 {
	curves := int64(3 * 2 * (full + 1))
	if p.channels == 1 || p.xyz != nil {
		return curves
	}
	return curves + cubeBytes(p.channels) + 8*int64(size)
}

// space works out the curves and the matrix, or the cube, of the profile.
func (p *profile) space(ctx context.Context) (*space, error) {
	switch {
	case p.channels == 1:
		return p.greys()
	case p.xyz != nil:
		if s, err := p.threeLights(); err != nil || s != nil {
			return s, err
		}
	}
	c, err := newCube(ctx, p.channels, func() func([4]float64) ([3]float64, error) { return ask(p.stored) })
	if err != nil {
		return nil, err
	}
	curves := same(straightCurve())
	if p.channels == 4 {
		curves = same(srgbCurve())
	}
	return &space{curves: curves, weights: rec709, cube: c}, nil
}

// greys asks for every grey there is: the curve of each channel of sRGB.
func (p *profile) greys() (*space, error) {
	stored := ask(p.stored)
	s := &space{weights: rec709, curves: [3]*curve{new(curve), new(curve), new(curve)}}
	for v := range full + 1 {
		rgb, err := stored([4]float64{float64(v) / full})
		if err != nil {
			return nil, err
		}
		for c := range rgb {
			s.curves[c][v] = to16(colour.Decode(rgb[c]))
		}
	}
	return s, nil
}

// threeLights takes a profile apart that adds three lights: what it gives is the
// sum of what it gives for each channel alone, and that is a curve times the
// channel's own light. It returns nil where the profile's black is not black,
// which no such sum holds. Source: ICC.1:2022, F.3.
func (p *profile) threeLights() (*space, error) {
	const dark = 1e-5
	adapt := adaptation(whiteD50, colour.White)
	xyz := ask(p.xyz)
	alone := func(channel int) func(v float64) (colour.Linear, error) {
		return func(v float64) (colour.Linear, error) {
			var at [4]float64
			at[channel] = v
			c, err := xyz(at)
			x, y, z := adapt.times(c[0], c[1], c[2])
			return colour.XYZ{X: x, Y: y, Z: z}.Linear(), err
		}
	}
	var m matrix
	var curves [3]*curve
	for c := range curves {
		light := alone(c)
		black, err := light(0)
		if err != nil {
			return nil, err
		}
		if max(math.Abs(black.R), math.Abs(black.G), math.Abs(black.B)) > dark {
			return nil, nil
		}
		end, err := light(1)
		if err != nil {
			return nil, err
		}
		m[0][c], m[1][c], m[2][c] = end.R, end.G, end.B
		if curves[c], err = risenTo(end, light); err != nil {
			return nil, err
		}
	}
	return withPrimaries(shared(curves), m), nil
}

// shared holds equal curves once, and sRGB's where a curve is but a rounding of it.
func shared(curves [3]*curve) [3]*curve {
	for c := range curves {
		if srgb := srgbCurve(); curves[c].nearly(srgb) {
			curves[c] = srgb
		} else if c > 0 && *curves[c] == *curves[0] {
			curves[c] = curves[0]
		}
	}
	return curves
}

// risenTo is the curve of a light as a share of its end, read in the channel of
// sRGB where it is strongest.
func risenTo(end colour.Linear, light func(v float64) (colour.Linear, error)) (*curve, error) {
	strongest := func(l colour.Linear) float64 { return l.R }
	if g := math.Abs(end.G); g > math.Abs(end.R) && g >= math.Abs(end.B) {
		strongest = func(l colour.Linear) float64 { return l.G }
	} else if b := math.Abs(end.B); b > math.Abs(end.R) {
		strongest = func(l colour.Linear) float64 { return l.B }
	}
	whole := strongest(end)
	if math.Abs(whole) < 1e-3 {
		return nil, errors.New("one of its primaries is black")
	}
	c := new(curve)
	for v := range c {
		l, err := light(float64(v) / full)
		if err != nil {
			return nil, err
		}
		c[v] = to16(strongest(l) / whole)
	}
	return c, nil
}

// nearly tells curves apart that differ by more than the rounding of tables with a
// thousand entries.
func (c *curve) nearly(o *curve) bool {
	const rounding = 8 // of 65535
	for v := range c {
		if d := int(c[v]) - int(o[v]); d < -rounding || d > rounding {
			return false
		}
	}
	return true
}
