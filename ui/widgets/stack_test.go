package widgets

import (
	"slices"
	"strings"
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

// movable is a stack picture that does what it tells.
func movable(t *testing.T) (*StackPicture, *stage, func() string) {
	p, _, s := shownStack(t)
	p.OnMoved = func(from, to int) {
		coats := slices.Clone(p.coats)
		moved := coats[from]
		p.SetStack(slices.Insert(slices.Delete(coats, from, from+1), to, moved), demoGround)
	}
	p.Refresh()
	return p, s, func() string {
		var names []string
		for _, row := range p.rows {
			names = append(names, texts(t, row)[0])
		}
		return strings.Join(names, ", ")
	}
}

func TestACoatIsDraggedAmongTheOthers(t *testing.T) {
	p, s, order := movable(t)
	require.Equal(t, "graphite, teal, cream, white ground", order())
	drag := func(row int, y float32) {
		p.rows[row].Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: fyne.NewPos(30, y)}})
	}
	drag(0, 1.5*coatRowHeight)
	require.Equal(t, "teal, graphite, cream, white ground", order(), "as it would lie")
	require.True(t, p.rows[1].lifted)
	require.True(t, p.rows[1].chosen)
	s.capture("stack-dragged")
	drag(0, 20*coatRowHeight)
	require.Equal(t, "teal, cream, graphite, white ground", order(), "the ground stays below")
	drag(0, 0.5*coatRowHeight)
	require.Equal(t, "graphite, teal, cream, white ground", order(), "back where it was")
	p.rows[0].DragEnd()
	require.Equal(t, "graphite, teal, cream, white ground", order(), "and nothing has moved")

	drag(2, -5*coatRowHeight)
	p.rows[2].DragEnd()
	require.Equal(t, "cream, graphite, teal, white ground", order())
	require.False(t, p.rows[0].lifted)
}

func TestACoatIsMovedByKeys(t *testing.T) {
	p, s, order := movable(t)
	held := fyne.KeyModifierAlt
	for _, row := range p.rows {
		row.held = func() fyne.KeyModifier { return held }
	}
	s.window.Canvas().Focus(p.rows[0])
	strike(p.rows[0], fyne.KeyUp)
	require.Equal(t, "graphite, teal, cream, white ground", order(), "it lies on top already")
	strike(p.rows[0], fyne.KeyDown)
	require.Equal(t, "teal, graphite, cream, white ground", order())
	require.Equal(t, fyne.Focusable(p.rows[1]), s.window.Canvas().Focused(), "the keyboard goes with it")
	strike(p.rows[1], fyne.KeyDown)
	strike(p.rows[2], fyne.KeyDown)
	require.Equal(t, "teal, cream, graphite, white ground", order())
	strike(p.rows[3], fyne.KeyUp)
	held = 0
	strike(p.rows[2], fyne.KeyUp)
	require.Equal(t, "teal, cream, graphite, white ground", order(), "not the ground, and not without Alt")
}

func TestALoneCoatCannotBeMoved(t *testing.T) {
	p, _, _ := movable(t)
	p.SetStack(demoCoats[:1], demoGround)
	require.False(t, p.rows[0].movable)
	p.rows[0].Dragged(&fyne.DragEvent{})
	p.rows[0].DragEnd()
}
