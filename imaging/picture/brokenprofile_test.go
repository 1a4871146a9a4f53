package picture

import (
	"context"
	"encoding/binary"
	"image"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each kind of broken profile leaves the picture readable as sRGB and says so.
func TestBrokenProfiles(t *testing.T) {
	good := iccThreeLights(2, wideColumns, iccGamma(2.2))
	entry := func(i, at int) int { return 128 + 4 + 12*i + at }
	table := iccGrey(2, "XYZ ", iccTable(64, func(v float64) float64 { return v * v }))
	curveAt := int(binary.BigEndian.Uint32(table[entry(2, 4):]))
	inks := iccInks()
	tableAt := int(binary.BigEndian.Uint32(inks[entry(2, 4):]))
	for _, c := range []struct {
		name     string
		icc      []byte
		channels int
		says     string
	}{
		{"empty", []byte{}, 3, "it ends too early"},
		{"half", good[:len(good)/2], 3, "it ends too early"},
		{"header alone", good[:128], 3, "it ends too early"},
		{"no signature", with(good, 36, 'x'), 3, "it is no ICC profile"},
		{"version 5", with(good, 8, 5), 3, "its version 5 is outside 2..4"},
		{"a link", with(good, 12, 'l', 'i', 'n', 'k'), 3, `its class "link" is not that of a picture`},
		{"Lab", with(good, 16, 'L', 'a', 'b', ' '), 3, `it speaks of "Lab" colours, not of RGB, grey or CMYK`},
		{"inks for RGB", inks, 3, "it speaks of 4 channels and the picture has 3"},
		{"RGB for inks", good, 4, "it speaks of 3 channels and the picture has 4"},
		{"grey for RGB", table, 3, "it speaks of 1 channels and the picture has 3"},
		{"no such connection space", with(good, 20, 'H', 'S', 'V', ' '), 3, "unsupported profile connection space"},
		{"4 thousand million entries", with(good, 128, 255, 255, 255, 255), 3, "it claims 4294967295 entries, which its"},
		{"entry past the end", with(good, entry(3, 4), 0x7f, 255, 255, 255), 3, "it ends too early"},
		{"entry of 4 GB", with(good, entry(3, 8), 255, 255, 255, 255), 3, "it ends too early"},
		{"entry in the header", with(good, entry(3, 4), 0, 0, 0, 4), 3, "it ends too early"},
		{"no red curve", with(good, entry(3, 0), 'x'), 3, ""},
		{"no red", with(good, entry(2, 0), 'x'), 3, ""},
		{"one light black", iccThreeLights(2, [3][3]float64{wideColumns[0], {}, wideColumns[2]}, iccGamma(2.2)), 3, "one of its primaries is black"},
		{"gamma of nothing", iccThreeLights(2, wideColumns, iccGamma(0)), 3, "gamma"},
		{"curve of 4 thousand million", with(table, curveAt+8, 255, 255, 255, 255), 1, "a curve of 4294967295 entries is more than the 4096 allowed"},
		{"curve longer than its entry", with(table, curveAt+8, 0, 0, 1, 0), 1, "it ends too early"},
		{"curve of an unknown kind", iccGrey(4, "XYZ ", with(iccPara(2), 8, 0, 9)), 1, "a curve of kind 9 is outside 0..4"},
		{"curve that runs to infinity", iccGrey(4, "XYZ ", iccPara(-100, 1, 0, 1, 0.1)), 1, "it leads to no colour"},
		{"table of 9 channels", with(inks, tableAt+8, 9), 4, "a table from 9 channels to 3 is outside 1..4"},
		{"table cut short", with(inks, tableAt+10, 33), 4, "too short"},
		{"stages past the end", iccFile(4, "scnr", "RGB ", "Lab ", iccTag{"A2B0", stageTag(200, 2, 2)}), 3, "it ends too early"},
		{"stages of uneven sides", iccFile(4, "scnr", "RGB ", "Lab ", iccTag{"A2B0", stageTag(32, 3, 2)}), 3, "its table has sides of [3 2 2] nodes, which differ"},
		{"stages of no bytes", iccFile(4, "scnr", "RGB ", "Lab ", iccTag{"A2B0", stageTag(32, 255, 0)}), 3, "its table has values of 0 bytes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p, err := openProfile(c.icc, c.channels)
			if err == nil {
				_, err = p.space(context.Background())
			}
			require.ErrorContains(t, err, c.says)

			f := facts{channels: c.channels, profile: c.icc}
			f.readColours()
			s, err := f.colours(context.Background())
			require.NoError(t, err)
			require.Nil(t, s.matrix)
			require.Same(t, srgbCurve(), s.curves[0])
			require.Empty(t, f.Profile)
			require.Regexp(t, `^the picture's colour profile cannot be followed \(.*\): its (colours are read as sRGB|inks are turned to colours by plain subtraction)$`, f.ProfileNote)
		})
	}
}

