package picture

import (
	"context"
	"encoding/binary"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

func FuzzExifOrientation(f *testing.F) {
	f.Add(orientationTIFF(6))
	f.Add(tiffBlock(binary.LittleEndian, tagOrientation, typeShort, 1, 3))
	f.Add([]byte("II*\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, block []byte) {
		if v := exifOrientation(block); v < 1 || v > 8 {
			t.Fatalf("orientation %d is outside 1..8", v)
		}
		d := firstDirectory(block)
		for _, tag := range []uint16{tagBits, tagStripOffsets, tagStripBytes, tagProfile} {
			if n := len(d.numbers(tag)); n > len(block) {
				t.Fatalf("%d values from %d bytes", n, len(block))
			}
		}
		endedTIFF(block)
	})
}

// FuzzProfile asks each profile that opens for a few colours. The curves, and the
// nodes of the cube, are made by the same asking.
func FuzzProfile(f *testing.F) {
	f.Add(iccThreeLights(2, wideColumns, iccGamma(2.2)), 3)
	f.Add(iccThreeLights(4, p3Columns, iccPara(2.4, 1/1.055, 0.055/1.055, 1/12.92, 0.04045)), 3)
	f.Add(iccGrey(4, "Lab ", iccTable(17, func(v float64) float64 { return 1 - v })), 1)
	f.Add(iccInks(), 4)
	f.Add(iccFile(4, "scnr", "RGB ", "Lab ", iccTag{"A2B0", stageTag(32, 2, 2)}), 3)
	for _, name := range []string{"profile-lut16.png", "profile-stages.png", "profile-inks8.jpg"} {
		format, err := formatOf(sample(f, name))
		require.NoError(f, err)
		facts, err := format.probe(sample(f, name))
		require.NoError(f, err)
		f.Add(facts.profile, facts.channels)
	}
	f.Fuzz(func(t *testing.T, data []byte, channels int) {
		p, err := openProfile(data, channels)
		if err != nil {
			return
		}
		stored := ask(p.stored)
		for _, v := range [][4]float64{{}, {1, 1, 1, 1}, {0.3, 0.999, 0.001, 0.5}, {1, 0, 0.25, 0.75}} {
			rgb, err := stored(v)
			if err != nil {
				continue
			}
			for _, c := range rgb {
				to16(colour.Decode(c))
			}
		}
	})
}

// FuzzPNGColours takes the bodies of the chunks as they come.
func FuzzPNGColours(f *testing.F) {
	f.Add("cICP", []byte{12, 13, 0, 1})
	f.Add("gAMA", be32(45455))
	f.Add("cHRM", be32(31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000))
	f.Add("sRGB", []byte{0})
	f.Add("iCCP", iccpChunk(iccGrey(2, "XYZ ", iccGamma(2)))[8:])
	f.Fuzz(func(t *testing.T, kind string, body []byte) {
		s := pngScan{chunks: map[string][]byte{kind: body}}
		facts := facts{channels: 3}
		s.colours(&facts)
		facts.readColours()
		if facts.opened != nil {
			return // FuzzProfile's
		}
		sp, err := facts.colours(context.Background())
		require.NoError(t, err)
		require.NotNil(t, sp.curves[2])
	})
}

// FuzzContainers walks segments, chunks and blocks.
func FuzzContainers(f *testing.F) {
	for name := range formatGoldens(f) {
		if len(name) < 16 {
			f.Add(sample(f, name))
		}
	}
	f.Add(withJPEGProfile(sample(f, "grey.jpg"), iccInks(), 300))
	f.Fuzz(func(t *testing.T, data []byte) {
		s := scanJPEG(data)
		if s.pixelsAt > len(data) {
			t.Fatalf("pixels at %d of %d", s.pixelsAt, len(data))
		}
		if profile, err := s.profile.joined(); err == nil && len(profile) > len(data) {
			t.Fatalf("a profile of %d bytes from %d", len(profile), len(data))
		}
		scanPNG(data)
		scanWebP(data)
		firstFrame(data)
	})
}

func FuzzDecode(f *testing.F) {
	f.Add(withEXIF(jpegOf(f, blocks([]string{"AB"})), orientationTIFF(5)))
	f.Add([]byte("hello"))
	for name, golden := range formatGoldens(f) {
		if golden.Block == 0 { // those in blocks carry tables that take long to open
			f.Add(sample(f, name))
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := Probe(data)
		if err != nil {
			oneSentence(t, err)
		}
		p, err2 := Decode(context.Background(), data, Limits{MaxPixels: 1 << 16})
		if err != nil {
			require.Error(t, err2, "what cannot be probed cannot be decoded")
			return
		}
		if err2 != nil {
			oneSentence(t, err2)
			return
		}
		g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		require.Equal(t, [2]int{h.W, h.H}, [2]int{g.W, g.H})
	})
}
