package colour

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
)

// Stored is a colour as files and screens hold it: sRGB code values.
type Stored struct{ R, G, B uint8 }

// Linear is a colour in linear light with the sRGB primaries. 0 is black and 1
// is the white of the screen; intermediate results may leave that range.
type Linear struct{ R, G, B float64 }

// Decode takes an sRGB value, 0..1, to linear light.
// Source: IEC 61966-2-1:1999.
func Decode(v float64) float64 {
	if v <= 0.04045 {
		return v / 12.92
	}
	return math.Pow((v+0.055)/1.055, 2.4)
}

// Encode takes linear light, 0..1, to an sRGB value.
// Source: IEC 61966-2-1:1999.
func Encode(l float64) float64 {
	if l <= 0.0031308 {
		return 12.92 * l
	}
	return 1.055*math.Pow(l, 1/2.4) - 0.055
}

var (
	decodeByte   [256]float64
	decodeByte16 [256]uint16
	encode16     [1 << 16]uint8
)

func init() {
	for i := range decodeByte {
		decodeByte[i] = Decode(float64(i) / 255)
		decodeByte16[i] = uint16(math.Round(decodeByte[i] * math.MaxUint16))
	}
	// Encoding is monotone, so the table is filled from the thresholds between
	// neighbouring codes: 255 calls of math.Pow in place of 65536.
	from := 0
	for code := range 256 {
		to := len(encode16)
		if code < 255 {
			to = int(math.Ceil(Decode((float64(code)+0.5)/255) * math.MaxUint16))
		}
		for i := from; i < to; i++ {
			encode16[i] = uint8(code)
		}
		from = to
	}
}

// DecodeByte takes an sRGB code value to linear light, 0..1.
func DecodeByte(code uint8) float64 { return decodeByte[code] }

// DecodeByte16 takes an sRGB code value to linear light in 1/65535.
func DecodeByte16(code uint8) uint16 { return decodeByte16[code] }

// EncodeByte takes linear light, cut to 0..1, to the nearest sRGB code value.
func EncodeByte(l float64) uint8 {
	if !(l > 0) {
		return 0
	}
	if l >= 1 {
		return 255
	}
	return uint8(math.Round(Encode(l) * 255))
}

// EncodeByte16 takes linear light in 1/65535 to the nearest sRGB code value.
func EncodeByte16(l uint16) uint8 { return encode16[l] }

// Linear is the colour in linear light.
func (s Stored) Linear() Linear {
	return Linear{decodeByte[s.R], decodeByte[s.G], decodeByte[s.B]}
}

// Stored is the nearest colour that eight bits can hold; parts outside 0..1 are
// cut off.
func (l Linear) Stored() Stored {
	return Stored{EncodeByte(l.R), EncodeByte(l.G), EncodeByte(l.B)}
}

// Y is the relative luminance, with the Rec. 709 weights.
// Source: ITU-R BT.709-6, item 3.2; the same weights stand in IEC 61966-2-1.
func (l Linear) Y() float64 { return 0.2126*l.R + 0.7152*l.G + 0.0722*l.B }

// Scale is the colour under f times the light.
func (l Linear) Scale(f float64) Linear { return Linear{l.R * f, l.G * f, l.B * f} }

// Add is the light of both together.
func (l Linear) Add(m Linear) Linear { return Linear{l.R + m.R, l.G + m.G, l.B + m.B} }

// Mix is the look of an area that shows a on the share 1-t and b on t.
func Mix(a, b Linear, t float64) Linear { return a.Scale(1 - t).Add(b.Scale(t)) }

// String is the colour as "#rrggbb".
func (s Stored) String() string { return fmt.Sprintf("#%02x%02x%02x", s.R, s.G, s.B) }

// ParseHex reads "#rrggbb", in either case.
func ParseHex(text string) (Stored, error) {
	if len(text) == 7 && text[0] == '#' {
		if v, err := strconv.ParseUint(text[1:], 16, 32); err == nil {
			return Stored{uint8(v >> 16), uint8(v >> 8), uint8(v)}, nil
		}
	}
	return Stored{}, fmt.Errorf("colour %q is not of the form #rrggbb: write, for instance, #2b2d30", text)
}

// StoredOf is the stored colour nearest to one of the standard image packages, which is
// opaque.
func StoredOf(c color.Color) Stored {
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	return Stored{n.R, n.G, n.B}
}

// MarshalText writes "#rrggbb", which is also how JSON files hold a colour.
func (s Stored) MarshalText() ([]byte, error) { return []byte(s.String()), nil }

// UnmarshalText reads "#rrggbb".
func (s *Stored) UnmarshalText(text []byte) error {
	c, err := ParseHex(string(text))
	if err == nil {
		*s = c
	}
	return err
}

// RGBA lets a stored colour be drawn by the standard image packages.
func (s Stored) RGBA() (r, g, b, a uint32) {
	return uint32(s.R) * 0x101, uint32(s.G) * 0x101, uint32(s.B) * 0x101, 0xffff
}
