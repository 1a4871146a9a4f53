package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
)

// colours settles which of the chunks counts: cICP, then iCCP, then sRGB, then
// gAMA and cHRM. Source: PNG (Third Edition), W3C 2025, 4.3 (colour spaces).
func (s pngScan) colours(t *facts) {
	cicp, coded := s.chunks["cICP"]
	if coded {
		if t.stated = codePoints(cicp); t.stated != nil {
			return
		}
		t.ProfileNote = fmt.Sprintf("the picture's colours are coded in a way (cICP % x) that is not read here: ", cicp[:min(4, len(cicp))])
	}
	iccp, hasProfile := s.chunks["iCCP"]
	srgb, hasSRGB := s.chunks["sRGB"]
	instead := asSRGB
	switch {
	case hasProfile:
		t.profile, t.profileFault = inflateProfile(iccp)
		instead = "the colour profile beside it is followed instead"
	case hasSRGB && len(srgb) == 1:
	default:
		var note string
		if t.stated, note = s.gamma(); t.stated != nil {
			instead = "its gamma is followed instead"
		}
		if !coded {
			t.ProfileNote = note
		}
	}
	if coded {
		t.ProfileNote += instead
	}
}

// inflateProfile takes a profile out of an iCCP chunk: a name, a zero byte, the
// method (0) and the packed profile. Source: PNG (Third Edition), 11.3.2.3.
func inflateProfile(body []byte) ([]byte, error) {
	_, packed, found := bytes.Cut(body, []byte{0})
	if !found || len(packed) < 1 || packed[0] != 0 {
		return nil, errors.New("it is packed in an unknown way")
	}
	r, err := zlib.NewReader(bytes.NewReader(packed[1:]))
	if err != nil {
		return nil, fmt.Errorf("it does not unpack: %w", err)
	}
	profile, err := io.ReadAll(io.LimitReader(r, maxProfile+1))
	if err != nil {
		return nil, fmt.Errorf("it does not unpack: %w", err)
	}
	return profile, nil
}

// Code points of a cICP chunk. Source: ITU-T H.273, tables 2 and 3; PNG (Third
// Edition), W3C 2025, 11.3.2.6: the third is 0 for RGB, the fourth 1 for full range.
const (
	primaries709, primariesP3 = 1, 12
	transferSRGB              = 13
)

// codePoints is nil for anything but sRGB and Display P3.
func codePoints(c []byte) *stated {
	if len(c) != 4 || c[1] != transferSRGB || c[2] != 0 || c[3] != 1 {
		return nil
	}
	switch c[0] {
	case primaries709:
		return &stated{"", func() (*space, error) { return plainSRGB(), nil }}
	case primariesP3:
		return &stated{"Display P3", func() (*space, error) {
			m, err := p3Primaries.toSRGB()
			return withPrimaries(same(srgbCurve()), m), err
		}}
	}
	return nil
}

// Range of exponents that a gAMA chunk may sensibly ask for.
const leastGamma, mostGamma = 0.2, 5

// gamma is the space of the gAMA and cHRM chunks: a pure power, and primaries. One
// without the other leaves the other at sRGB's. The note says what is passed over.
func (s pngScan) gamma() (*stated, string) {
	gama, hasGamma := s.chunks["gAMA"]
	chrm, hasPrimaries := s.chunks["cHRM"]
	var names []string
	note := ""
	exponent := 0.0
	if hasGamma {
		e, err := gammaOf(gama)
		if err != nil {
			note = fmt.Sprintf("the picture's gamma cannot be followed (%v): %s", err, asSRGB)
		} else {
			exponent, names = e, append(names, fmt.Sprintf("gamma %.4g", e))
		}
	}
	primaries := identity
	if hasPrimaries {
		m, err := primariesOf(chrm)
		if err != nil {
			note = fmt.Sprintf("the picture's primaries cannot be followed (%v): those of sRGB are taken", err)
		} else if primaries = m; !m.nearly(identity, 2e-3) {
			names = append(names, "own primaries")
		}
	}
	if names == nil {
		return nil, note
	}
	return &stated{strings.Join(names, ", "), func() (*space, error) {
		c := srgbCurve()
		if exponent != 0 {
			c = sampled(func(v float64) float64 { return math.Pow(v, exponent) })
		}
		return withPrimaries(same(c), primaries), nil
	}}, note
}

// gammaOf is the exponent from stored values to light. The chunk holds 100000 over
// it. Source: PNG (Third Edition), W3C 2025, 11.3.2.2 (gAMA).
func gammaOf(body []byte) (float64, error) {
	if len(body) != 4 {
		return 0, fmt.Errorf("its %d bytes are not 4", len(body))
	}
	stored := binary.BigEndian.Uint32(body)
	if e := 1e5 / float64(stored); e >= leastGamma && e <= mostGamma {
		return e, nil
	}
	return 0, fmt.Errorf("%d/100000 is outside 1/%d..%d", stored, mostGamma, int(1/leastGamma))
}

// primariesOf is the matrix to sRGB's primaries. The chunk holds x and y of white,
// red, green and blue times 100000. Source: PNG (Third Edition), 11.3.2.1 (cHRM).
func primariesOf(body []byte) (matrix, error) {
	if len(body) != 32 {
		return matrix{}, fmt.Errorf("their %d bytes are not 32", len(body))
	}
	var xy [4][2]float64
	for i := range 8 {
		xy[i/2][i%2] = float64(binary.BigEndian.Uint32(body[4*i:])) / 1e5
	}
	m, err := chromaticities{xy[0], xy[1], xy[2], xy[3]}.toSRGB()
	const farthest = 20 // beyond any real set of primaries
	if err == nil && !m.nearly(matrix{}, farthest) {
		err = errors.New("they lie too close together")
	}
	return m, err
}
