package layout

import (
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// The arithmetic of 25.4 mm to the inch.
func TestDPI(t *testing.T) {
	for _, test := range []struct {
		pitch MM
		want  float64
	}{
		{0.1, 254}, {0.08, 317.5}, {0.05, 508}, {0.12, 211.6667}, {0.127, 200}, {0.2, 127}, {0.085, 298.8235},
	} {
		require.InDelta(t, test.want, DPI(test.pitch), 5e-5, "%g mm", float64(test.pitch))
	}
}

func TestParsePitch(t *testing.T) {
	for _, test := range []struct {
		text string
		want MM
	}{
		{"0.08mm", 0.08}, {"0.08", 0.08}, {"0,08 mm", 0.08}, {"318dpi", 25.4 / 318}, {"317.5 dpi", 0.08}, {"254 DPI", 0.1},
		{"200 dots per inch", 0.127}, {"0.005 in", 0.127}, {"0.01cm", 0.1}, {"0.01", 0.01}, {"1", 1}, {"2540dpi", 0.01}, {"25.4dpi", 1},
	} {
		t.Run(test.text, func(t *testing.T) {
			got, err := ParsePitch(test.text)
			require.NoError(t, err)
			require.InDelta(t, float64(test.want), float64(got), 1e-15)
			_, err = Area{Size: Size{1, 1}}.Grid(got)
			require.NoError(t, err, "what is read can be used")
		})
	}
}

func TestParsePitchRefuses(t *testing.T) {
	for _, test := range []struct{ text, because string }{
		{"", "is empty"}, {"0", "is outside the range"}, {"0mm", "is outside the range"}, {"0dpi", "is outside the range"},
		{"-0.1", "is negative"}, {"0.009", "is outside the range"}, {"1.1mm", "is outside the range"}, {"318mm", "is outside the range"},
		{"2541dpi", "is outside the range"}, {"25dpi", "is outside the range"}, {"NaN", "does not start with a number"},
		{"Inf dpi", "does not start with a number"}, {"80um", "unknown unit"},
	} {
		t.Run(test.text, func(t *testing.T) {
			_, err := ParsePitch(test.text)
			require.ErrorContains(t, err, test.because)
			require.ErrorContains(t, err, "write 0.01 to 1 mm")
			requireSentence(t, err)
		})
	}
}

func TestPitchAndDPIAreOneThing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dpi := rapid.Float64Range(26, 2500).Draw(t, "dpi")
		pitch, err := ParsePitch(strconv.FormatFloat(dpi, 'f', -1, 64) + "dpi")
		require.NoError(t, err)
		require.InEpsilon(t, dpi, DPI(pitch), 1e-12)
	})
}
