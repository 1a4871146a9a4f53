package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

// record keeps what an easel reports.
type record struct {
	borders  []layout.Border
	ended    []layout.Border
	moves    []layout.Point
	cropEnds int
	splits   []float64
	views    []EaselView
}

func (r *record) moved() (sum layout.Point) {
	for _, m := range r.moves {
		sum.X += m.X
		sum.Y += m.Y
	}
	return sum
}

func listen(e *Easel) *record {
	r := &record{}
	e.OnBorderChanged = func(b layout.Border) { r.borders = append(r.borders, b) }
	e.OnBorderChangeEnded = func(b layout.Border) { r.ended = append(r.ended, b) }
	e.OnCropMoved = func(dx, dy layout.MM) { r.moves = append(r.moves, layout.Point{X: dx, Y: dy}) }
	e.OnCropMoveEnded = func() { r.cropEnds++ }
	e.OnSplitMoved = func(s float64) { r.splits = append(r.splits, s) }
	e.OnViewChanged = func(v EaselView) { r.views = append(r.views, v) }
	return r
}

// shown is a test easel on a stage.
func shown(t *testing.T) (*Easel, *record, *stage) {
	e := newTestEasel()
	r := listen(e)
	s := show(t, variants["dark"], e, easelSize)
	return e, r, s
}

func TestDragBorder(t *testing.T) {
	tests := map[string]struct {
		from, to layout.Point
		want     layout.Border
	}{
		"left in":    {layout.Point{X: -180}, layout.Point{X: -160}, layout.Border{Left: 40, Right: 20, Top: 15, Bottom: 25}},
		"right out":  {layout.Point{X: 180}, layout.Point{X: 190}, layout.Border{Left: 20, Right: 10, Top: 15, Bottom: 25}},
		"top in":     {layout.Point{X: 30, Y: 135}, layout.Point{X: 30, Y: 110}, layout.Border{Left: 20, Right: 20, Top: 40, Bottom: 25}},
		"bottom out": {layout.Point{Y: -125}, layout.Point{Y: -140}, layout.Border{Left: 20, Right: 20, Top: 15, Bottom: 10}},
		"left past the panel's edge stops at the edge": {
			layout.Point{X: -180}, layout.Point{X: -230}, layout.Border{Right: 20, Top: 15, Bottom: 25},
		},
		"left past the right edge leaves a picture": {
			layout.Point{X: -180}, layout.Point{X: 199}, layout.Border{Left: 379, Right: 20, Top: 15, Bottom: 25},
		},
	}
	for name, tt := range tests {
		t.Run(name, func(t *testing.T) {
			e, r, _ := shown(t)
			primary.drag(e, on(e, tt.from.X, tt.from.Y), on(e, tt.to.X, tt.to.Y))
			require.NotEmpty(t, r.borders)
			require.Equal(t, tt.want, r.borders[len(r.borders)-1])
			require.Equal(t, []layout.Border{tt.want}, r.ended, "a drag ends once")
			require.Empty(t, r.moves)
			for i := 1; i < len(r.borders); i++ {
				require.NotEqual(t, r.borders[i-1], r.borders[i], "a border that stays is not reported again")
			}
		})
	}
}

func TestDragTakesTheLineWhereItIsTouched(t *testing.T) {
	e, r, _ := shown(t)
	from := on(e, -180, 0).AddXY(5, 0)
	primary.drag(e, from, from.AddXY(0, 40))
	require.Empty(t, r.borders, "a line does not jump to the pointer")
	require.Empty(t, r.ended)
}

func TestDragWithShiftMakesAllSidesAlike(t *testing.T) {
	e, r, _ := shown(t)
	e.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	primary.drag(e, on(e, -180, 0), on(e, -150, 0))
	require.Equal(t, []layout.Border{layout.Even(50)}, r.ended)

	primary.drag(e, on(e, -150, 0), on(e, 190, 0))
	require.Equal(t, layout.Even(149.5), r.ended[1], "a picture of a millimetre is left of the short side")
}

func TestDragStepsAreRound(t *testing.T) {
	e, r, _ := shown(t)
	primary.drag(e, on(e, -180, 0), on(e, -160, 0).AddXY(1.3, 0))
	require.Equal(t, layout.MM(41), r.ended[0].Left, "whole millimetres while a pixel is more than half of one")

	for range 20 {
		wheel(e, on(e, -159, 0), 25)
	}
	primary.drag(e, on(e, -159, 0), on(e, -158.76, 0))
	require.InDelta(t, 41.2, float64(r.ended[1].Left), 1e-9, "tenths when zoomed in")

	e.SetUnit(layout.Inches)
	primary.drag(e, on(e, -158.8, 0), on(e, -158.1, 0))
	require.InDelta(t, 1.65*25.4, float64(r.ended[2].Left), 1e-9, "hundredths of an inch")
}

