package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseSpeed(t *testing.T) {
	for _, test := range []struct {
		text string
		want MMPerSecond
	}{
		{"1500mm/min", 25}, {"25mm/s", 25}, {"1500", 25}, {"1500 MM / MIN", 25}, {"12,5 mm/s", 12.5}, {"2000mm/s", 2000}, {"120000", 2000},
	} {
		t.Run(test.text, func(t *testing.T) {
			got, err := ParseSpeed(test.text)
			require.NoError(t, err)
			require.Equal(t, test.want, got)
		})
	}
	require.Equal(t, 1500.0, MMPerSecond(25).PerMinute())
}

func TestParseSpeedRefuses(t *testing.T) {
	for _, test := range []struct{ text, because string }{
		{"", "is empty"}, {"0", "is outside the range"}, {"-1", "is negative"}, {"2001mm/s", "is outside the range"}, {"120001", "is outside the range"},
		{"NaN", "does not start with a number"}, {"Inf", "does not start with a number"}, {"60 in/min", `unknown unit "in/min"`}, {"5 mm", `unknown unit "mm"`},
	} {
		t.Run(test.text, func(t *testing.T) {
			_, err := ParseSpeed(test.text)
			require.ErrorContains(t, err, test.because)
			require.ErrorContains(t, err, "write a speed above 0")
			requireSentence(t, err)
		})
	}
}

func TestSpeedReadsBack(t *testing.T) {
	require.Equal(t, "1500 mm/min", MMPerSecond(25).String())
	require.Equal(t, "0.5 mm/min", MMPerSecond(0.5/60).String())
	rapid.Check(t, func(t *rapid.T) {
		v := MMPerSecond(rapid.Float64Range(0.001, float64(MaxSpeed)).Draw(t, "speed"))
		back, err := ParseSpeed(v.String())
		require.NoError(t, err)
		require.InDelta(t, v.PerMinute(), back.PerMinute(), 0.005+1e-9)
	})
}
