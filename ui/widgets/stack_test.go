package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

func shownStack(t *testing.T) (*StackPicture, *[]int, *stage) {
	p := NewStackPicture()
	var picked []int
	p.OnPicked = func(i int) { picked = append(picked, i) }
	p.SetStack(demoCoats, demoGround)
	s := show(t, variants["dark"], p, fyne.NewSize(260, 130))
	return p, &picked, s
}

func TestStackPictureFromTheTopDown(t *testing.T) {
	p, _, s := shownStack(t)
	img := s.capture("stack-plain")
	for i, l := range append(demoCoats, demoGround) {
		require.Equal(t, l.Colour, at(img, 20, i*coatRowHeight+coatRowHeight/2), l.Name)
	}
	require.Equal(t, []string{"graphite", "25 µm"}, texts(t, p.rows[0]))
	require.Equal(t, []string{"white ground", "ground"}, texts(t, p.rows[3]))
}

func TestPickALayer(t *testing.T) {
	p, picked, s := shownStack(t)
	test.TapCanvas(s.window.Canvas(), fyne.NewPos(100, 1.5*coatRowHeight))
	require.Equal(t, []int{1}, *picked)
	for range 4 {
		test.FocusNext(s.window.Canvas())
	}
	require.Equal(t, fyne.Focusable(p.rows[3]), s.window.Canvas().Focused())
	strike(p.rows[3], fyne.KeySpace)
	strike(p.rows[0], fyne.KeyReturn)
	strike(p.rows[0], fyne.KeyDown)
	require.Equal(t, []int{1, 3, 0}, *picked)

	p.SetChosen(2)
	for i, row := range p.rows {
		require.Equal(t, i == 2, row.chosen)
	}
}

func TestAStackThatIsOnlyLookedAtTakesNoFocus(t *testing.T) {
	p := NewStackPicture()
	p.SetStack(demoCoats, demoGround)
	s := show(t, variants["light"], p, fyne.NewSize(260, 130))
	test.FocusNext(s.window.Canvas())
	require.Nil(t, s.window.Canvas().Focused())
	test.TapCanvas(s.window.Canvas(), fyne.NewPos(100, 20))
}

func TestAnotherStackKeepsTheRowsItCan(t *testing.T) {
	p, _, _ := shownStack(t)
	first := p.rows[0]
	p.SetStack([]Layer{{"soot", graphite, 30}, {"sand", cream, 20}, {"sea", teal, 20}}, demoGround)
	require.Same(t, first, p.rows[0])
	require.Equal(t, []string{"soot", "30 µm"}, texts(t, p.rows[0]))
	p.SetStack(demoCoats[:1], demoGround)
	require.Len(t, p.rows, 2)
	require.Len(t, p.column.Objects, 2)
	require.Equal(t, float32(2*coatRowHeight), p.MinSize().Height)
}
