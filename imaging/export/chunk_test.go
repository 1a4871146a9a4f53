package export

import (
	"encoding/binary"
	"encoding/csv"
	"encoding/hex"
	"hash/crc32"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// publishedChunks reads whole chunks in hex; the file names their source.
func publishedChunks(t *testing.T) map[string][]byte {
	t.Helper()
	file, err := os.Open("../../testdata/published/png_chunks.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	require.NoError(t, err)
	chunks := map[string][]byte{}
	for _, row := range rows[1:] {
		chunks[row[0]], err = hex.DecodeString(row[1])
		require.NoError(t, err, row[0])
	}
	return chunks
}

func TestChunksAgreeWithThePublishedOnes(t *testing.T) {
	want := publishedChunks(t)
	space := appendStoredSpace(nil)
	for name, got := range map[string][]byte{
		"phys_11811_300dpi": appendPhysical(nil, uint32(DotsPerMetre(layout.Inch/300))),
		"phys_12500_0.08mm": appendPhysical(nil, uint32(DotsPerMetre(0.08))),
		"phys_12520_318dpi": appendPhysical(nil, uint32(DotsPerMetre(layout.Inch/318))),
		"phys_10000_0.1mm":  appendPhysical(nil, uint32(DotsPerMetre(0.1))),
		"srgb_perceptual":   space[:13],
		"gama_45455":        space[13:],
		"iend":              appendChunk(nil, "IEND", nil),
	} {
		t.Run(name, func(t *testing.T) {
			require.NotEmpty(t, want[name])
			require.Equal(t, hex.EncodeToString(want[name]), hex.EncodeToString(got))
		})
	}
}

func TestDotsPerMetre(t *testing.T) {
	// Source: 1000 divided by the pitch in mm, 1 in = 25.4 mm exactly; to the nearest whole.
	for _, c := range []struct {
		name  string
		pitch layout.MM
		want  int
	}{
		{"0.05 mm", 0.05, 20000}, {"0.08 mm", 0.08, 12500}, {"0.1 mm", 0.1, 10000}, {"0.127 mm", 0.127, 7874},
		{"72 dpi", layout.Inch / 72, 2835}, {"96 dpi", layout.Inch / 96, 3780}, {"150 dpi", layout.Inch / 150, 5906},
		{"254 dpi", layout.Inch / 254, 10000}, {"300 dpi", layout.Inch / 300, 11811}, {"317.5 dpi", layout.Inch / 317.5, 12500},
		{"318 dpi", layout.Inch / 318, 12520}, {"360 dpi", layout.Inch / 360, 14173}, {"600 dpi", layout.Inch / 600, 23622},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, DotsPerMetre(c.pitch)) })
	}
}

func TestChunkRefusesWhatIsNoKind(t *testing.T) {
	require.Panics(t, func() { appendChunk(nil, "TOOLONG", nil) })
}

// chunk is one chunk as read back.
type chunk struct {
	kind string
	data []byte
}

// readChunks takes a PNG file apart, by the rules of the format and not by this
// package's writer, and checks every CRC.
func readChunks(t testing.TB, file []byte) []chunk {
	t.Helper()
	require.GreaterOrEqual(t, len(file), 8)
	require.Equal(t, []byte{137, 80, 78, 71, 13, 10, 26, 10}, file[:8])
	var chunks []chunk
	for rest := file[8:]; len(rest) > 0; {
		require.GreaterOrEqual(t, len(rest), 12)
		n := int(binary.BigEndian.Uint32(rest))
		require.GreaterOrEqual(t, len(rest), 12+n)
		require.Equal(t, crc32.ChecksumIEEE(rest[4:8+n]), binary.BigEndian.Uint32(rest[8+n:]))
		chunks = append(chunks, chunk{string(rest[4:8]), rest[8 : 8+n]})
		rest = rest[12+n:]
	}
	return chunks
}

// kinds lists the chunks' kinds, a run of one kind once.
func kinds(chunks []chunk) []string {
	var list []string
	for _, c := range chunks {
		if len(list) == 0 || list[len(list)-1] != c.kind {
			list = append(list, c.kind)
		}
	}
	return list
}

// FuzzIDAT writes a stream in pieces of any size and wants it back, whole.
func FuzzIDAT(f *testing.F) {
	f.Add([]byte("dots"), uint16(1), uint16(1))
	f.Add([]byte{}, uint16(3), uint16(40000))
	f.Add([]byte{0, 255}, uint16(65535), uint16(9))
	f.Fuzz(func(t *testing.T, seed []byte, times, piece uint16) {
		var stream []byte
		for range min(int(times), 1+(200<<10)/(1+len(seed))) {
			stream = append(stream, seed...)
		}
		file := writerOf([]byte(pngSignature))
		c := &idatWriter{w: &file}
		for rest := stream; len(rest) > 0; {
			n := min(1+int(piece), len(rest))
			wrote, err := c.Write(rest[:n])
			require.NoError(t, err)
			require.Equal(t, n, wrote)
			rest = rest[n:]
		}
		require.NoError(t, c.flush())
		var got []byte
		chunks := readChunks(t, file)
		for i, part := range chunks {
			require.Equal(t, "IDAT", part.kind)
			if i < len(chunks)-1 {
				require.Len(t, part.data, bytesPerIDAT)
			}
			got = append(got, part.data...)
		}
		require.True(t, string(stream) == string(got))
	})
}

type writerOf []byte

func (w *writerOf) Write(p []byte) (int, error) {
	*w = append(*w, p...)
	return len(p), nil
}

// FuzzChunk writes a chunk of any kind and data and wants both back with a right CRC.
func FuzzChunk(f *testing.F) {
	f.Add("tEXt", []byte("hello"))
	f.Add("IDAT", []byte{})
	f.Fuzz(func(t *testing.T, kind string, data []byte) {
		if len(kind) != 4 {
			t.Skip("a kind has four letters")
		}
		got := readChunks(t, appendChunk([]byte(pngSignature), kind, data))
		require.Len(t, got, 1)
		require.Equal(t, kind, got[0].kind)
		require.Equal(t, string(data), string(got[0].data))
	})
}
