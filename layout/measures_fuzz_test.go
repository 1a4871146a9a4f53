package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
)

// short holds a refusal of any text to a length that a window can show.
func short(t *testing.T, err error) {
	t.Helper()
	require.NotEmpty(t, err.Error())
	require.Less(t, len(err.Error()), 1000)
}

func FuzzParseSpeed(f *testing.F) {
	for _, seed := range []string{"1500mm/min", "25 mm/s", "1500", "0", "-1 mm/s", "1e400", "NaN mm/s", "½mm/s", "mm/min", "9/0", "\xff"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		v, err := ParseSpeed(text)
		if err != nil {
			short(t, err)
			return
		}
		require.True(t, v > 0 && v <= MaxSpeed, "%v", v)
	})
}

func FuzzParsePitch(f *testing.F) {
	for _, seed := range []string{"0.08mm", "318dpi", "0.003in", "0 dpi", "1e-320dpi", "2540 dots per inch", "Inf", "0,08", "1/0dpi"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		p, err := ParsePitch(text)
		if err != nil {
			short(t, err)
			return
		}
		require.True(t, possiblePitch(p), "%v", p)
	})
}

func FuzzParseBorder(f *testing.F) {
	for _, seed := range []string{"6mm", "6,6,10,10 mm", "6,5; 6,5; 10; 10 mm", ";;;", ",,,", "1/4 in", "NaN;1;1;1", "1,2", "-1"} {
		f.Add(seed, uint8(0))
		f.Add(seed, uint8(2))
	}
	f.Fuzz(func(t *testing.T, text string, bare uint8) {
		b, err := ParseBorder(text, Unit(bare))
		if err != nil {
			short(t, err)
			return
		}
		require.NoError(t, b.Validate())
		back, err := ParseBorder(Millimetre.FormatBorder(b), Inches)
		require.NoError(t, err)
		for _, side := range [][2]MM{{b.Left, back.Left}, {b.Right, back.Right}, {b.Top, back.Top}, {b.Bottom, back.Bottom}} {
			require.LessOrEqual(t, math.Abs(float64(side[0]-side[1])), 0.005+1e-9)
		}
	})
}
