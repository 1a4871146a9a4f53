package layout

import (
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var units = []Unit{Millimetre, Centimetre, Inches}

func TestParseUnit(t *testing.T) {
	for _, unit := range units {
		got, err := ParseUnit(unit.String())
		require.NoError(t, err)
		require.Equal(t, unit, got)
	}
	got, err := ParseUnit(" Inch ")
	require.NoError(t, err)
	require.Equal(t, Inches, got)
	_, err = ParseUnit("furlong")
	require.EqualError(t, err, `unit "furlong" is unknown: choose mm, cm or in`)
}

func TestFormat(t *testing.T) {
	for _, test := range []struct {
		unit   Unit
		length MM
		want   string
	}{
		{Millimetre, 254, "254 mm"},
		{Millimetre, 0.1, "0.1 mm"},
		{Millimetre, 125.0951, "125.1 mm"},
		{Millimetre, 3.14159, "3.14 mm"},
		{Millimetre, 100, "100 mm"},
		{Millimetre, 0, "0 mm"},
		{Millimetre, -0.001, "0 mm"},
		{Millimetre, -125.5, "-125.5 mm"},
		{Centimetre, 254, "25.4 cm"},
		{Centimetre, 0.01, "0.001 cm"},
		{Inches, 254, "10 in"},
		{Inches, 250.19, "9.85 in"},
		{Inches, 298.45, "11.75 in"},
		{Inches, 1, "0.039 in"},
		{Unit(9), 5, "5 mm"},
	} {
		t.Run(test.want, func(t *testing.T) {
			require.Equal(t, test.want, test.unit.Format(test.length))
		})
	}
}

func TestFormatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		bare := rapid.SampledFrom(units).Draw(t, "bare")
		length := MM(rapid.Float64Range(0, float64(MaxLength)).Draw(t, "length"))
		shown := unit.Format(length)
		back, err := ParseLength(shown, bare)
		require.NoError(t, err)
		require.InDelta(t, float64(length), float64(back), 0.0127+1e-9, "half a thousandth of an inch at most")
		if back < MaxLength { // there a length may have been cut to the limit
			require.Equal(t, shown, unit.Format(back))
		}
	})
}
