package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

func shownDrawer(t *testing.T) (*Drawer, *[]bool, fyne.Canvas) {
	d := NewDrawer("Panel", widget.NewLabel("300 × 400 mm"))
	d.SetSummary("canvas, 300 × 400 mm")
	var toggled []bool
	d.OnToggled = func(open bool) { toggled = append(toggled, open) }
	s := show(t, variants["dark"], container.NewVBox(d), fyne.NewSize(290, 200))
	return d, &toggled, s.window.Canvas()
}

func TestDrawerByPointer(t *testing.T) {
	d, toggled, c := shownDrawer(t)
	require.False(t, d.IsOpen())
	require.False(t, d.content.Visible())
	require.Contains(t, texts(t, d.head), "canvas, 300 × 400 mm")
	closed := d.MinSize().Height

	test.TapCanvas(c, fyne.NewPos(60, 10))
	require.True(t, d.IsOpen())
	require.True(t, d.content.Visible())
	require.Equal(t, []string{"Panel"}, texts(t, d.head), "no summary of what can be seen")
	require.GreaterOrEqual(t, d.MinSize().Height, closed+d.content.MinSize().Height)

	test.TapCanvas(c, fyne.NewPos(60, 10))
	require.Equal(t, []bool{true, false}, *toggled)
	require.Equal(t, closed, d.MinSize().Height)
}

func TestDrawerByKeyboard(t *testing.T) {
	d, toggled, c := shownDrawer(t)
	test.FocusNext(c)
	require.Equal(t, fyne.Focusable(d.head), c.Focused())
	for _, step := range []struct {
		key  fyne.KeyName
		open bool
	}{
		{fyne.KeyLeft, false}, {fyne.KeyRight, true}, {fyne.KeyRight, true}, {fyne.KeyLeft, false},
		{fyne.KeySpace, true}, {fyne.KeyReturn, false}, {fyne.KeyDown, false},
	} {
		strike(d.head, step.key)
		require.Equal(t, step.open, d.IsOpen(), "after %s", step.key)
	}
	require.Equal(t, []bool{true, false, true, false}, *toggled, "only what changed")
}

func TestSetOpenDoesNotCallBack(t *testing.T) {
	d, toggled, _ := shownDrawer(t)
	d.SetOpen(true)
	require.True(t, d.IsOpen())
	d.SetOpen(false)
	require.Empty(t, *toggled)
}

func TestSixDrawersFitBesideAnEasel(t *testing.T) {
	// A window 800 high less the tool bar, the depth ribbon and the status line.
	const room = 800 - 40 - 130 - statusHeight
	column := demoColumn()
	show(t, variants["dark"], column, fyne.NewSize(290, room))
	require.Less(t, column.MinSize().Height, float32(room))
	require.LessOrEqual(t, column.MinSize().Width, float32(290))
}

func TestASectionOpensWithinItsDrawer(t *testing.T) {
	inside := widget.NewLabel("inside")
	s := NewSection("Tone", inside)
	resized := 0
	s.OnResized = func() { resized++ }
	d := NewDrawer("Picture", container.NewVBox(s))
	column := NewColumn(300, d)
	show(t, variants["dark"], column, fyne.NewSize(300, 60))
	d.SetOpen(true)
	require.Equal(t, "Tone", s.Title())
	closed := d.MinSize().Height
	test.Tap(s.head)
	require.True(t, s.IsOpen())
	require.Equal(t, 1, resized)
	require.Greater(t, d.MinSize().Height, closed)
	column.Reveal(inside)
	top := fyne.CurrentApp().Driver().AbsolutePositionForObject(inside).Y
	require.GreaterOrEqual(t, top, float32(0))
	require.Less(t, top, column.Size().Height, "what is in it can be scrolled to")
	require.Positive(t, column.scroll.Offset.Y)
}
