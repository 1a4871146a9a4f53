package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
)

func TestACardFitsItsPictureAboveItsWords(t *testing.T) {
	c := NewCard(nil)
	c.Set(plain(40, 80, teal), "60 %", "150 J/cm²", Part{"graphite", graphite, 0.64}, Part{"teal", teal, 0.36})
	s := show(t, variants["dark"], c, fyne.NewSize(200, 400))
	img := s.capture("card")
	// 400 pixels less the words' 84 and the margins leave 300: the picture is 150 wide.
	require.Equal(t, teal, at(img, 100, 12))
	require.Equal(t, teal, at(img, 30, 150))
	require.NotEqual(t, teal, at(img, 20, 150))
	require.Subset(t, texts(t, c), []string{"60 %", "150 J/cm²", "graphite", "64 %", "teal", "36 %"})
}

func TestACardIsPicked(t *testing.T) {
	picked := 0
	c := NewCard(func() { picked++ })
	show(t, variants["dark"], c, fyne.NewSize(200, 300))
	test.Tap(c)
	strike(c, fyne.KeySpace)
	strike(c, fyne.KeyReturn)
	require.Equal(t, 3, picked)
	require.False(t, c.Disabled())
	require.True(t, NewCard(nil).Disabled(), "one that is only looked at takes no focus")
	c.SetChosen(true)
	require.True(t, c.Chosen())
}

func TestTheOutlineIsACardsShape(t *testing.T) {
	c := NewCardOutline(428)
	s := show(t, variants["light"], c, fyne.NewSize(720, 460))
	img := s.capture("outline")
	// Source: ISO/IEC 7810:2019, ID-1: 85.60 x 53.98 mm, so 428 x 269.9 pixels here.
	rim := ofTheme(theme.ColorNameBackground, variants["light"])
	require.NotEqual(t, rim, at(img, 360-212, 230))
	require.Equal(t, rim, at(img, 360-217, 230))
	require.NotEqual(t, rim, at(img, 360, 230-133))
	require.Equal(t, rim, at(img, 360, 230-138))
	require.InDelta(t, 5, c.PixelsPerMM(), 1e-9)
	c.SetWide(214)
	require.InDelta(t, 2.5, c.PixelsPerMM(), 1e-9)
}

func TestAClickPointsAndADragDoesNot(t *testing.T) {
	e, _, _ := shown(t)
	var pointed []layout.Point
	e.OnPointed = func(p layout.Point) { pointed = append(pointed, p) }
	at := on(e, 30, -20)
	primary.press(e, at)
	e.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	require.Len(t, pointed, 1)
	require.InDelta(t, 30, float64(pointed[0].X), 0.5)
	require.InDelta(t, -20, float64(pointed[0].Y), 0.5)

	primary.drag(e, at, on(e, 60, 20))
	hand{button: desktop.MouseButtonSecondary}.press(e, at)
	e.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonSecondary})
	primary.press(e, on(e, -180, 0)) // the border's edge
	e.MouseUp(&desktop.MouseEvent{Button: desktop.MouseButtonPrimary})
	require.Len(t, pointed, 1)

	hover(e, at)
	strike(e, fyne.KeyReturn)
	require.Len(t, pointed, 2)
	e.MouseOut()
	strike(e, fyne.KeyReturn)
	require.Len(t, pointed, 2, "the pointer is elsewhere")
}

func TestTheSplitLineByKeyboard(t *testing.T) {
	e, r, s := shown(t)
	e.SetOther(plain(8, 8, teal), e.area(), "a", "b")
	require.Equal(t, [2]string{"a", "b"}, e.Compared())
	s.window.Canvas().Focus(e)
	strike(e, fyne.KeyTab)
	require.Equal(t, splitLine, e.selected)
	strike(e, fyne.KeyRight)
	e.held = func() fyne.KeyModifier { return fyne.KeyModifierShift }
	strike(e, fyne.KeyLeft)
	require.InDeltaSlice(t, []float64{0.51, 0.41}, r.splits, 1e-9)
	e.SetOther(nil, e.area(), "", "")
	require.Equal(t, nothing, e.selected)
	require.Equal(t, [2]string{}, e.Compared())
}

func TestTheOtherDetailLiesOverTheOther(t *testing.T) {
	e, _, s := shown(t)
	e.SetImage(plain(8, 8, graphite), e.area())
	e.SetOther(plain(8, 8, teal), e.area(), "", "")
	part := layout.Area{Centre: layout.Point{X: 60}, Size: layout.Size{W: 40, H: 40}}
	e.SetOtherDetail(plain(8, 8, cream), part)
	seen := func(x, y float64) any {
		p := on(e, layout.MM(x), layout.MM(y))
		return at(s.capture("other"), int(p.X), int(p.Y))
	}
	require.Equal(t, cream, seen(60, 10))
	require.Equal(t, teal, seen(60, 60))
	require.Equal(t, graphite, seen(-60, 10))
	e.SetOther(plain(8, 8, teal), e.area(), "", "")
	require.Equal(t, teal, seen(60, 10), "it belonged to the picture before")
}
