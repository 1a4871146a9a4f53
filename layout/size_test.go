package layout

import (
	"encoding/csv"
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseSize(t *testing.T) {
	for _, test := range []struct {
		text string
		bare Unit
		want Size
	}{
		{"12x16in", Millimetre, Size{304.8, 406.4}},
		{"300 x 400 mm", Inches, Size{300, 400}},
		{"300 × 400 mm", Inches, Size{300, 400}},
		{"30 by 40 cm", Inches, Size{300, 400}},
		{"11 3/4 x 14 in", Millimetre, Size{298.45, 355.6}},
		{"10in", Millimetre, Size{254, 254}},
		{"300", Millimetre, Size{300, 300}},
		{"12X16", Inches, Size{304.8, 406.4}},
		{"12in x 400mm", Centimetre, Size{304.8, 400}},
		{`12" x 16"`, Millimetre, Size{304.8, 406.4}},
		{"12in x 16", Millimetre, Size{304.8, 406.4}},
		{"29,7 x 42 cm", Millimetre, Size{297, 420}},
		// Source: ISO/IEC 7810:2019, ID-1 card 85.60 x 53.98 mm = 3.370 x 2.125 in; value from memory.
		{"85.60 x 53.98 mm", Inches, Size{85.6, 53.98}},
		// Source: ANSI/ASME Y14.1, letter 8 1/2 x 11 in = 215.9 x 279.4 mm; value from memory.
		{"8 1/2 x 11 in", Millimetre, Size{215.9, 279.4}},
	} {
		t.Run(test.text, func(t *testing.T) {
			got, err := ParseSize(test.text, test.bare)
			require.NoError(t, err)
			require.InDelta(t, float64(test.want.W), float64(got.W), 1e-9)
			require.InDelta(t, float64(test.want.H), float64(got.H), 1e-9)
		})
	}
}

func TestParseSizeRefuses(t *testing.T) {
	for _, test := range []struct{ text, because string }{
		{"", "is empty"},
		{"x", "is empty"},
		{"12 x in", "does not start with a number"},
		{"12 x", "is empty"},
		{"12x16x3 in", "has more than two sides"},
		{"0x16in", "has a side of no length"},
		{"0", "has a side of no length"},
		{"12x-16in", "is negative"},
		{"NaNxNaN", "does not start with a number"},
		{"300 x 11000 mm", "is longer than ten metres"},
		{"3 x 4 m", `unknown unit "m"`},
		{"3ft x 4", `unknown unit "ft"`},
	} {
		t.Run(test.text, func(t *testing.T) {
			_, err := ParseSize(test.text, Millimetre)
			require.ErrorContains(t, err, test.because)
			require.ErrorContains(t, err, "write ")
			requireSentence(t, err)
		})
	}
}

// The sizes panels are sold in, as the shops name them, against their millimetres.
// Source: testdata/panel_sizes.csv; its last column names the source of each row.
func TestPublishedPanelSizes(t *testing.T) {
	file, err := os.Open("testdata/panel_sizes.csv")
	require.NoError(t, err)
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	require.NoError(t, err)
	inches, plain := 0, 0
	for _, row := range rows[1:] {
		width, err := strconv.ParseFloat(row[2], 64)
		require.NoError(t, err)
		height, err := strconv.ParseFloat(row[3], 64)
		require.NoError(t, err)
		ratio, err := strconv.ParseFloat(row[4], 64)
		require.NoError(t, err)

		size, err := ParseSize(row[2]+"x"+row[3]+"mm", Inches)
		require.NoError(t, err, row[1])
		require.Equal(t, Size{MM(width), MM(height)}, size)
		require.InDelta(t, ratio, math.Max(size.Aspect(), 1/size.Aspect()), 5e-5, row[1])
		require.NoError(t, Panel{Kind: Board, Size: size}.Validate(), row[1])
		plain++

		name, isInch := strings.CutSuffix(row[1], " in")
		if !isInch || strings.Contains(name, " ") {
			continue
		}
		size, err = ParseSize(row[1], Millimetre)
		require.NoError(t, err, row[1])
		require.InDelta(t, width, float64(size.W), 1e-9, row[1])
		require.InDelta(t, height, float64(size.H), 1e-9, row[1])
		require.Equal(t, strings.Replace(row[1], "x", " x ", 1), Inches.FormatSize(size))
		inches++
	}
	require.GreaterOrEqual(t, inches, 30)
	require.GreaterOrEqual(t, plain, 50)
}

func TestFormatSize(t *testing.T) {
	require.Equal(t, "300 x 400 mm", Millimetre.FormatSize(Size{300, 400}))
	require.Equal(t, "11.75 x 14 in", Inches.FormatSize(Size{298.45, 355.6}))
	// Source: ISO/IEC 7810:2019, ID-1 in inches; value from memory.
	require.Equal(t, "3.37 x 2.125 in", Inches.FormatSize(Size{85.6, 53.98}))
}

func TestFormatSizeReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		side := rapid.Float64Range(0.02, float64(MaxLength))
		size := Size{MM(side.Draw(t, "w")), MM(side.Draw(t, "h"))}
		back, err := ParseSize(unit.FormatSize(size), rapid.SampledFrom(units).Draw(t, "bare"))
		require.NoError(t, err)
		require.InDelta(t, float64(size.W), float64(back.W), 0.0127+1e-9)
		require.InDelta(t, float64(size.H), float64(back.H), 0.0127+1e-9)
	})
}

