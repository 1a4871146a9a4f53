package layout

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A 10 in canvas burned at 9.85 in: common practice, no source. The dots and
// corners follow by arithmetic.
func TestPlaceTenInchCanvas(t *testing.T) {
	size, err := ParseSize("10in", Millimetre)
	require.NoError(t, err)
	border, err := ParseBorder("0.075in", Millimetre)
	require.NoError(t, err)
	pitch, err := ParsePitch("318dpi")
	require.NoError(t, err)

	got, err := Place(Panel{Kind: Canvas, Size: size, EdgeDepth: 19.05}, border, pitch)
	require.NoError(t, err)
	require.Equal(t, "9.85 x 9.85 in", Inches.FormatSize(got.Area.Size))
	require.Equal(t, Grid{Cols: 3132, Rows: 3132, Pitch: pitch}, got.Grid)
	requirePoint(t, Point{}, got.Centre, 1e-9)
	for i, want := range [4]Point{{-125.095, 125.095}, {125.095, 125.095}, {125.095, -125.095}, {-125.095, -125.095}} {
		requirePoint(t, want, got.Corners[i], 0.05)
	}
	require.InDelta(t, 3132*25.4/318, float64(got.Grid.Size().W), 1e-9, "the true size, 250.166 mm")
}

func requirePoint(t require.TestingT, want, got Point, tolerance float64) {
	require.InDelta(t, float64(want.X), float64(got.X), tolerance)
	require.InDelta(t, float64(want.Y), float64(got.Y), tolerance)
}

// By hand: 300 x 200 less 10 left, 30 right, 5 top, 25 bottom is 260 x 170, from
// x = -140 to 120 and from y = -75 to 95.
func TestPlaceWithUnevenBorder(t *testing.T) {
	got, err := Place(Panel{Kind: Board, Size: Size{300, 200}}, Border{Left: 10, Right: 30, Top: 5, Bottom: 25}, 0.1)
	require.NoError(t, err)
	require.Equal(t, Size{260, 170}, got.Area.Size)
	require.Equal(t, Grid{Cols: 2600, Rows: 1700, Pitch: 0.1}, got.Grid)
	requirePoint(t, Point{-10, 10}, got.Centre, 1e-9)
	for i, want := range [4]Point{{-140, 95}, {120, 95}, {120, -75}, {-140, -75}} {
		requirePoint(t, want, got.Corners[i], 1e-9)
	}
	require.InDeltaSlice(t, sides(got.Border), sides(got.Left), 1e-9, "2600 x 1700 dots fill the area")
}

func TestPlaceShowsTheBorderLeft(t *testing.T) {
	got, err := Place(Panel{Kind: Tile, Size: Size{100, 100}}, Border{Left: 3, Right: 5, Top: 0, Bottom: 2}, 0.3)
	require.NoError(t, err)
	require.Equal(t, 307, got.Grid.Cols, "92 mm / 0.3 = 306.67")
	require.Equal(t, 327, got.Grid.Rows, "98 mm / 0.3 = 326.67")
	require.InDeltaSlice(t, []float64{2.95, 4.95, -0.05, 1.95}, sides(got.Left), 1e-9)
}

func TestPlaceRefuses(t *testing.T) {
	panel := Panel{Kind: Canvas, Size: Size{300, 400}}
	for _, test := range []struct {
		name    string
		panel   Panel
		border  Border
		pitch   MM
		because string
	}{
		{"border wider than panel", panel, Border{Left: 160, Right: 160}, 0.1,
			"border 160 mm left and 160 mm right leave nothing of a panel 300 mm wide: choose a smaller border"},
		{"border higher than panel", panel, Border{Top: 250, Bottom: 200}, 0.1,
			"border 250 mm top and 200 mm bottom leave nothing of a panel 400 mm high: choose a smaller border"},
		{"border leaves nothing", panel, Even(150), 0.1, "leave nothing of a panel 300 mm wide"},
		{"border negative", panel, Border{Right: -1}, 0.1, "border -1 mm right is not possible"},
		{"border NaN", panel, Even(MM(math.NaN())), 0.1, "border NaN mm left is not possible"},
		{"panel", Panel{Kind: Canvas}, Border{}, 0.1, "size 0 x 0 mm is not possible"},
		{"pitch zero", panel, Border{}, 0, "pitch 0 mm is outside 0.01 to 1 mm"},
		{"pitch NaN", panel, Border{}, MM(math.NaN()), "pitch NaN mm is outside 0.01 to 1 mm"},
		{"too many dots", panel, Border{}, 0.01, "makes 1200 million dots, more than 400 million: choose a pitch of 0.02 mm or more"},
	} {
		t.Run(test.name, func(t *testing.T) {
			got, err := Place(test.panel, test.border, test.pitch)
			require.ErrorContains(t, err, test.because)
			require.Zero(t, got)
			requireSentence(t, err)
		})
	}
}

func TestPlaceStaysInTheArea(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Custom(func(t *rapid.T) MM { return MM(rapid.Float64Range(50, 900).Draw(t, "mm")) })
		edge := rapid.Custom(func(t *rapid.T) MM { return MM(rapid.Float64Range(0, 24).Draw(t, "mm")) })
		panel := Panel{Kind: Tile, Size: Size{side.Draw(t, "w"), side.Draw(t, "h")}}
		border := Border{edge.Draw(t, "left"), edge.Draw(t, "right"), edge.Draw(t, "top"), edge.Draw(t, "bottom")}
		pitch := MM(rapid.Float64Range(0.05, 1).Draw(t, "pitch"))
		got, err := Place(panel, border, pitch)
		require.NoError(t, err)

		quarter := float64(pitch)/4 + 1e-9
		require.InDeltaSlice(t, sides(border), sides(got.Left), quarter)
		ul, lr := got.Corners[0], got.Corners[2]
		require.InDelta(t, float64(got.Left.Left), float64(ul.X+panel.Size.W/2), 1e-9)
		require.InDelta(t, float64(got.Left.Top), float64(panel.Size.H/2-ul.Y), 1e-9)
		require.InDelta(t, float64(got.Left.Right), float64(panel.Size.W/2-lr.X), 1e-9)
		require.InDelta(t, float64(got.Left.Bottom), float64(lr.Y+panel.Size.H/2), 1e-9)
		requirePoint(t, Point{(ul.X + lr.X) / 2, (ul.Y + lr.Y) / 2}, got.Centre, 1e-9)
		require.Equal(t, Point{lr.X, ul.Y}, got.Corners[1])
		require.Equal(t, Point{ul.X, lr.Y}, got.Corners[3])
	})
}
