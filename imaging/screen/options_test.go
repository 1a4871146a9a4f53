package screen_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/screen"
)

func TestOptionsRefuse(t *testing.T) {
	for name, c := range map[string]struct {
		o    screen.Options
		want string
	}{
		"kind":        {screen.Options{Kind: "lace"}, `unknown screen "lace": choose one of floyd-steinberg, beam-aware, blue-noise, jarvis-judice-ninke, stucki, burkes, sierra, sierra-two-row, sierra-lite, atkinson, clustered, bayer, threshold`},
		"run":         {screen.Options{MinDot: 17}, "shortest run of 17 dots is out of range: give 1 to 16, or 0 for any"},
		"gap":         {screen.Options{MinGap: -1}, "shortest gap of -1 dots is out of range: give 1 to 16, or 0 for any"},
		"matrix":      {screen.Options{Kind: screen.Bayer, Matrix: 3}, "bayer matrix of 3 dots is not known: choose 2, 4, 8 or 16"},
		"spot":        {screen.Options{Kind: screen.Clustered, Spot: "star"}, `unknown spot "star": choose round or line`},
		"angle":       {screen.Options{Kind: screen.Clustered, AngleDegrees: 181}, "screen angle of 181 degrees is out of range: give 0 to 180"},
		"no angle":    {screen.Options{Kind: screen.Clustered, AngleDegrees: math.NaN()}, "screen angle of NaN degrees is out of range: give 0 to 180"},
		"lines":       {screen.Options{Kind: screen.Clustered, LinesPerCM: -2}, "-2 lines per cm is out of range: give a number above 0, or 0 for cells of 6 dots"},
		"no lines":    {screen.Options{Kind: screen.Clustered, LinesPerCM: math.Inf(1)}, "+Inf lines per cm is out of range: give a number above 0, or 0 for cells of 6 dots"},
		"pitch":       {screen.Options{Kind: screen.Clustered, LinesPerCM: 20}, "pitch of 0 mm is out of range: lines per cm need the raster's pitch, 0.01 to 1 mm"},
		"fine lines":  {screen.Options{Kind: screen.Clustered, LinesPerCM: 80, Pitch: 0.1}, "80 lines per cm at a pitch of 0.1 mm makes cells of 1.25 dots: give 3.12 to 50 lines per cm"},
		"broad lines": {screen.Options{Kind: screen.Clustered, LinesPerCM: 2, Pitch: 0.1}, "2 lines per cm at a pitch of 0.1 mm makes cells of 50 dots: give 3.12 to 50 lines per cm"},
	} {
		t.Run(name, func(t *testing.T) {
			require.EqualError(t, c.o.Validate(), c.want)
			_, err := screen.Screen(context.Background(), even(1, 1, 0), c.o)
			require.EqualError(t, err, c.want)
		})
	}
}

// Lines and pitch matter to none but a clustered screen; whoever changes the kind
// need not clear them.
func TestOptionsOfOtherKindsAreLeftAlone(t *testing.T) {
	require.NoError(t, screen.Options{LinesPerCM: 20}.Validate())
	require.NoError(t, screen.Options{Kind: screen.Bayer, MinDot: 3, Spot: screen.Line}.Validate())
}

func TestOptionsMayBeCompared(t *testing.T) {
	cells, err := screen.GeometricCells(1.25)
	require.NoError(t, err)
	a, b := screen.Options{Kind: screen.BeamAware, Cells: cells}, screen.Options{Kind: screen.BeamAware, Cells: cells}
	require.True(t, a == b)
	b.MinDot = 2
	require.False(t, a == b)
}

func TestKinds(t *testing.T) {
	kinds := screen.Kinds()
	require.Len(t, kinds, 13)
	require.Equal(t, screen.FloydSteinberg, kinds[0], "the usual one first")
	seen := map[string]screen.Kind{}
	for _, k := range kinds {
		line := screen.Describe(k)
		require.NotEmpty(t, line)
		require.NotContains(t, line, "\n")
		require.Less(t, len(line), 130, "%s: one line", k)
		require.False(t, strings.HasSuffix(line, "."), "%s: no sentence", k)
		require.Empty(t, seen[line], "the same line twice")
		seen[line] = k
	}
	require.Equal(t, screen.Describe(screen.FloydSteinberg), screen.Describe(""))
	require.Empty(t, screen.Describe("lace"))
	require.Equal(t, screen.Uses{}, screen.Kind("lace").Uses())
	require.True(t, screen.BeamAware.Uses().Cells)
	require.False(t, screen.Clustered.Uses().Runs)
}

// What a kind says it takes no notice of changes nothing, and the rest does.
func TestUsesAreTrue(t *testing.T) {
	cells, err := screen.GeometricCells(1.4)
	require.NoError(t, err)
	tints := even(90, 90, 0.3)
	for _, k := range screen.Kinds() {
		u := k.Uses()
		for name, c := range map[string]struct {
			uses bool
			o    screen.Options
		}{
			"direction": {u.Direction, screen.Options{OneWay: true}},
			"runs":      {u.Runs, screen.Options{MinDot: 3, MinGap: 2}},
			"cells":     {u.Cells, screen.Options{Cells: cells}},
			"matrix":    {u.Matrix, screen.Options{Matrix: 4}},
			"lines":     {u.Lines, screen.Options{LinesPerCM: 9, AngleDegrees: 30, Spot: screen.Line, Pitch: 0.1}},
			"seed":      {u.Seed, screen.Options{Seed: 3}},
		} {
			t.Run(string(k)+" "+name, func(t *testing.T) {
				c.o.Kind = k
				changed := picture(dots(t, tints, c.o))
				usual := picture(dots(t, tints, screen.Options{Kind: k}))
				if c.uses {
					require.NotEqual(t, usual, changed)
				} else {
					require.Equal(t, usual, changed)
				}
			})
		}
	}
}
