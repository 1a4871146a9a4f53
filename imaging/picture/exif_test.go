package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/imaging/plane"
)

// exifCase is one row of the published table.
type exifCase struct {
	value   int
	display []string                        // what a stored ABC/DEF shows as
	stored  func(x, y, w, h int) (int, int) // the stored pixel of a shown one; w x h is the stored size
}

// The mappings are the table's seventh column, which the test reads along.
var storedFor = map[string]func(x, y, w, h int) (int, int){
	"(x, y)":         func(x, y, w, h int) (int, int) { return x, y },
	"(w-1-x, y)":     func(x, y, w, h int) (int, int) { return w - 1 - x, y },
	"(w-1-x, h-1-y)": func(x, y, w, h int) (int, int) { return w - 1 - x, h - 1 - y },
	"(x, h-1-y)":     func(x, y, w, h int) (int, int) { return x, h - 1 - y },
	"(y, x)":         func(x, y, w, h int) (int, int) { return y, x },
	"(y, h-1-x)":     func(x, y, w, h int) (int, int) { return y, h - 1 - x },
	"(w-1-y, h-1-x)": func(x, y, w, h int) (int, int) { return w - 1 - y, h - 1 - x },
	"(w-1-y, x)":     func(x, y, w, h int) (int, int) { return w - 1 - y, x },
}

func exifCases(t *testing.T) []exifCase {
	t.Helper()
	file, err := os.Open("testdata/exif_orientation.csv")
	require.NoError(t, err)
	defer file.Close()
	reader := csv.NewReader(file)
	reader.Comment = '#'
	records, err := reader.ReadAll()
	require.NoError(t, err)
	var cases []exifCase
	for _, r := range records[1:] {
		value, err := strconv.Atoi(r[0])
		require.NoError(t, err)
		require.Contains(t, storedFor, r[5])
		cases = append(cases, exifCase{value, strings.Split(r[6], "/"), storedFor[r[5]]})
	}
	require.Len(t, cases, 8)
	return cases
}

// blocks paints each letter of the rows as a grey block; 16 pixels are a whole
// JPEG unit, so that neighbours do not mix.
const blockSide = 16

func blockGrey(letter byte) uint8 { return 30 + 40*(letter-'A') }

func blocks(rows []string) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, blockSide*len(rows[0]), blockSide*len(rows)))
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			img.SetGray(x, y, color.Gray{Y: blockGrey(rows[y/blockSide][x/blockSide])})
		}
	}
	return img
}

// letters reads the blocks back.
func letters(t *testing.T, g *plane.Grey16) []string {
	t.Helper()
	var rows []string
	for y := blockSide / 2; y < g.H; y += blockSide {
		row := ""
		for x := blockSide / 2; x < g.W; x += blockSide {
			code := int(colour.EncodeByte16(g.Row(y)[x]))
			row += string(rune('A' + (code-30+20)/40))
		}
		rows = append(rows, row)
	}
	return rows
}

func tiff(order binary.AppendByteOrder, tag, kind uint16, count uint32, value uint16) []byte {
	out := []byte("II*\x00")
	if order.String() == "BigEndian" {
		out = []byte("MM\x00*")
	}
	out = order.AppendUint32(out, 8)
	out = order.AppendUint16(out, 2)
	out = append(out, make([]byte, 12)...) // an entry of no interest first
	out = order.AppendUint16(out, tag)
	out = order.AppendUint16(out, kind)
	out = order.AppendUint32(out, count)
	out = order.AppendUint16(out, value)
	return append(out, 0, 0, 0, 0, 0, 0)
}

func orientationTIFF(value int) []byte {
	return tiff(binary.BigEndian, tagOrientation, typeShort, 1, uint16(value))
}

// withEXIF puts an APP1 segment right after the start of a JPEG.
func withEXIF(file, block []byte) []byte {
	body := append([]byte(exifHead), block...)
	out := append([]byte{}, file[:2]...)
	out = append(out, 0xff, markAPP1)
	out = binary.BigEndian.AppendUint16(out, uint16(len(body)+2))
	return append(append(out, body...), file[2:]...)
}

func jpegOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, img, &jpeg.Options{Quality: 100}))
	return out.Bytes()
}

func pngOf(t testing.TB, img image.Image) []byte {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, png.Encode(&out, img))
	return out.Bytes()
}

func greyOf(t testing.TB, data []byte, turn Turn) (*Picture, *plane.Grey16) {
	t.Helper()
	p, err := Decode(context.Background(), data, Limits{})
	require.NoError(t, err)
	g, err := p.Grey(context.Background(), turn, colour.Stored{})
	require.NoError(t, err)
	return p, g
}

func TestEachOrientationShowsAsPublished(t *testing.T) {
	stored := jpegOf(t, blocks([]string{"ABC", "DEF"}))
	for _, c := range exifCases(t) {
		t.Run(strconv.Itoa(c.value), func(t *testing.T) {
			p, g := greyOf(t, withEXIF(stored, orientationTIFF(c.value)), Turn{})
			require.Equal(t, c.display, letters(t, g))
			require.Equal(t, c.value, p.Header().Orientation)
			require.Equal(t, [2]int{g.W, g.H}, [2]int{p.Header().W, p.Header().H})
		})
	}
}

