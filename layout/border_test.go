package layout

import (
	"encoding/json"
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParseBorder(t *testing.T) {
	for _, test := range []struct {
		text string
		bare Unit
		want Border
	}{
		{"6mm", Inches, Even(6)},
		{"6", Millimetre, Even(6)},
		{"6,5 mm", Millimetre, Even(6.5)},
		{"0", Millimetre, Border{}},
		{"1/4 in", Millimetre, Even(6.35)},
		{"6,6,10,10 mm", Inches, Border{Left: 6, Right: 6, Top: 10, Bottom: 10}},
		{"1, 2, 3, 4", Millimetre, Border{Left: 1, Right: 2, Top: 3, Bottom: 4}},
		{"1in, 2in, 3mm, 4mm", Millimetre, Border{Left: 25.4, Right: 50.8, Top: 3, Bottom: 4}},
		{"6,5; 6,5; 10; 10 mm", Inches, Border{Left: 6.5, Right: 6.5, Top: 10, Bottom: 10}},
		{"0.5, 1/2, 1 1/2, 0 in", Millimetre, Border{Left: 12.7, Right: 12.7, Top: 38.1, Bottom: 0}},
	} {
		t.Run(test.text, func(t *testing.T) {
			got, err := ParseBorder(test.text, test.bare)
			require.NoError(t, err)
			require.InDeltaSlice(t, sides(test.want), sides(got), 1e-9)
		})
	}
}

func sides(b Border) []float64 {
	return []float64{float64(b.Left), float64(b.Right), float64(b.Top), float64(b.Bottom)}
}

func TestParseBorderRefuses(t *testing.T) {
	for _, test := range []struct{ text, because string }{
		{"", "is empty"},
		{"-3mm", "is negative"},
		{"1,2,3 mm", "has 3 values"},
		{"1;2 mm", "has 2 values"},
		{"1,2,3,4,5 mm", "has 5 values"},
		{"1,2,,4 mm", "is empty"},
		{"1,2,-3,4 mm", "is negative"},
		{"1in,2mm,3,4", "write a unit after each"},
		{"6 m", "unknown unit"},
		{"NaN", "does not start with a number"},
	} {
		t.Run(test.text, func(t *testing.T) {
			_, err := ParseBorder(test.text, Millimetre)
			require.ErrorContains(t, err, test.because)
			requireSentence(t, err)
		})
	}
}

func TestFormatBorder(t *testing.T) {
	require.Equal(t, "6 mm", Millimetre.FormatBorder(Even(6)))
	require.Equal(t, "6, 6, 10, 10 mm", Millimetre.FormatBorder(Border{6, 6, 10, 10}))
	require.Equal(t, "0.075 in", Inches.FormatBorder(Even(1.905)))
}

func TestFormatBorderReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		unit := rapid.SampledFrom(units).Draw(t, "unit")
		side := rapid.Custom(func(t *rapid.T) MM { return MM(rapid.Float64Range(0, 500).Draw(t, "mm")) })
		border := Border{side.Draw(t, "left"), side.Draw(t, "right"), side.Draw(t, "top"), side.Draw(t, "bottom")}
		if rapid.Bool().Draw(t, "even") {
			border = Even(border.Left)
		}
		back, err := ParseBorder(unit.FormatBorder(border), rapid.SampledFrom(units).Draw(t, "bare"))
		require.NoError(t, err)
		require.InDeltaSlice(t, sides(border), sides(back), 0.0127+1e-9)
	})
}

func TestBorderInFiles(t *testing.T) {
	data, err := json.Marshal(Border{Left: 1, Right: 2, Top: 3, Bottom: 4.5})
	require.NoError(t, err)
	require.JSONEq(t, `{"left":1,"right":2,"top":3,"bottom":4.5}`, string(data))
}

func TestBorderValidate(t *testing.T) {
	require.NoError(t, Border{}.Validate())
	require.NoError(t, Even(MaxLength).Validate())
	for _, bad := range []MM{-1, MaxLength + 1, MM(math.NaN()), MM(math.Inf(1))} {
		for _, border := range []Border{{Left: bad}, {Right: bad}, {Top: bad}, {Bottom: bad}} {
			requireSentence(t, border.Validate())
		}
	}
	require.ErrorContains(t, Border{Top: -2}.Validate(), "border -2 mm top is not possible")
}
