package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// frameOf is an upright frame round a line of lettering.
func frameOf(x0, y0, x1, y1 layout.MM) [4]layout.Point {
	return [4]layout.Point{{X: x0, Y: y1}, {X: x1, Y: y1}, {X: x1, Y: y0}, {X: x0, Y: y0}}
}

// lineRecord keeps what an easel reports of lines.
type lineRecord struct {
	picked []int
	moved  map[int]layout.Point
	ends   int
}

func shownLines(t *testing.T) (*Easel, *record, *lineRecord) {
	e, r, _ := shown(t)
	l := &lineRecord{moved: map[int]layout.Point{}}
	e.OnLinePicked = func(i int) { l.picked = append(l.picked, i) }
	e.OnLineMoved = func(i int, dx, dy layout.MM) {
		p := l.moved[i]
		l.moved[i] = layout.Point{X: p.X + dx, Y: p.Y + dy}
	}
	e.OnLineMoveEnded = func() { l.ends++ }
	e.SetLines([][4]layout.Point{frameOf(-60, 40, 60, 60), frameOf(-50, -60, 50, -45)}, 0)
	return e, r, l
}

func TestALineOfLetteringIsDragged(t *testing.T) {
	e, r, l := shownLines(t)
	from := layout.Point{X: 10, Y: -50}
	primary.drag(e, on(e, from.X, from.Y), on(e, from.X+20, from.Y+15))
	require.Equal(t, []int{1}, l.picked)
	require.InDelta(t, 20, float64(l.moved[1].X), 1e-3)
	require.InDelta(t, 15, float64(l.moved[1].Y), 1e-3)
	require.Equal(t, 1, l.ends)
	require.Empty(t, r.moves, "the picture stays where it is")
	require.InDelta(t, -30, float64(e.lines[1][0].X), 1e-3, "the frame goes along")
	require.InDelta(t, 60, float64(e.lines[0][0].Y), 1e-3, "the other stays")

	primary.drag(e, on(e, 0, 0), on(e, 5, 0))
	require.NotEmpty(t, r.moves, "beside the lines the picture moves")
	require.Equal(t, 1, l.ends)
}

func TestOfLinesThatOverlapTheLaterIsHeld(t *testing.T) {
	e, _, l := shownLines(t)
	e.SetLines([][4]layout.Point{frameOf(-60, 0, 60, 20), frameOf(-20, 0, 20, 40)}, -1)
	primary.press(e, on(e, 0, 10))
	require.Equal(t, []int{1}, l.picked)
}

func TestATurnedLineIsHeldWhereItLies(t *testing.T) {
	e, _, l := shownLines(t)
	// A line that reads upwards, its letters' tops to the left.
	e.SetLines([][4]layout.Point{{{X: -10, Y: -60}, {X: -10, Y: 60}, {X: 10, Y: 60}, {X: 10, Y: -60}}}, -1)
	require.Equal(t, 0, e.lineAt(inView(on(e, 0, 55))))
	require.Equal(t, -1, e.lineAt(inView(on(e, 30, 0))))
	require.Empty(t, l.picked)
}

func TestTheChosenLineByKeyboard(t *testing.T) {
	e, _, l := shownLines(t)
	for range len(e.tabOrder()) {
		require.True(t, e.AcceptsTab())
		strike(e, fyne.KeyTab)
	}
	require.Equal(t, letterLine, e.selected)
	require.False(t, e.AcceptsTab())
	strike(e, fyne.KeyRight)
	e.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(e, fyne.KeyDown)
	require.InDelta(t, 0.1, float64(l.moved[0].X), 1e-9)
	require.InDelta(t, -1, float64(l.moved[0].Y), 1e-9)
	require.Equal(t, 2, l.ends)

	e.SetLines(nil, -1)
	require.Equal(t, nothing, e.selected)
}

func shownLevel(t *testing.T) (e *Easel, drawn *[][2]layout.Point, dropped *int) {
	e, _, _ = shown(t)
	drawn, dropped = &[][2]layout.Point{}, new(int)
	e.OnLevelDrawn = func(p, q layout.Point) { *drawn = append(*drawn, [2]layout.Point{p, q}) }
	e.OnLevelDropped = func() { *dropped++ }
	e.SetMode(Level)
	return e, drawn, dropped
}

func TestALineIsDrawnAlongSomethingLevel(t *testing.T) {
	e, drawn, _ := shownLevel(t)
	require.Equal(t, desktop.CrosshairCursor, func() desktop.Cursor { hover(e, on(e, 0, 0)); return e.Cursor() }())
	primary.drag(e, on(e, -50, 10), on(e, 60, 20))
	require.Len(t, *drawn, 1)
	for i, want := range []layout.Point{{X: -50, Y: 10}, {X: 60, Y: 20}} {
		require.InDelta(t, float64(want.X), float64((*drawn)[0][i].X), 0.01)
		require.InDelta(t, float64(want.Y), float64((*drawn)[0][i].Y), 0.01)
	}
}

func TestALineTooShortToMeanAnythingIsASlip(t *testing.T) {
	e, drawn, _ := shownLevel(t)
	at := on(e, 0, 0)
	primary.drag(e, at, at.AddXY(leastLevel/2, 0))
	primary.press(e, at)
	primary.release(e, at)
	require.Empty(t, *drawn)
}

func TestEscapeDropsTheLine(t *testing.T) {
	e, drawn, dropped := shownLevel(t)
	primary.press(e, on(e, -50, 10))
	primary.move(e, on(e, -50, 10), on(e, 60, 20))
	strike(e, fyne.KeyEscape)
	primary.release(e, on(e, 60, 20))
	require.Equal(t, 1, *dropped)
	require.Empty(t, *drawn)
	e.SetMode(Arrange)
	strike(e, fyne.KeyEscape)
	require.Equal(t, 1, *dropped)
}
