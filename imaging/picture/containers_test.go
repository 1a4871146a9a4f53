package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"
)

// withSegment puts a segment right after the start of a JPEG.
func withSegment(file []byte, mark byte, body []byte) []byte {
	out := append([]byte{}, file[:2]...)
	out = append(out, 0xff, mark)
	out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
	return append(append(out, body...), file[2:]...)
}

// withEXIF puts an EXIF segment right after the start of a JPEG.
func withEXIF(file, block []byte) []byte {
	return withSegment(file, markAPP1, append([]byte(exifHead), block...))
}

// withJPEGProfile puts a profile into a JPEG in parts of at most size bytes, the
// last part first: their order in the file does not count.
func withJPEGProfile(file, profile []byte, size int) []byte {
	parts := slices.Collect(slices.Chunk(profile, size))
	for i, part := range parts {
		head := append([]byte(iccHead), byte(i+1), byte(len(parts)))
		file = withSegment(file, markAPP2, append(head, part...))
	}
	return file
}

func chunkOf(kind string, body []byte) []byte {
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	out = append(append(out, kind...), body...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// withChunks puts chunks right after a PNG's header.
func withChunks(file []byte, chunks ...[]byte) []byte {
	const afterIHDR = 8 + 25
	return bytes.Join([][]byte{file[:afterIHDR], bytes.Join(chunks, nil), file[afterIHDR:]}, nil)
}

func iccpChunk(profile []byte) []byte {
	var packed bytes.Buffer
	packed.WriteString("made up\x00\x00")
	w := zlib.NewWriter(&packed)
	_, _ = w.Write(profile) // a buffer takes everything
	_ = w.Close()
	return chunkOf("iCCP", packed.Bytes())
}

func tiffOf(t testing.TB, img image.Image, c tiff.CompressionType) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, tiff.Encode(&out, img, &tiff.Options{Compression: c}))
	return out.Bytes()
}

// withTag adds an entry to the first directory of a little-endian TIFF, or
// replaces it; the directory moves to the end of the file.
func withTag(file []byte, tag, kind uint16, count uint32, values []byte) []byte {
	le := binary.LittleEndian
	d := firstDirectory(file)
	out := bytes.Clone(file)
	var entries [][]byte
	for e := range slices.Chunk(d.entries, ifdEntry) {
		if le.Uint16(e) != tag {
			entries = append(entries, e)
		}
	}
	added := le.AppendUint16(nil, tag)
	added = le.AppendUint16(added, kind)
	added = le.AppendUint32(added, count)
	if len(values) <= 4 {
		added = append(append(added, values...), make([]byte, 4-len(values))...)
	} else {
		added = le.AppendUint32(added, uint32(len(out)))
		out = append(out, values...)
	}
	entries = append(entries, added)
	slices.SortFunc(entries, func(a, b []byte) int { return int(le.Uint16(a)) - int(le.Uint16(b)) })
	if len(out)%2 == 1 {
		out = append(out, 0)
	}
	le.PutUint32(out[4:], uint32(len(out)))
	out = le.AppendUint16(out, uint16(len(entries)))
	return append(append(out, bytes.Join(entries, nil)...), 0, 0, 0, 0)
}

func withTIFFProfile(file, profile []byte) []byte {
	return withTag(file, tagProfile, typeUndefined, uint32(len(profile)), profile)
}

func withTIFFOrientation(file []byte, value uint16) []byte {
	return withTag(file, tagOrientation, typeShort, 1, binary.LittleEndian.AppendUint16(nil, value))
}

func riffChunk(kind string, body []byte) []byte {
	out := binary.LittleEndian.AppendUint32([]byte(kind), uint32(len(body)))
	out = append(out, body...)
	return append(out, make([]byte, len(body)%2)...)
}

func riffOf(chunks ...[]byte) []byte {
	body := bytes.Join(chunks, nil)
	out := binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(4+len(body)))
	return append(append(out, "WEBP"...), body...)
}

// extendedWebP wraps the picture of a simple WebP with a profile and an EXIF block,
// each of which may be nil. Source: RFC 9649 (WebP), 2.7.
func extendedWebP(t testing.TB, file, profile, exif []byte) []byte {
	t.Helper()
	h, err := Probe(file)
	require.NoError(t, err)
	head := make([]byte, 10)
	put24 := func(at, v int) { head[at], head[at+1], head[at+2] = byte(v), byte(v>>8), byte(v>>16) }
	put24(4, h.W-1)
	put24(7, h.H-1)
	var chunks [][]byte
	if profile != nil {
		head[0] |= 1 << 5
		chunks = append(chunks, riffChunk("ICCP", profile))
	}
	chunks = append(chunks, file[12:])
	if exif != nil {
		head[0] |= 1 << 3
		chunks = append(chunks, riffChunk("EXIF", exif))
	}
	return riffOf(append([][]byte{riffChunk("VP8X", head)}, chunks...)...)
}
