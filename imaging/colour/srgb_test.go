package colour_test

import (
	"encoding/csv"
	"encoding/json"
	"image/color"
	"math"
	"os"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// rows reads a table of published values, without its heading.
func rows(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(all), 1)
	return all[1:]
}

func number(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	require.NoError(t, err)
	return v
}

func TestTransferAgainstTheStandard(t *testing.T) {
	// Source: IEC 61966-2-1:1999. The pair for 0.18 is read in colour-science/colour,
	// models/rgb/transfer_functions/tests/test_srgb.py (commit 9d74314); the others
	// follow from the standard's formula.
	require.InDelta(t, 0.461356129500442, colour.Encode(0.18), 1e-12)
	require.InDelta(t, 0.735356983052, colour.Encode(0.5), 1e-11)
	require.InDelta(t, 0.040449936, colour.Encode(0.0031308), 1e-9)
	for _, row := range rows(t, "../../testdata/published/srgb_decode_256.csv") {
		code := uint8(number(t, row[0]))
		want := number(t, row[1])
		require.InDelta(t, want, colour.DecodeByte(code), 1e-12, "code %d", code)
		require.Equal(t, code, colour.EncodeByte(colour.DecodeByte(code)))
	}
}

// Source: IEC 61966-2-1:1999; values derived from its formula.
func TestScreensAverageInLinearLight(t *testing.T) {
	black, white := colour.Linear{}, colour.Linear{R: 1, G: 1, B: 1}
	for share, want := range map[float64]uint8{0.25: 137, 0.5: 188, 0.75: 225} {
		require.Equal(t, colour.Stored{R: want, G: want, B: want}, colour.Mix(black, white, share).Stored())
	}
}

func TestSixteenBitTablesEqualTheFormula(t *testing.T) {
	for i := 0; i <= math.MaxUint16; i++ {
		want := colour.EncodeByte(float64(i) / math.MaxUint16)
		require.Equal(t, want, colour.EncodeByte16(uint16(i)), "linear %d", i)
	}
	for code := 0; code < 256; code++ {
		c := uint8(code)
		require.InDelta(t, colour.DecodeByte(c)*math.MaxUint16, colour.DecodeByte16(c), 0.5)
		require.Equal(t, c, colour.EncodeByte16(colour.DecodeByte16(c)))
	}
}

func TestEncodeByteCutsOff(t *testing.T) {
	require.Equal(t, uint8(0), colour.EncodeByte(-3))
	require.Equal(t, uint8(0), colour.EncodeByte(math.NaN()))
	require.Equal(t, uint8(255), colour.EncodeByte(1.2))
}

func TestHex(t *testing.T) {
	c, err := colour.ParseHex("#2B2d30")
	require.NoError(t, err)
	require.Equal(t, colour.Stored{R: 0x2b, G: 0x2d, B: 0x30}, c)
	require.Equal(t, "#2b2d30", c.String())
	for _, bad := range []string{"", "2b2d30", "#2b2d3", "#2b2d3g", "#+b2d30", "teal"} {
		_, err := colour.ParseHex(bad)
		require.ErrorContains(t, err, "#rrggbb", "%q", bad)
	}
	data, err := json.Marshal(map[string]colour.Stored{"c": c})
	require.NoError(t, err)
	require.JSONEq(t, `{"c":"#2b2d30"}`, string(data))
	var back struct{ C colour.Stored }
	require.NoError(t, json.Unmarshal(data, &back))
	require.Equal(t, c, back.C)
}

func TestLuminanceOfWhiteIsOne(t *testing.T) {
	// Source: ITU-R BT.709-6, item 3.2: the weights add up to 1.
	require.InDelta(t, 1, colour.Linear{R: 1, G: 1, B: 1}.Y(), 1e-15)
}

func TestAColourOfTheStandardPackagesIsStored(t *testing.T) {
	require.Equal(t, colour.Stored{R: 43, G: 122, B: 120}, colour.StoredOf(color.RGBA{43, 122, 120, 255}))
	require.Equal(t, colour.Stored{R: 43, G: 122, B: 120}, colour.StoredOf(colour.Stored{R: 43, G: 122, B: 120}))
	require.Equal(t, colour.Stored{R: 200, G: 100, B: 50}, colour.StoredOf(color.NRGBA{200, 100, 50, 128}), "what shines through is not of the colour")
}
