package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

func TestTabGoesThroughTheHandlesAndOn(t *testing.T) {
	e, _, s := shown(t)
	s.window.Canvas().Focus(e)
	order := e.tabOrder()
	require.Len(t, order, 5)
	for _, want := range order {
		require.True(t, e.AcceptsTab())
		strike(e, fyne.KeyTab)
		require.Equal(t, want, e.selected)
	}
	require.False(t, e.AcceptsTab(), "after the last handle the key goes to the next widget")

	e.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	for i := len(order) - 2; i >= 0; i-- {
		require.True(t, e.AcceptsTab())
		strike(e, fyne.KeyTab)
		require.Equal(t, order[i], e.selected)
	}
	require.False(t, e.AcceptsTab())
}

func TestTabLeavesAtOnceWhileInspecting(t *testing.T) {
	e, _, _ := shown(t)
	e.SetMode(Inspect)
	require.False(t, e.AcceptsTab())
}

func TestArrowsMoveTheSelectedEdge(t *testing.T) {
	tests := map[string]struct {
		part part
		key  fyne.KeyName
		want layout.Border
	}{
		"left edge to the right": {leftEdge, fyne.KeyRight, layout.Border{Left: 20.1, Right: 20, Top: 15, Bottom: 25}},
		"left edge to the left":  {leftEdge, fyne.KeyLeft, layout.Border{Left: 19.9, Right: 20, Top: 15, Bottom: 25}},
		"right edge":             {rightEdge, fyne.KeyLeft, layout.Border{Left: 20, Right: 20.1, Top: 15, Bottom: 25}},
		"top edge":               {topEdge, fyne.KeyDown, layout.Border{Left: 20, Right: 20, Top: 15.1, Bottom: 25}},
		"bottom edge":            {bottomEdge, fyne.KeyUp, layout.Border{Left: 20, Right: 20, Top: 15, Bottom: 25.1}},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			e, r, _ := shown(t)
			e.selected = tt.part
			strike(e, tt.key)
			require.Len(t, r.borders, 1)
			for i, want := range []layout.MM{tt.want.Left, tt.want.Right, tt.want.Top, tt.want.Bottom} {
				got := []layout.MM{r.borders[0].Left, r.borders[0].Right, r.borders[0].Top, r.borders[0].Bottom}[i]
				require.InDelta(t, float64(want), float64(got), 1e-9)
			}
			require.Equal(t, r.borders, r.ended)
		})
	}
}

func TestArrowAcrossAnEdgeDoesNothing(t *testing.T) {
	e, r, _ := shown(t)
	e.selected = leftEdge
	strike(e, fyne.KeyUp)
	require.Empty(t, r.borders)
	require.Empty(t, r.ended)
}

func TestHeldArrowIsOneMove(t *testing.T) {
	e, r, _ := shown(t)
	e.selected = leftEdge
	holdKey(e, fyne.KeyRight, 10)
	require.Len(t, r.borders, 10)
	require.Len(t, r.ended, 1)
	require.InDelta(t, 21, float64(r.ended[0].Left), 1e-9, "no dust from ten tenths")
}

func TestNudgeStopsAtTheEdge(t *testing.T) {
	e, r, _ := shown(t)
	e.SetBorder(layout.Border{Left: 0.05, Right: 20, Top: 15, Bottom: 25})
	e.selected = leftEdge
	strike(e, fyne.KeyLeft)
	strike(e, fyne.KeyLeft)
	require.Len(t, r.borders, 1)
	require.Len(t, r.ended, 1, "a key that moved nothing ends nothing")
	require.Zero(t, r.ended[0].Left)
}

func TestShiftArrowsGoTenTimesAsFar(t *testing.T) {
	e, r, _ := shown(t)
	e.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	e.selected = topEdge
	strike(e, fyne.KeyDown)
	require.InDelta(t, 16, float64(r.ended[0].Top), 1e-9)
	require.InDelta(t, 25, float64(r.ended[0].Bottom), 1e-9, "the other sides stay")
	e.selected = pictureArea
	strike(e, fyne.KeyUp)
	require.Equal(t, []layout.Point{{Y: 1}}, r.moves)
}

func TestArrowsMoveTheCropByADot(t *testing.T) {
	e, r, _ := shown(t)
	e.SetPitch(0.08)
	e.selected = pictureArea
	strike(e, fyne.KeyRight)
	strike(e, fyne.KeyUp)
	require.Equal(t, []layout.Point{{X: 0.08}, {Y: 0.08}}, r.moves)
	require.Equal(t, 2, r.cropEnds)
}

func TestArrowsMoveTheView(t *testing.T) {
	e, r, _ := shown(t)
	strike(e, fyne.KeyRight)
	strike(e, fyne.KeyUp)
	require.InDelta(t, panStep/e.view.scale, float64(e.view.centre.X), 1e-6, "what lies to the right comes in")
	require.InDelta(t, panStep/e.view.scale, float64(e.view.centre.Y), 1e-6)
	require.Empty(t, r.moves)
}

func TestEscapeAndFocus(t *testing.T) {
	e := newTestEasel()
	r := listen(e)
	next := widget.NewButton("next", nil)
	s := show(t, variants["dark"], container.NewBorder(nil, next, nil, nil, e), easelSize)
	s.window.Canvas().Focus(e)
	require.True(t, e.focused)
	e.selected = leftEdge
	e.KeyDown(&fyne.KeyEvent{Name: fyne.KeyRight})
	e.TypedKey(&fyne.KeyEvent{Name: fyne.KeyRight})
	require.Empty(t, r.ended)
	test.FocusNext(s.window.Canvas())
	require.Len(t, r.ended, 1, "a move ends when the focus goes")
	require.False(t, e.focused)
	require.Equal(t, nothing, e.selected)

	e.selected = topEdge
	strike(e, fyne.KeyEscape)
	require.Equal(t, nothing, e.selected)
}

func TestPressTakesTheFocusAndSelects(t *testing.T) {
	e, _, s := shown(t)
	primary.press(e, on(e, -180, 10))
	require.Equal(t, fyne.Focusable(e), s.window.Canvas().Focused())
	require.Equal(t, leftEdge, e.selected)
	primary.release(e, on(e, -180, 10))
	primary.press(e, on(e, -195, 10))
	require.Equal(t, nothing, e.selected)
}

func TestZoomKeys(t *testing.T) {
	e, _, _ := shown(t)
	fit := e.view
	e.TypedRune('+')
	require.InDelta(t, fit.scale*keyZoom, e.view.scale, 1e-9)
	e.TypedRune('=')
	e.TypedRune('-')
	e.TypedRune('-')
	require.InDelta(t, fit.scale, e.view.scale, 1e-9)
	e.TypedRune('1')
	require.InDelta(t, 1/0.1, e.view.scale, 1e-9, "a dot to a pixel")
	e.TypedRune('0')
	require.Equal(t, fit, e.view)
	e.TypedRune('x')
	require.Equal(t, fit, e.view)
}