func TestDragCrop(t *testing.T) {
	e, r, _ := shown(t)
	primary.drag(e, on(e, 10, 10), on(e, 40, -30))
	require.InDelta(t, 30, float64(r.moved().X), 1e-3)
	require.InDelta(t, -40, float64(r.moved().Y), 1e-3, "y runs up")
	require.Equal(t, 1, r.cropEnds)
	require.Empty(t, r.borders)
}

func TestClickMovesNothing(t *testing.T) {
	e, r, _ := shown(t)
	seen := len(r.views)
	for _, p := range []fyne.Position{on(e, 10, 10), on(e, -180, 0), on(e, -195, 0), fyne.NewPos(60, 30)} {
		primary.press(e, p)
		e.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: desktop.MouseButtonPrimary})
	}
	require.Empty(t, r.moves)
	require.Zero(t, r.cropEnds)
	require.Empty(t, r.borders)
	require.Empty(t, r.ended)
	require.Len(t, r.views, seen)
}

func TestInspectMovesTheView(t *testing.T) {
	e, r, _ := shown(t)
	e.SetMode(Inspect)
	for _, from := range []fyne.Position{on(e, 10, 10), on(e, -180, 0)} {
		before := e.view.centre
		primary.drag(e, from, from.AddXY(30, 20))
		require.InDelta(t, float64(before.X)-30/e.view.scale, float64(e.view.centre.X), 1e-3)
		require.InDelta(t, float64(before.Y)+20/e.view.scale, float64(e.view.centre.Y), 1e-3)
	}
	require.Empty(t, r.moves)
	require.Empty(t, r.borders)
}

func TestWaysToPan(t *testing.T) {
	from, to := layout.Point{X: 10, Y: 10}, layout.Point{X: 50, Y: -20}
	tests := map[string]func(e *Easel, from, to fyne.Position){
		"middle button": func(e *Easel, from, to fyne.Position) {
			hand{button: desktop.MouseButtonTertiary}.drag(e, from, to)
		},
		"Ctrl": func(e *Easel, from, to fyne.Position) {
			hand{button: desktop.MouseButtonPrimary, modifier: fyne.KeyModifierControl}.drag(e, from, to)
		},
		"Space": func(e *Easel, from, to fyne.Position) {
			e.KeyDown(&fyne.KeyEvent{Name: fyne.KeySpace})
			primary.drag(e, from, to)
			e.KeyUp(&fyne.KeyEvent{Name: fyne.KeySpace})
			require.False(t, e.space)
		},
		"secondary button": func(e *Easel, from, to fyne.Position) {
			secondary := hand{button: desktop.MouseButtonSecondary}
			secondary.press(e, from)
			for _, p := range []fyne.Position{from.AddXY(3, 3), to} {
				e.MouseMoved(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: p}, Button: desktop.MouseButtonSecondary})
			}
			e.MouseUp(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: to}, Button: desktop.MouseButtonSecondary})
		},
	}
	for name, gesture := range tests {
		t.Run(name, func(t *testing.T) {
			e, r, _ := shown(t)
			gesture(e, on(e, from.X, from.Y), on(e, to.X, to.Y))
			require.InDelta(t, -40, float64(e.view.centre.X), 1e-3)
			require.InDelta(t, 30, float64(e.view.centre.Y), 1e-3)
			require.Empty(t, r.moves)
			require.False(t, e.grip.held)
			require.Equal(t, e.View(), r.views[len(r.views)-1])
		})
	}
}

func TestDragOnTheSurroundPans(t *testing.T) {
	e, r, _ := shown(t)
	primary.drag(e, on(e, -210, 0), on(e, -200, 0))
	require.InDelta(t, -10, float64(e.view.centre.X), 1e-3)
	require.Empty(t, r.borders)
}

func TestSecondaryButtonLetGoElsewhere(t *testing.T) {
	e, _, _ := shown(t)
	hand{button: desktop.MouseButtonSecondary}.press(e, on(e, 10, 10))
	hover(e, on(e, 50, 50))
	require.False(t, e.grip.held)
	require.Equal(t, layout.Point{}, e.view.centre)
}

func TestAnotherButtonDoesNotLetGo(t *testing.T) {
	e, r, _ := shown(t)
	from := on(e, 10, 10)
	primary.press(e, from)
	hand{button: desktop.MouseButtonSecondary}.press(e, from)
	e.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary})
	primary.move(e, from, on(e, 20, 10))
	primary.release(e, on(e, 20, 10))
	require.InDelta(t, 10, float64(r.moved().X), 1e-3)
	require.Equal(t, 1, r.cropEnds)
}

