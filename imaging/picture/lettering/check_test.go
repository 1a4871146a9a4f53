package lettering_test

import (
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
)

// The rule of thumb is common practice, no source; the numbers are worked by hand.
func TestLeastStroke(t *testing.T) {
	cases := []struct{ beam, pitch, burned, kept layout.MM }{
		{0.10, 0.08, 0.16, 0.18},
		{0.20, 0.08, 0.20, 0.28},
		{0.05, 0.10, 0.20, 0.20}, // lines that do not touch
	}
	for _, c := range cases {
		least := lettering.LeastStroke(c.beam, c.pitch)
		require.InDelta(t, float64(c.burned), float64(least.Burned), 1e-12)
		require.InDelta(t, float64(c.kept), float64(least.Kept), 1e-12)
	}
}

// The plain font's strokes are a seventh of its cap height.
func TestCheckStroke(t *testing.T) {
	fonts := builtIn(t)
	const beam, pitch = 0.10, 0.08
	cases := []struct {
		name string
		line lettering.Line
		want []string
	}{
		{"large enough", lettering.Line{Text: "HIII", Font: "plain", CapHeight: 1.5, Burn: true}, nil},
		{"thin strokes", lettering.Line{Text: "II", Font: "plain", CapHeight: 0.7, Spacing: 0.5, Burn: true},
			[]string{`strokes of 0.1 mm (in "I") will not hold; 0.16 mm is the least here: make the letters 1.2 mm high or choose a bolder font`}},
		{"letters close together", lettering.Line{Text: "II", Font: "plain", CapHeight: 2.1, Spacing: -0.5, Burn: true},
			[]string{`letters 0.1 mm apart ("II") will run together; 0.18 mm is the least here: add 0.08 mm of letter spacing`}},
		{"letters that touch", lettering.Line{Text: "II", Font: "plain", CapHeight: 2.1, Spacing: -0.6, Burn: true}, nil},
		{"left in the paint", lettering.Line{Text: "I", Font: "plain", CapHeight: 1.15},
			[]string{`strokes of 0.16 mm (in "I") will burn away; 0.18 mm is the least here: make the letters 1.3 mm high or choose a bolder font`}},
		{"left with a margin", lettering.Line{Text: "I", Font: "plain", CapHeight: 1.15, Margin: 0.01}, nil},
		{"a margin that fills", lettering.Line{Text: "II", Font: "plain", CapHeight: 7, Spacing: -1.2, Margin: 0.35},
			[]string{`letters 0.8 mm apart ("II") will run together; 0.86 mm is the least here: add 0.06 mm of letter spacing or make the margin smaller`}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			require.Equal(t, c.want, lettering.CheckStroke(place(t, fonts, c.line), beam, pitch))
		})
	}
	gaps := lettering.CheckStroke(place(t, fonts, lettering.Line{Text: "a", Font: "sans-bold", CapHeight: 1.5, Burn: true}), beam, pitch)
	require.Len(t, gaps, 1)
	require.Regexp(t, `^gaps of 0\.1\d mm \(in "a"\) will close; 0\.18 mm is the least here: make the letters \d(\.\d)? mm high or choose a more open font$`, gaps[0])
}

// What it says to do helps: at the cap height it names, nothing is left to say.
func TestCheckStrokeAdviceHolds(t *testing.T) {
	fonts := builtIn(t)
	for _, name := range []string{"serif", "script", "slab", "sans"} {
		line := lettering.Line{Text: "fine", Font: name, CapHeight: 1, Spacing: 1, Burn: true}
		stroke := lettering.ThinnestStroke(place(t, fonts, line))
		gap := lettering.ThinnestGap(place(t, fonts, line))
		least := lettering.LeastStroke(0.1, 0.08)
		line.CapHeight = max(least.Burned/stroke.MM, least.Kept/gap.MM) + 0.1
		require.Empty(t, lettering.CheckStroke(place(t, fonts, line), 0.1, 0.08), name)
		line.CapHeight -= 0.5
		require.NotEmpty(t, lettering.CheckStroke(place(t, fonts, line), 0.1, 0.08), name)
	}
}

func TestThinnestGrowsWithTheLetters(t *testing.T) {
	fonts := builtIn(t)
	at := func(size layout.MM) [3]lettering.Thin {
		p := place(t, fonts, lettering.Line{Text: "Regal", Font: "serif", CapHeight: size, RotationDegrees: 20})
		return [3]lettering.Thin{lettering.ThinnestStroke(p), lettering.ThinnestGap(p), lettering.NearestLetters(p)}
	}
	small, large := at(5), at(50)
	for i := range small {
		require.Equal(t, small[i].Letter, large[i].Letter)
		require.InEpsilon(t, 10*float64(small[i].MM), float64(large[i].MM), 1e-3)
	}
}

func TestCheckPlace(t *testing.T) {
	fonts := builtIn(t)
	pl := board(t, 96, 76, 0.1) // on a panel of 100 x 80 mm
	at := func(x, y layout.MM) []string {
		return lettering.CheckPlace(place(t, fonts, lettering.Line{Text: "H", Font: "plain", CapHeight: 7, At: layout.Point{X: x, Y: y}}), pl)
	}
	require.Empty(t, at(0, 0))
	require.Empty(t, at(45.5, 31), "just inside")
	require.Empty(t, at(45.54, 31), "half a dot is taken up by the dots")
	require.Equal(t, []string{
		`"H" reaches 1 mm past the picture area's right and is cut off there: move it left, make it smaller or make the border narrower`,
	}, at(46.5, 31))
	require.Equal(t, []string{
		`"H" reaches 3 mm past the panel's left: move it right or make it smaller`,
		`"H" reaches 1.5 mm past the picture area's bottom and is cut off there: move it up, make it smaller or make the border narrower`,
	}, at(-50.5, -39.5))
	require.Equal(t, []string{`"H" reaches 8 mm past the panel's top: move it down or make it smaller`}, at(0, 41))
}