func TestAllEightOrientationsComeOutTheSame(t *testing.T) {
	shown := []string{"ABC", "DEF"}
	for _, c := range exifCases(t) {
		t.Run(strconv.Itoa(c.value), func(t *testing.T) {
			w, h := 3, 2
			if c.value >= 5 {
				w, h = 2, 3
			}
			rows := make([][]byte, h)
			for i := range rows {
				rows[i] = make([]byte, w)
			}
			for y := range shown {
				for x := range shown[y] {
					sx, sy := c.stored(x, y, w, h)
					rows[sy][sx] = shown[y][x]
				}
			}
			var stored []string
			for _, row := range rows {
				stored = append(stored, string(row))
			}
			_, g := greyOf(t, withEXIF(jpegOf(t, blocks(stored)), orientationTIFF(c.value)), Turn{})
			require.Equal(t, shown, letters(t, g))
		})
	}
}

func TestTiffOrientation(t *testing.T) {
	little, big := binary.LittleEndian, binary.BigEndian
	good := tiff(little, tagOrientation, typeShort, 1, 6)
	for _, c := range []struct {
		name  string
		block []byte
		want  int
	}{
		{"little-endian", good, 6},
		{"big-endian", tiff(big, tagOrientation, typeShort, 1, 8), 8},
		{"reserved 0", tiff(big, tagOrientation, typeShort, 1, 0), 1},
		{"reserved 9", tiff(big, tagOrientation, typeShort, 1, 9), 1},
		{"reserved 65535", tiff(little, tagOrientation, typeShort, 1, 65535), 1},
		{"another tag", tiff(big, 0x0110, typeShort, 1, 6), 1},
		{"another type", tiff(big, tagOrientation, 4, 1, 6), 1},
		{"two values", tiff(big, tagOrientation, typeShort, 2, 6), 1},
		{"nothing", nil, 1},
		{"no byte order", []byte("XX*\x00\x08\x00\x00\x00\x00\x00"), 1},
		{"broken off in the entry", good[:len(good)-8], 1},
		{"a directory past the end", []byte("II*\x00\xff\xff\xff\xff\x00\x00"), 1},
		{"more entries than bytes", append([]byte("II*\x00\x08\x00\x00\x00\xff\xff"), make([]byte, 30)...), 1},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, tiffOrientation(c.block)) })
	}
}

func TestOrientationInPNG(t *testing.T) {
	stored := pngOf(t, blocks([]string{"ABC", "DEF"}))
	block := orientationTIFF(6)
	chunk := binary.BigEndian.AppendUint32(nil, uint32(len(block)))
	chunk = append(append(chunk, "eXIf"...), block...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	const afterIHDR = 8 + 25
	file := bytes.Join([][]byte{stored[:afterIHDR], chunk, stored[afterIHDR:]}, nil)
	p, g := greyOf(t, file, Turn{})
	require.Equal(t, []string{"DA", "EB", "FC"}, letters(t, g))
	require.Equal(t, 6, p.Header().Orientation)
}

func TestOnlyTheFirstEXIFSegmentCounts(t *testing.T) {
	file := jpegOf(t, blocks([]string{"ABC"}))
	twice := withEXIF(withEXIF(file, orientationTIFF(3)), orientationTIFF(2))
	h, err := Probe(twice)
	require.NoError(t, err)
	require.Equal(t, 2, h.Orientation)
}

func FuzzTiffOrientation(f *testing.F) {
	f.Add(orientationTIFF(6))
	f.Add(tiff(binary.LittleEndian, tagOrientation, typeShort, 1, 3))
	f.Add([]byte("II*\x00\xff\xff\xff\xff"))
	f.Fuzz(func(t *testing.T, block []byte) {
		if v := tiffOrientation(block); v < 1 || v > 8 {
			t.Fatalf("orientation %d is outside 1..8", v)
		}
	})
}

func FuzzDecode(f *testing.F) {
	f.Add(withEXIF(jpegOf(f, blocks([]string{"AB"})), orientationTIFF(5)))
	f.Add(pngOf(f, blocks([]string{"AB"})))
	f.Add([]byte("hello"))
	f.Fuzz(func(t *testing.T, data []byte) {
		h, err := Probe(data)
		p, err2 := Decode(context.Background(), data, Limits{MaxPixels: 1 << 16})
		if err != nil {
			require.Error(t, err2, "what cannot be probed cannot be decoded")
			return
		}
		if err2 != nil {
			return
		}
		g, err := p.Grey(context.Background(), Turn{}, colour.Stored{})
		require.NoError(t, err)
		require.Equal(t, fmt.Sprint(h.W, h.H), fmt.Sprint(g.W, g.H))
	})
}