func TestSizeInFiles(t *testing.T) {
	data, err := json.Marshal(map[string]Bed{"bed_mm": {W: 400, H: 300.5}})
	require.NoError(t, err)
	require.JSONEq(t, `{"bed_mm":[400,300.5]}`, string(data))

	var size Size
	require.NoError(t, json.Unmarshal([]byte("[297,420]"), &size))
	require.Equal(t, Size{297, 420}, size)
	for _, text := range []string{"[1]", "[1,2,3]", "[1,null]", `["1",2]`, "{}", "5", "null"} {
		err := json.Unmarshal([]byte(text), &size)
		require.ErrorContains(t, err, "[width, height]", text)
		require.Equal(t, Size{297, 420}, size, "a refused list changes nothing")
	}
	_, err = json.Marshal(Size{MM(math.NaN()), 1})
	require.Error(t, err)
}

func TestSizeValidate(t *testing.T) {
	require.NoError(t, Size{1, MaxLength}.Validate())
	for _, bad := range []MM{0, -1, MaxLength + 1, MM(math.NaN()), MM(math.Inf(1)), MM(math.Inf(-1))} {
		requireSentence(t, Size{bad, 5}.Validate())
		requireSentence(t, Size{5, bad}.Validate())
	}
}

func FuzzParseSize(f *testing.F) {
	for _, seed := range []string{"12x16in", "300 x 400 mm", "11 3/4 x 14 in", "10in", "12in x 400mm", "12in x 16", "x", "1x1x1",
		"1 by 2", "×", "0x0", "-1x2", "NaNxInf", "1,5x2,5cm", "12' x 3", "\xffx\xfe", "xXxX", "1/2x3/4in", ""} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(1))
	}
	f.Fuzz(func(t *testing.T, text string, bare uint8) {
		size, err := ParseSize(text, Unit(bare))
		if err != nil {
			require.Zero(t, size)
			require.Less(t, len(err.Error()), 1000)
			return
		}
		require.NoError(t, size.Validate())
	})
}

func TestFitLongKeepsTheShape(t *testing.T) {
	for _, c := range []struct {
		size       Size
		long, w, h int
	}{{Size{300, 400}, 1800, 1350, 1800}, {Size{400, 300}, 1800, 1800, 1350}, {Size{1, 1000}, 100, 1, 100}} {
		w, h := c.size.FitLong(c.long)
		require.Equal(t, [2]int{c.w, c.h}, [2]int{w, h})
	}
}
