package widgets

import (
	"fmt"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// A line is three pixels wide and a hand is not that steady.
func TestLinesAreTakenFromEightPixelsAway(t *testing.T) {
	e, r, _ := shown(t)
	for _, line := range []struct {
		part   part
		at     fyne.Position
		dx, dy float32
		cursor desktop.Cursor
	}{
		{leftEdge, on(e, -180, 30), 1, 0, desktop.HResizeCursor},
		{rightEdge, on(e, 180, 30), 1, 0, desktop.HResizeCursor},
		{topEdge, on(e, 30, 135), 0, 1, desktop.VResizeCursor},
		{bottomEdge, on(e, 30, -125), 0, 1, desktop.VResizeCursor},
	} {
		for off := float32(-11.5); off <= 12; off++ {
			t.Run(fmt.Sprintf("edge %d at %g", line.part, off), func(t *testing.T) {
				from := line.at.AddXY(line.dx*off, line.dy*off)
				taken := max(off, -off) <= reach
				hover(e, from)
				require.Equal(t, taken, e.Cursor() == line.cursor, "the pointer tells what a press would take")

				before := len(r.ended)
				primary.drag(e, from, from.AddXY(20*line.dx, 20*line.dy))
				require.Equal(t, taken, len(r.ended) > before)
				e.SetBorder(layout.Border{Left: 20, Right: 20, Top: 15, Bottom: 25})
				e.Fit()
			})
		}
	}
	require.GreaterOrEqual(t, float32(reach), float32(6))
}

func TestTheNearerOfTwoLinesIsTaken(t *testing.T) {
	e, _, _ := shown(t)
	e.SetBorder(layout.Border{Left: 196, Right: 196, Top: 15, Bottom: 25})
	x0, y0, x1, _ := e.view.box(e.area())
	require.Less(t, x1-x0, float32(2*reach))
	mid := y0 + 100
	require.Equal(t, leftEdge, e.partAt(fyne.NewPos(x0+1, mid)))
	require.Equal(t, rightEdge, e.partAt(fyne.NewPos(x1-1, mid)))
	require.Equal(t, topEdge, e.partAt(fyne.NewPos((x0+x1)/2, y0)))
}

func TestTurnsOfTheWheelInARowEndOnce(t *testing.T) {
	ctrl := fyne.KeyModifierControl
	for name, tt := range map[string]struct {
		then func(e *Easel)
		ends int
	}{
		"nothing":                    {func(*Easel) {}, 0},
		"the pointer trembles":       {func(e *Easel) { hover(e, on(e, 50, -30).AddXY(3, -2)) }, 0},
		"the pointer goes elsewhere": {func(e *Easel) { hover(e, on(e, 60, -30)) }, 1},
		"the pointer leaves":         {func(e *Easel) { e.MouseOut() }, 1},
		"a press":                    {func(e *Easel) { primary.press(e, on(e, 50, -30)) }, 1},
		"a turn without Ctrl": {func(e *Easel) {
			e.held = func() fyne.KeyModifier { return 0 }
			wheel(e, on(e, 50, -30), 25)
		}, 1},
		"an arrow key":       {func(e *Easel) { strike(e, fyne.KeyLeft) }, 1},
		"the focus goes":     {func(e *Easel) { e.FocusLost() }, 1},
		"two ways of ending": {func(e *Easel) { e.MouseOut(); e.FocusLost() }, 1},
	} {
		t.Run(name, func(t *testing.T) {
			e, _, _ := shown(t)
			e.held = func() fyne.KeyModifier { return ctrl }
			turns, ends := 0, 0
			e.OnCropZoomed = func(float64, layout.Point) { turns++ }
			e.OnCropZoomEnded = func() { ends++ }
			for range 3 {
				wheel(e, on(e, 50, -30), 25)
			}
			require.Equal(t, 3, turns)
			require.Zero(t, ends)
			tt.then(e)
			require.Equal(t, tt.ends, ends)
		})
	}
}

// easelTexts is what is written over the picture.
func easelTexts(e *Easel) (all []string) {
	b := test.WidgetRenderer(e).(*easelRenderer).handles
	for _, line := range b.texts[:b.nTexts] {
		all = append(all, line.Text)
	}
	return all
}

func TestCautionStandsOverThePicture(t *testing.T) {
	e, r, s := shown(t)
	const text = "uncalibrated, colours and depth are a guess"
	require.NotContains(t, easelTexts(e), text)
	seen := len(r.views)
	e.SetCaution(text)
	require.Equal(t, text, e.Caution())
	require.Len(t, r.views, seen, "the panel stays where it is")
	for _, zoom := range []func(){e.Fit, e.ZoomToDots} {
		zoom()
		require.Contains(t, easelTexts(e), text)
	}
	hover(e, on(e, 0, 0))
	require.NotEqual(t, nothing, e.partAt(e.pointer), "what lies beneath can still be taken")

	s.window.Resize(fyne.NewSize(220, 300))
	require.NotContains(t, easelTexts(e), text, "cut where there is no room")
	e.SetCaution("")
	s.window.Resize(easelSize)
	require.NotContains(t, easelTexts(e), text)
}
