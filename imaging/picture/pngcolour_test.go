package picture

import (
	"encoding/binary"
	"image"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

func be32(values ...uint32) (out []byte) {
	for _, v := range values {
		out = binary.BigEndian.AppendUint32(out, v)
	}
	return out
}

// Which chunk counts, by the light of stored 0.5.
// Source: PNG (Third Edition), W3C 2025, 4.3 for the order, 11.3.2 for the chunks.
func TestWhichColourChunkCounts(t *testing.T) {
	img := image.NewGray16(image.Rect(0, 0, 1, 1))
	img.Pix[0], img.Pix[1] = 0x80, 0x00
	v := 32768.0 / 65535
	power := func(e float64) float64 { return math.Pow(v, e) }
	gama := func(v uint32) []byte { return chunkOf("gAMA", be32(v)) }
	srgb := chunkOf("sRGB", []byte{0})
	iccp := iccpChunk(iccGrey(2, "XYZ ", iccGamma(3)))
	broken := iccpChunk([]byte("no profile"))
	for _, c := range []struct {
		name    string
		chunks  [][]byte
		light   float64
		profile string
		note    string
	}{
		{"nothing", nil, colour.Decode(v), "", ""},
		{"sRGB", [][]byte{srgb}, colour.Decode(v), "", ""},
		{"gAMA of 2.2", [][]byte{gama(45455)}, power(2.2), "gamma 2.2", ""},
		{"gAMA of straight light", [][]byte{gama(100000)}, v, "gamma 1", ""},
		{"sRGB over gAMA", [][]byte{gama(100000), srgb}, colour.Decode(v), "", ""},
		{"iCCP over sRGB and gAMA", [][]byte{gama(100000), srgb, iccp}, power(3), "made up", ""},
		{"cICP over iCCP", [][]byte{iccp, chunkOf("cICP", []byte{1, 13, 0, 1})}, colour.Decode(v), "", ""},
		{"cICP for high range, iCCP beside it", [][]byte{iccp, chunkOf("cICP", []byte{9, 16, 0, 1})}, power(3), "made up",
			"the picture's colours are coded in a way (cICP 09 10 00 01) that is not read here: the colour profile beside it is followed instead"},
		{"cICP for high range alone", [][]byte{chunkOf("cICP", []byte{9, 16, 0, 1})}, colour.Decode(v), "",
			"the picture's colours are coded in a way (cICP 09 10 00 01) that is not read here: its colours are read as sRGB"},
		{"cICP for high range, gAMA beside it", [][]byte{gama(100000), chunkOf("cICP", []byte{9, 16, 0, 1})}, v, "gamma 1",
			"the picture's colours are coded in a way (cICP 09 10 00 01) that is not read here: its gamma is followed instead"},
		{"broken iCCP", [][]byte{gama(100000), broken}, colour.Decode(v), "",
			"the picture's colour profile cannot be followed (it ends too early): its colours are read as sRGB"},
		{"gAMA of nothing", [][]byte{gama(0)}, colour.Decode(v), "",
			"the picture's gamma cannot be followed (0/100000 is outside 1/5..5): its colours are read as sRGB"},
		{"gAMA beyond sense", [][]byte{gama(4294967295)}, colour.Decode(v), "",
			"the picture's gamma cannot be followed (4294967295/100000 is outside 1/5..5): its colours are read as sRGB"},
		{"short gAMA", [][]byte{chunkOf("gAMA", []byte{1})}, colour.Decode(v), "",
			"the picture's gamma cannot be followed (its 1 bytes are not 4): its colours are read as sRGB"},
		{"cHRM on one point", [][]byte{chunkOf("cHRM", be32(31270, 32900, 30000, 60000, 30000, 60000, 30000, 60000))}, colour.Decode(v), "",
			"the picture's primaries cannot be followed (they span no colours): those of sRGB are taken"},
		{"cHRM of nothing", [][]byte{gama(100000), chunkOf("cHRM", make([]byte, 32))}, v, "gamma 1",
			"the picture's primaries cannot be followed (they span no colours): those of sRGB are taken"},
		{"cHRM of sRGB", [][]byte{chunkOf("cHRM", be32(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000))}, colour.Decode(v), "", ""},
		{"cHRM of a wider space", [][]byte{gama(50000), chunkOf("cHRM", be32(31270, 32900, 64000, 33000, 21000, 71000, 15000, 6000))},
			power(2), "gamma 2, own primaries", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			file := withChunks(pngOf(t, img), c.chunks...)
			h, err := Probe(file)
			require.NoError(t, err)
			p, g := greyOf(t, file, Turn{})
			require.Equal(t, h, p.Header())
			require.InDelta(t, c.light*65535, g.Pix[0], 1.01)
			require.Equal(t, c.profile, h.Profile)
			require.Equal(t, c.note, h.ProfileNote)
		})
	}
}

// A chunk after the pixels does not count: their meaning must be known first.
func TestColourChunksAfterThePixels(t *testing.T) {
	file := pngOf(t, image.NewGray(image.Rect(0, 0, 1, 1)))
	end := len(file) - pngChunkFrame
	late := append(append(append([]byte{}, file[:end]...), chunkOf("gAMA", be32(100000))...), file[end:]...)
	h, err := Probe(late)
	require.NoError(t, err)
	require.Empty(t, h.Profile)
}

// A profile that unpacks to more than is allowed is dropped while it unpacks.
func TestAProfileThatUnpacksWithoutEnd(t *testing.T) {
	bomb := iccpChunk(make([]byte, 60<<20))
	require.Less(t, len(bomb), 80_000)
	file := withChunks(pngOf(t, image.NewGray(image.Rect(0, 0, 4, 4))), bomb)
	var p *Picture
	taken := allocated(func() {
		var g any
		p, g = greyOf(t, file, Turn{})
		require.NotNil(t, g)
	})
	require.Contains(t, p.Header().ProfileNote, "its 8388609 bytes are more than the 8388608 allowed")
	require.Less(t, taken, int64(60<<20))
}
