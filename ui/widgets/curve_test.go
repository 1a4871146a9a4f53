package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/picture"
)

// shownCurve is an editor whose owner takes every change, as a window does.
func shownCurve(t *testing.T) (c *CurveEditor, changes *[]picture.Curve, ends *int, s *stage) {
	c = NewCurveEditor()
	changes, ends = &[]picture.Curve{}, new(int)
	c.OnChanged = func(k picture.Curve) {
		*changes = append(*changes, k)
		c.SetCurve(k)
	}
	c.OnChangeEnded = func() { *ends++ }
	s = show(t, variants["dark"], c, fyne.NewSize(316, 216))
	return c, changes, ends, s
}

// on is where a place on the curve is shown.
func onCurve(c *CurveEditor, from, to float64) fyne.Position {
	return c.at(picture.CurvePoint{From: from, To: to})
}

func requirePoints(t *testing.T, c *CurveEditor, want ...picture.CurvePoint) {
	t.Helper()
	got := c.Curve().Points()
	require.Len(t, got, len(want))
	for i := range want {
		require.InDelta(t, want[i].From, got[i].From, 0.11, "point %d", i)
		require.InDelta(t, want[i].To, got[i].To, 0.11, "point %d", i)
	}
}

func TestAClickAddsAPointAndADragMovesIt(t *testing.T) {
	c, changes, ends, _ := shownCurve(t)
	primary.press(c, onCurve(c, 40, 50))
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 40, To: 50}, picture.CurvePoint{From: 100, To: 100})
	require.Zero(t, *ends, "the hand still holds it")
	primary.move(c, onCurve(c, 40, 50), onCurve(c, 30, 70))
	primary.release(c, onCurve(c, 30, 70))
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 30, To: 70}, picture.CurvePoint{From: 100, To: 100})
	require.Equal(t, 1, *ends, "one step")
	require.Greater(t, len(*changes), 3, "followed all the way")

	primary.drag(c, onCurve(c, 30, 70), onCurve(c, 30, 20))
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 30, To: 20}, picture.CurvePoint{From: 100, To: 100})
	require.Equal(t, 2, *ends)

	primary.drag(c, onCurve(c, 30, 20), fyne.NewPos(-50, 500))
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 0.5, To: 0}, picture.CurvePoint{From: 100, To: 100})
}

func TestAPressThatChangesNothingIsNoStep(t *testing.T) {
	c, changes, ends, _ := shownCurve(t)
	primary.press(c, onCurve(c, 60, 60))
	primary.release(c, onCurve(c, 60, 60))
	require.Equal(t, 1, *ends)
	n := len(*changes)
	primary.press(c, onCurve(c, 60, 60))
	primary.release(c, onCurve(c, 60, 60))
	require.Len(t, *changes, n)
	require.Equal(t, 1, *ends)
	hand{button: desktop.MouseButtonSecondary}.press(c, onCurve(c, 20, 20))
	require.Len(t, *changes, n, "the secondary button adds nothing")
}

func TestTheCurveByKeyboard(t *testing.T) {
	c, _, ends, s := shownCurve(t)
	s.window.Canvas().Focus(c)
	require.False(t, c.AcceptsTab(), "there is no point to go to")
	strike(c, fyne.KeySpace)
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 50, To: 50}, picture.CurvePoint{From: 100, To: 100})
	require.Equal(t, 1, *ends)

	holdKey(c, fyne.KeyUp, 3)
	strike(c, fyne.KeyLeft)
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 49, To: 53}, picture.CurvePoint{From: 100, To: 100})
	require.Equal(t, 3, *ends, "a held key is one step")
	c.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(c, fyne.KeyRight)
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 59, To: 53}, picture.CurvePoint{From: 100, To: 100})
	c.held = func() fyne.KeyModifier { return 0 }

	require.True(t, c.AcceptsTab())
	strike(c, fyne.KeyTab)
	strike(c, fyne.KeyDown)
	requirePoints(t, c, picture.CurvePoint{}, picture.CurvePoint{From: 59, To: 53}, picture.CurvePoint{From: 100, To: 99})
	require.False(t, c.AcceptsTab(), "after the last point the key goes to the next widget")

	strike(c, fyne.KeyDelete)
	strike(c, fyne.KeyBackspace)
	require.Equal(t, picture.Curve{}, c.Curve(), "a single point is no curve")
	strike(c, fyne.KeyDelete)
	require.Equal(t, picture.Curve{}, c.Curve())
}

