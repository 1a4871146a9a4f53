package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

func corners(x0, y0, x1, y1 float64) [4]layout.PicturePoint {
	return [4]layout.PicturePoint{{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: y1}, {X: x0, Y: y1}}
}

// shownCorners is a picker on a picture of 2000 x 1000 px, shown at a fifth of that
// size, or at a quarter for a wide stage.
func shownCorners(t *testing.T) (*CornerPicker, *[][4]layout.PicturePoint, *stage) {
	c := NewCornerPicker(swirl(200, 100, teal, cream), 2000, 1000)
	c.SetCorners(corners(200, 100, 1800, 900))
	var changes [][4]layout.PicturePoint
	c.OnChanged = func(k [4]layout.PicturePoint) { changes = append(changes, k) }
	s := show(t, variants["light"], c, fyne.NewSize(400+2*cornerPad, 300))
	return c, &changes, s
}

func TestACornerIsDragged(t *testing.T) {
	c, changes, _ := shownCorners(t)
	require.InDelta(t, 0.2, c.view.scale, 1e-6)
	from := c.view.at(c.points[1]).AddXY(3, -2) // beside its middle: the corner must not jump
	primary.drag(c, from, from.AddXY(-40, 20))
	want := corners(200, 100, 1800, 900)
	want[1] = layout.PicturePoint{X: 1600, Y: 200}
	require.InDelta(t, want[1].X, c.Corners()[1].X, 0.11)
	require.InDelta(t, want[1].Y, c.Corners()[1].Y, 0.11)
	for _, i := range []int{0, 2, 3} {
		require.Equal(t, want[i], c.Corners()[i])
	}
	require.Greater(t, len(*changes), 3)
	require.Equal(t, c.Corners(), (*changes)[len(*changes)-1])
}

func TestACornerStaysOnThePicture(t *testing.T) {
	c, _, _ := shownCorners(t)
	primary.drag(c, c.view.at(c.points[3]), fyne.NewPos(-300, 900))
	require.Equal(t, layout.PicturePoint{X: 0, Y: 1000}, c.Corners()[3])
}

func TestADragBesideTheCornersMovesNothing(t *testing.T) {
	c, changes, _ := shownCorners(t)
	primary.drag(c, c.view.at(layout.PicturePoint{X: 1000, Y: 500}), c.view.at(layout.PicturePoint{X: 300, Y: 300}))
	require.Empty(t, *changes)
}

func TestCornersByKeyboard(t *testing.T) {
	c, changes, s := shownCorners(t)
	s.window.Canvas().Focus(c)
	strike(c, fyne.KeyRight)
	require.Empty(t, *changes, "no corner is selected")
	for i := range 4 {
		require.True(t, c.AcceptsTab())
		strike(c, fyne.KeyTab)
		require.Equal(t, i, c.selected)
	}
	require.False(t, c.AcceptsTab(), "after the last corner the key goes to the next widget")
	strike(c, fyne.KeyUp)
	strike(c, fyne.KeyLeft)
	require.Equal(t, layout.PicturePoint{X: 199, Y: 899}, c.Corners()[3])
	c.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(c, fyne.KeyDown)
	strike(c, fyne.KeyRight)
	require.Equal(t, layout.PicturePoint{X: 209, Y: 909}, c.Corners()[3])
	strike(c, fyne.KeyTab)
	require.Equal(t, 2, c.selected, "with Shift held backwards")
}

func TestThePictureKeepsItsShape(t *testing.T) {
	c, _, s := shownCorners(t)
	s.window.Resize(fyne.NewSize(900, 250+2*cornerPad))
	require.InDelta(t, 0.25, c.view.scale, 1e-6)
	require.InDelta(t, 900, c.view.at(layout.PicturePoint{X: 2000}).X+c.view.at(layout.PicturePoint{}).X, 1e-3, "in the middle")
	img := s.capture("corners")
	middle := c.view.at(layout.PicturePoint{X: 1000, Y: 500})
	require.NotEqual(t, at(img, 5, 5), at(img, int(middle.X), int(middle.Y)))
}

func TestPointsAndWhatFollowsFromThem(t *testing.T) {
	changes := 0
	c := NewPointPicker(swirl(200, 100, teal, cream), 2000, 1000, func() { changes++ })
	c.SetPoints([]layout.PicturePoint{{X: 400, Y: 800}, {X: 1600, Y: 800}, {X: 1000, Y: 400}}, []string{"", "", "panel"}, [][2]int{{0, 1}})
	s := show(t, variants["light"], c, fyne.NewSize(400+2*cornerPad, 300))
	at := c.view.at(layout.PicturePoint{X: 1000, Y: 400})
	primary.drag(c, at, at.AddXY(20, 0))
	require.Positive(t, changes)
	require.InDelta(t, 1100, c.Points()[2].X, 0.11)
	require.Equal(t, layout.PicturePoint{X: 400, Y: 800}, c.Points()[0])
	c.SetShape([]layout.PicturePoint{{X: 900, Y: 300}, {X: 1300, Y: 300}, {X: 1300, Y: 500}})
	require.Equal(t, []layout.PicturePoint{{X: 900, Y: 300}, {X: 1300, Y: 300}, {X: 1300, Y: 500}}, c.shape)
	s.window.Canvas().Focus(c)
	c.SetPoints(c.Points(), nil, nil)
	strike(c, fyne.KeyTab)
	strike(c, fyne.KeyRight)
	require.Equal(t, layout.PicturePoint{X: 401, Y: 800}, c.Points()[0])
	c.SetPoints([]layout.PicturePoint{{X: 1, Y: 2}}, nil, nil) // fewer than were selected from
	require.Len(t, c.Points(), 1)
}