// stageTag is a table with its nodes at some place, sides of n x 2 x 2 nodes and
// values of some bytes.
func stageTag(at uint32, n, size byte) []byte {
	out := append([]byte("mAB \x00\x00\x00\x00\x03\x03\x00\x00"), make([]byte, 20)...)
	binary.BigEndian.PutUint32(out[24:], at)
	out = append(append(out, n, n, n), make([]byte, 13)...)
	if n == 3 {
		out[33], out[34] = 2, 2
	}
	return append(append(out, size, 0, 0, 0), make([]byte, 64)...)
}

// The parts of a profile in a JPEG that do not fit together.
func TestProfilesInWrongParts(t *testing.T) {
	jpg := jpegOf(t, image.NewNRGBA(image.Rect(0, 0, 8, 8)))
	part := func(file []byte, number, of byte) []byte {
		return withSegment(file, markAPP2, append([]byte(iccHead), number, of, 'x'))
	}
	for name, c := range map[string]struct {
		file []byte
		says string
	}{
		"one of two":      {part(jpg, 1, 2), "the file holds 1 of its 2 parts"},
		"twice the same":  {part(part(jpg, 1, 2), 1, 2), "its parts in the file do not fit together"},
		"number nought":   {part(jpg, 0, 1), "its parts in the file do not fit together"},
		"beyond the last": {part(jpg, 3, 2), "its parts in the file do not fit together"},
		"two counts":      {part(part(jpg, 1, 2), 2, 3), "its parts in the file do not fit together"},
		"no numbers":      {withSegment(jpg, markAPP2, []byte(iccHead)), "its parts in the file do not fit together"},
	} {
		h, err := Probe(c.file)
		require.NoError(t, err)
		require.Contains(t, h.ProfileNote, c.says, name)
		survive(t, c.file, Limits{})
	}
}

// Profiles of every kind with single bytes changed all over: what still opens gives
// colours, and nothing takes long.
func TestProfilesWithChangedBytes(t *testing.T) {
	good := map[string][]byte{
		"three lights": iccThreeLights(4, p3Columns, iccPara(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)),
		"grey":         iccGrey(4, "Lab ", iccTable(17, func(v float64) float64 { return 1 - v })),
		"inks":         iccInks(),
		"stages":       iccFile(4, "scnr", "RGB ", "Lab ", iccTag{"A2B0", stageTag(32, 2, 2)}),
	}
	for name, file := range map[string]string{"table": "profile-lut16.png", "stages with curves": "profile-stages.png", "inks from a file": "profile-inks8.jpg"} {
		f, err := formatOf(sample(t, file))
		require.NoError(t, err)
		facts, err := f.probe(sample(t, file))
		require.NoError(t, err)
		good[name] = facts.profile
	}
	for name, icc := range good {
		t.Run(name, func(t *testing.T) {
			channels := profileChannels[string(icc[iccColoursAt:iccColoursAt+4])]
			step := 1
			opened := 0
			for at := 0; at < len(icc); at += step {
				if at >= 600 { // beyond the head of the table, one value is like another
					step = 1 + len(icc)/200
				}
				for _, v := range []byte{0, 1, 0x7f, 0x80, 0xff} {
					p, err := openProfile(with(icc, at, v), channels)
					if err != nil {
						continue
					}
					opened++
					stored := ask(p.stored)
					for _, v := range []float64{0, 0.001, 0.37, 0.999, 1} {
						_, _ = stored([4]float64{v, 1 - v, v, 0.5}) // an error is an answer
					}
				}
			}
			require.Positive(t, opened)
		})
	}
}