func TestEscapeAndLeavingLetGoOfThePoint(t *testing.T) {
	c, _, _, s := shownCurve(t)
	primary.drag(c, onCurve(c, 40, 50), onCurve(c, 40, 60))
	require.Equal(t, 1, c.selected)
	strike(c, fyne.KeyEscape)
	require.Equal(t, -1, c.selected)
	before := c.Curve()
	strike(c, fyne.KeyUp)
	require.Equal(t, before, c.Curve(), "nothing is selected")
	strike(c, fyne.KeyTab)
	s.window.Canvas().Unfocus()
	require.Equal(t, -1, c.selected)
}

func TestAFullCurveTakesNoMore(t *testing.T) {
	c, changes, _, _ := shownCurve(t)
	var points []picture.CurvePoint
	for i := range picture.MaxCurvePoints {
		v := 100 * float64(i) / (picture.MaxCurvePoints - 1)
		points = append(points, picture.CurvePoint{From: v, To: v})
	}
	full, err := picture.NewCurve(points...)
	require.NoError(t, err)
	c.SetCurve(full)
	primary.drag(c, onCurve(c, 20, 80), onCurve(c, 20, 90))
	require.Empty(t, *changes)
	require.Equal(t, full, c.Curve())
}

func TestTheCurveIsDrawnWhereItRuns(t *testing.T) {
	for name, variant := range variants {
		c := NewCurveEditor()
		s := show(t, variant, c, fyne.NewSize(316, 216))
		level, err := picture.NewCurve(picture.CurvePoint{From: 20, To: 80}, picture.CurvePoint{From: 90, To: 80})
		require.NoError(t, err)
		c.SetCurve(level)
		img := s.capture("curve-" + name)
		on := onCurve(c, 55, 80)
		ground := at(img, int(onCurve(c, 55, 95).X), int(onCurve(c, 55, 95).Y))
		require.NotEqual(t, ground, at(img, int(on.X), int(on.Y)), "%s: the curve", name)
	}
}

func TestTheHistogramStandsBehindTheCurve(t *testing.T) {
	c, _, _, s := shownCurve(t)
	plain := s.capture("curve-plain")
	shares := []float64{0.4, 0.1, 0.2, 0, 0.3}
	c.SetHistogram(shares)
	img := s.capture("curve-histogram")
	low := func(from float64) (int, int) {
		p := c.at(picture.CurvePoint{From: from, To: 3})
		return int(p.X), int(p.Y)
	}
	for from, filled := range map[float64]bool{12: true, 33: true, 55: true, 66: false, 88: true} {
		x, y := low(from)
		require.Equal(t, filled, at(plain, x, y) != at(img, x, y), "at L* %g", from)
	}
	x, y := int(c.at(picture.CurvePoint{From: 33, To: 40}).X), int(c.at(picture.CurvePoint{From: 33, To: 40}).Y)
	require.NotEqual(t, at(plain, x, y), at(img, x, y), "half as much as the commonest is half as high")
	y = int(c.at(picture.CurvePoint{From: 33, To: 60}).Y)
	require.Equal(t, at(plain, x, y), at(img, x, y))
	c.SetHistogram(nil)
	require.Equal(t, plain, s.capture("curve-none"))
}

func TestTheCommonestToneLiesBetweenTheEnds(t *testing.T) {
	require.Equal(t, 0.2, commonest([]float64{0.5, 0.1, 0.2, 0.2}))
	require.Equal(t, 0.7, commonest([]float64{0.3, 0, 0, 0.7}), "where there is nothing else")
	require.Zero(t, commonest(nil))
}
