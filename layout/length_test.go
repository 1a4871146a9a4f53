package layout

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseLength(t *testing.T) {
	// Source: the inch is 25.4 mm exactly, international yard and pound agreement, 1959; the rest is arithmetic.
	for _, test := range []struct {
		text string
		bare Unit
		want MM
	}{
		{"10in", Millimetre, 254},
		{`9.85"`, Millimetre, 250.19},
		{"11 3/4 in", Millimetre, 298.45},
		{"11-3/4 in", Millimetre, 298.45},
		{"11¾ in", Millimetre, 298.45},
		{"3/4in", Millimetre, 19.05},
		{"½”", Millimetre, 12.7},
		{"5''", Millimetre, 127},
		{"254 mm", Inches, 254},
		{"25.4cm", Inches, 254},
		{"9,5 mm", Inches, 9.5},
		{"0,075 in", Millimetre, 1.905},
		{"1000,5 mm", Millimetre, 1000.5},
		{".5 in", Millimetre, 12.7},
		{"6", Millimetre, 6},
		{"6", Centimetre, 60},
		{"6", Inches, 152.4},
		{"  12\u00a0 Inches ", Millimetre, 304.8},
		{"3 CM", Millimetre, 30},
		{"0 mm", Millimetre, 0},
		{"10000 mm", Millimetre, MaxLength},
		{"393.701 in", Millimetre, MaxLength},
	} {
		t.Run(test.text, func(t *testing.T) {
			got, err := ParseLength(test.text, test.bare)
			require.NoError(t, err)
			require.InDelta(t, float64(test.want), float64(got), 1e-9)
		})
	}
}

func TestParseLengthRefuses(t *testing.T) {
	for _, test := range []struct{ text, because string }{
		{"", "is empty"},
		{" \t ", "is empty"},
		{"-5 mm", "is negative"},
		{"−5 mm", "is negative"},
		{"-0", "is negative"},
		{"NaN", "does not start with a number"},
		{"Inf mm", "does not start with a number"},
		{"-Inf", "is negative"},
		{"mm", "does not start with a number"},
		{"12 parsecs", `unknown unit "parsecs"`},
		{"3 m", `unknown unit "m"`},
		{"5 ft", `unknown unit "ft"`},
		{"5 mm mm", `unknown unit "mm mm"`},
		{"1e3 mm", "is not a plain number"},
		{"0x10 mm", "is not a plain number"},
		{"1_000 mm", "is not a plain number"},
		{"1.2.3 mm", "is not a plain number"},
		{"5 6 mm", "is not a plain number"},
		{"5-6 mm", "is not a plain number"},
		{"1,000 mm", "thousands or decimals"},
		{"1,000.5 mm", "is not a plain number"},
		{"3/0 in", "fraction"},
		{"11 5/4 in", "fraction"},
		{"1/2/3 in", "fraction"},
		{"1.5 1/2 in", "fraction"},
		{"/4 in", "fraction"},
		{"10001 mm", "is longer than ten metres"},
		{"1000.1 cm", "is longer than ten metres"},
		{"394 in", "is longer than ten metres"},
		{strings.Repeat("9", 400) + " mm", "is longer than ten metres"},
	} {
		t.Run(test.text, func(t *testing.T) {
			_, err := ParseLength(test.text, Millimetre)
			require.ErrorContains(t, err, test.because)
			require.ErrorContains(t, err, "write a length from 0 to 10000 mm", "it says what to do next")
			requireSentence(t, err)
		})
	}
}

// requireSentence holds the form every message has: one short line that starts in
// lower case and ends without a full stop.
func requireSentence(t require.TestingT, err error) {
	require.Error(t, err)
	message := err.Error()
	require.Equal(t, strings.ToLower(message[:1]), message[:1])
	require.False(t, strings.HasSuffix(message, "."), message)
	require.NotContains(t, message, "\n")
	require.Less(t, len(message), 320)
	require.Contains(t, message, ": ")
}

func FuzzParseLength(f *testing.F) {
	for _, seed := range []string{"10in", `9.85"`, "11 3/4 in", "254 mm", "25.4cm", "9,5 mm", "1,000", "-1", "NaN", "Inf", "",
		"1e309", "3/0", "½", "11¾”", "\x00", "\xff\xfe", "9" + strings.Repeat("0", 500), "0x1p-2", "１２ mm", "1⁄2 in"} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(2))
	}
	f.Fuzz(func(t *testing.T, text string, bare uint8) {
		length, err := ParseLength(text, Unit(bare))
		if err != nil {
			require.Zero(t, length)
			require.Less(t, len(err.Error()), 1000)
			return
		}
		require.False(t, math.IsNaN(float64(length)))
		require.True(t, length >= 0 && length <= MaxLength, "%v", length)
		back, err := ParseLength(Millimetre.Format(length), Inches)
		require.NoError(t, err)
		require.InDelta(t, float64(length), float64(back), 0.005+1e-9)
	})
}