func TestWheelZoomsAboutThePointer(t *testing.T) {
	e, r, _ := shown(t)
	fit := e.view.scale
	pos := on(e, 120, 80)
	wheel(e, pos, 25)
	require.Greater(t, e.view.scale, fit*1.15)
	under := e.view.point(inView(pos))
	require.InDelta(t, 120, float64(under.X), 1e-3)
	require.InDelta(t, 80, float64(under.Y), 1e-3)
	require.Equal(t, e.View(), r.views[len(r.views)-1])

	for range 60 {
		wheel(e, pos, 50)
	}
	require.InDelta(t, closestDot/0.1, e.view.scale, 1e-9, "no closer than single dots")
	for range 60 {
		wheel(e, pos, -50)
	}
	require.InDelta(t, fit/2, e.view.scale, 1e-9, "no further than half the whole panel")
}

func TestWheelOnTheCrop(t *testing.T) {
	for name, modifier := range map[string]fyne.KeyModifier{"Ctrl": fyne.KeyModifierControl, "Alt": fyne.KeyModifierAlt} {
		t.Run(name, func(t *testing.T) {
			e, _, _ := shown(t)
			var factors []float64
			var where layout.Point
			e.OnCropZoomed = func(factor float64, at layout.Point) { factors, where = append(factors, factor), at }
			e.held = func() fyne.KeyModifier { return modifier }
			before := e.view
			wheel(e, on(e, 50, -30), 25)
			wheel(e, on(e, 50, -30), -25)
			require.Equal(t, before, e.view)
			require.Greater(t, factors[0], 1.0, "up makes the picture larger")
			require.InDelta(t, 1, factors[0]*factors[1], 1e-12)
			require.InDelta(t, 50, float64(where.X), 1e-3)
			require.InDelta(t, -30, float64(where.Y), 1e-3)

			e.SetMode(Inspect)
			wheel(e, on(e, 50, -30), 25)
			require.Len(t, factors, 2, "only while arranging")
		})
	}
}

func TestHover(t *testing.T) {
	e, _, _ := shown(t)
	var where layout.Point
	var inside bool
	e.OnHover = func(p layout.Point, in bool) { where, inside = p, in }
	e.MouseIn(&desktop.MouseEvent{PointEvent: fyne.PointEvent{Position: on(e, -195, 140)}})
	require.True(t, inside, "the border is on the panel")
	require.InDelta(t, -195, float64(where.X), 1e-3)
	require.InDelta(t, 140, float64(where.Y), 1e-3)
	hover(e, on(e, -205, 0))
	require.False(t, inside)
	primary.press(e, on(e, 0, 0))
	primary.move(e, on(e, 0, 0), on(e, 20, 20))
	require.True(t, inside, "the readout follows while dragging")
	require.InDelta(t, 20, float64(where.X), 1e-3)
	e.MouseOut()
	require.False(t, inside)
}

func TestCursors(t *testing.T) {
	e, _, _ := shown(t)
	at := func(x, y layout.MM) desktop.Cursor {
		hover(e, on(e, x, y))
		return e.Cursor()
	}
	require.Equal(t, desktop.HResizeCursor, at(-180, 20))
	require.Equal(t, desktop.HResizeCursor, at(180, 20))
	require.Equal(t, desktop.VResizeCursor, at(20, 135))
	require.Equal(t, desktop.VResizeCursor, at(20, -125))
	require.Equal(t, moveCursor, at(20, 20))
	require.Equal(t, desktop.DefaultCursor, at(-195, 20))
	e.SetMode(Inspect)
	require.Equal(t, desktop.CrosshairCursor, at(-180, 20))
	require.Equal(t, desktop.DefaultCursor, at(-220, 20))
	primary.press(e, on(e, 0, 0))
	require.Equal(t, moveCursor, e.Cursor(), "while the view is moved")

	img, x, y := moveCursor.Image()
	require.NotNil(t, img)
	require.Equal(t, []int{12, 12}, []int{x, y})
}

func TestSplit(t *testing.T) {
	e, r, _ := shown(t)
	require.Equal(t, pictureArea, e.partAt(inView(on(e, 0, 50))), "without a comparison there is no line")
	e.SetOther(plain(10, 10, cream), e.area(), "before", "after")
	primary.drag(e, on(e, 0, 50), on(e, 90, 50))
	require.InDelta(t, 0.75, r.splits[len(r.splits)-1], 1e-3)
	require.InDelta(t, 0.75, e.Split(), 1e-3)
	require.Zero(t, r.cropEnds)
	primary.drag(e, on(e, 90, 50), on(e, 300, 50))
	require.Equal(t, 1.0, e.Split())

	e.SetSplit(0.25)
	require.Equal(t, 0.25, e.Split())
	e.SetSplit(1.5)
	require.Equal(t, 0.25, e.Split(), "a share outside 0..1 is refused")
	e.SetMode(Inspect)
	require.Equal(t, splitLine, e.partAt(inView(on(e, -90, 50))), "also while inspecting")
}
