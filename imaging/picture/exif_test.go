package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"encoding/csv"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/image/tiff"

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

func tiffBlock(order binary.AppendByteOrder, tag, kind uint16, count uint32, value uint16) []byte {
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
	return tiffBlock(binary.BigEndian, tagOrientation, typeShort, 1, uint16(value))
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
			for name, file := range map[string][]byte{
				"JPEG": withEXIF(jpegOf(t, blocks(stored)), orientationTIFF(c.value)),
				"PNG":  withChunks(pngOf(t, blocks(stored)), chunkOf("eXIf", orientationTIFF(c.value))),
				"TIFF": withTIFFOrientation(tiffOf(t, blocks(stored), tiff.Uncompressed), uint16(c.value)),
			} {
				_, g := greyOf(t, file, Turn{})
				require.Equal(t, shown, letters(t, g), name)
			}
		})
	}
}

func TestExifOrientation(t *testing.T) {
	little, big := binary.LittleEndian, binary.BigEndian
	good := tiffBlock(little, tagOrientation, typeShort, 1, 6)
	for _, c := range []struct {
		name  string
		block []byte
		want  int
	}{
		{"little-endian", good, 6},
		{"big-endian", tiffBlock(big, tagOrientation, typeShort, 1, 8), 8},
		{"reserved 0", tiffBlock(big, tagOrientation, typeShort, 1, 0), 1},
		{"reserved 9", tiffBlock(big, tagOrientation, typeShort, 1, 9), 1},
		{"reserved 65535", tiffBlock(little, tagOrientation, typeShort, 1, 65535), 1},
		{"another tag", tiffBlock(big, 0x0110, typeShort, 1, 6), 1},
		{"another type", tiffBlock(big, tagOrientation, 4, 1, 6), 1},
		{"two values", tiffBlock(big, tagOrientation, typeShort, 2, 6), 1},
		{"nothing", nil, 1},
		{"no byte order", []byte("XX*\x00\x08\x00\x00\x00\x00\x00"), 1},
		{"broken off in the entry", good[:len(good)-8], 1},
		{"a directory past the end", []byte("II*\x00\xff\xff\xff\xff\x00\x00"), 1},
		{"more entries than bytes", append([]byte("II*\x00\x08\x00\x00\x00\xff\xff"), make([]byte, 30)...), 1},
	} {
		t.Run(c.name, func(t *testing.T) { require.Equal(t, c.want, exifOrientation(c.block)) })
	}
}

// The other formats that hold an orientation, each of the eight values.
func TestEachOrientationInOtherFormats(t *testing.T) {
	img := blocks([]string{"ABC", "DEF"})
	webp := sample(t, "blocks.webp")
	for name, file := range map[string]func(value int) []byte{
		"PNG": func(value int) []byte { return withChunks(pngOf(t, img), chunkOf("eXIf", orientationTIFF(value))) },
		"PNG, chunk at the end": func(value int) []byte {
			f := pngOf(t, img)
			return slices.Concat(f[:len(f)-pngChunkFrame], chunkOf("eXIf", orientationTIFF(value)), f[len(f)-pngChunkFrame:])
		},
		"TIFF": func(value int) []byte { return withTIFFOrientation(tiffOf(t, img, tiff.Deflate), uint16(value)) },
		"WebP": func(value int) []byte { return extendedWebP(t, webp, nil, orientationTIFF(value)) },
		"WebP, JPEG style": func(value int) []byte {
			return extendedWebP(t, webp, nil, append([]byte(exifHead), orientationTIFF(value)...))
		},
	} {
		for _, c := range exifCases(t) {
			t.Run(fmt.Sprintf("%s %d", name, c.value), func(t *testing.T) {
				p, g := greyOf(t, file(c.value), Turn{})
				require.Equal(t, c.display, letters(t, g))
				require.Equal(t, c.value, p.Header().Orientation)
				require.Equal(t, [2]int{g.W, g.H}, [2]int{p.Header().W, p.Header().H})
			})
		}
	}
}

// Big-endian TIFF files hold their orientation the other way round; what the file
// shows is among the goldens.
func TestOrientationInBigEndianTIFF(t *testing.T) {
	h, err := Probe(sample(t, "grey16big.tif"))
	require.NoError(t, err)
	require.Equal(t, Header{Format: "tiff", W: 40, H: 24, Orientation: 6, BitDepth: 16, MemoryBytes: h.MemoryBytes}, h)
}

// An EXIF block may hold directories that point at each other for ever; only the
// first is read.
func TestDirectoriesInALoop(t *testing.T) {
	block := orientationTIFF(6)
	binary.BigEndian.PutUint32(block[len(block)-4:], 8) // the next directory is this one
	require.Equal(t, 6, exifOrientation(block))
	_, g := greyOf(t, withEXIF(jpegOf(t, blocks([]string{"ABC", "DEF"})), block), Turn{})
	require.Equal(t, []string{"DA", "EB", "FC"}, letters(t, g))
}

func TestOnlyTheFirstEXIFSegmentCounts(t *testing.T) {
	file := jpegOf(t, blocks([]string{"ABC"}))
	twice := withEXIF(withEXIF(file, orientationTIFF(3)), orientationTIFF(2))
	h, err := Probe(twice)
	require.NoError(t, err)
	require.Equal(t, 2, h.Orientation)
}
