package widgets

import (
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"undercoat/layout"
)

func TestFittedShowsTheWholePanel(t *testing.T) {
	tests := map[string]struct {
		box   fyne.Size
		panel layout.Size
	}{
		"upright panel in a wide box": {fyne.NewSize(900, 600), layout.Size{W: 300, H: 400}},
		"wide panel in an upright box": {
			fyne.NewSize(400, 700), layout.Size{W: 1200, H: 300},
		},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			v := fitted(tt.box, tt.panel)
			x0, y0, x1, y1 := v.box(layout.Area{Size: tt.panel})
			require.GreaterOrEqual(t, x0, float32(0))
			require.GreaterOrEqual(t, y0, float32(0))
			require.LessOrEqual(t, x1, tt.box.Width)
			require.LessOrEqual(t, y1, tt.box.Height)
			require.InDelta(t, float64(tt.box.Width)/2, float64(x0+x1)/2, 1e-3)
			require.InDelta(t, float64(tt.box.Height)/2, float64(y0+y1)/2, 1e-3)

			room := max((x1-x0)/tt.box.Width, (y1-y0)/tt.box.Height)
			require.InDelta(t, 1-2*fitMargin, float64(room), 1e-4)
			seen, ok := v.visible(tt.panel)
			require.True(t, ok)
			require.Equal(t, layout.Area{Size: tt.panel}, seen)
		})
	}
}

func TestFittedWithNothingToShow(t *testing.T) {
	for name, v := range map[string]viewport{
		"no panel": fitted(fyne.NewSize(100, 100), layout.Size{}),
		"no box":   fitted(fyne.Size{}, layout.Size{W: 10, H: 10}),
	} {
		t.Run(name, func(t *testing.T) {
			require.Zero(t, v.scale)
			require.Equal(t, layout.Point{}, v.point(fyne.NewPos(5, 5)))
			require.Equal(t, v, v.zoomed(2, fyne.NewPos(5, 5), 1, 10))
			require.Equal(t, v, v.panned(5, 5, layout.Size{W: 10, H: 10}))
			_, ok := v.visible(layout.Size{W: 10, H: 10})
			require.False(t, ok)
		})
	}
}

func TestYRunsUp(t *testing.T) {
	v := fitted(fyne.NewSize(800, 600), layout.Size{W: 300, H: 200})
	x, y := v.at(layout.Point{X: 50, Y: 50})
	require.Greater(t, x, float32(400))
	require.Less(t, y, float32(300))
}

func drawViewport(t *rapid.T, panel layout.Size) viewport {
	v := fitted(fyne.NewSize(
		float32(rapid.IntRange(200, 1600).Draw(t, "width")),
		float32(rapid.IntRange(200, 1000).Draw(t, "height"))), panel)
	pos := fyne.NewPos(float32(rapid.IntRange(0, 200).Draw(t, "x")), float32(rapid.IntRange(0, 200).Draw(t, "y")))
	return v.zoomed(math.Exp(rapid.Float64Range(0, 5).Draw(t, "ln zoom")), pos, 0, 500)
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		panel := layout.Size{W: 300, H: 400}
		v := drawViewport(t, panel)
		want := layout.Point{
			X: layout.MM(rapid.Float64Range(-150, 150).Draw(t, "X")),
			Y: layout.MM(rapid.Float64Range(-200, 200).Draw(t, "Y")),
		}
		got := v.point(fyne.NewPos(v.at(want)))
		// The toolkit's positions are single precision: 24 bits of the pixel.
		tolerance := 1e-3/v.scale + 400/math.Exp2(22)
		require.InDelta(t, float64(want.X), float64(got.X), tolerance)
		require.InDelta(t, float64(want.Y), float64(got.Y), tolerance)
	})
}

func TestZoomKeepsThePointUnderThePointer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawViewport(t, layout.Size{W: 300, H: 400})
		pos := fyne.NewPos(float32(rapid.IntRange(0, 200).Draw(t, "px")), float32(rapid.IntRange(0, 200).Draw(t, "py")))
		factor := math.Exp(rapid.Float64Range(-3, 3).Draw(t, "ln factor"))
		w := v.zoomed(factor, pos, 0.2, 500)
		before, after := v.point(pos), w.point(pos)
		require.InDelta(t, float64(before.X), float64(after.X), 1e-6)
		require.InDelta(t, float64(before.Y), float64(after.Y), 1e-6)
		require.GreaterOrEqual(t, w.scale, 0.2)
		require.LessOrEqual(t, w.scale, 500.0)
	})
}

func TestPanKeepsThePanelInReach(t *testing.T) {
	panel := layout.Size{W: 300, H: 400}
	v := fitted(fyne.NewSize(800, 600), panel).panned(1e6, -1e6, panel)
	require.Equal(t, layout.Point{X: -150, Y: -200}, v.centre)
	_, ok := v.visible(panel)
	require.True(t, ok)
}

func TestRounded(t *testing.T) {
	require.InDelta(t, 12.3, float64(rounded(12.34, 0.1)), 1e-9)
	require.InDelta(t, 12.5, float64(rounded(12.34, 0.5)), 1e-9)
	require.InDelta(t, -12, float64(rounded(-12.34, 1)), 1e-9)
}
