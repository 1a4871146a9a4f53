package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

func shownList(t *testing.T) (*PickList, *[]int, *stage) {
	l := NewPickList()
	var picked []int
	l.OnPicked = func(nth int) { picked = append(picked, nth) }
	l.Set([]Pick{{Label: "first", More: "10 mm"}, {Label: "second"}, {Label: "third"}}, 1)
	s := show(t, variants["light"], container.NewVBox(l), fyne.NewSize(300, 400))
	return l, &picked, s
}

func TestAnEntryIsPicked(t *testing.T) {
	l, picked, s := shownList(t)
	test.Tap(l.rows[2])
	s.window.Canvas().Focus(l.rows[0])
	strike(l.rows[0], fyne.KeySpace)
	strike(l.rows[0], fyne.KeyReturn)
	require.Equal(t, []int{2, 0, 0}, *picked)
	require.True(t, l.rows[1].Chosen(), "what is marked is for the owner to say")
	require.False(t, l.rows[2].Chosen())
	require.Equal(t, []string{"first", "10 mm"}, texts(t, l.rows[0]))
}

func TestAListThatBecomesShorterTakesLessRoom(t *testing.T) {
	l, _, _ := shownList(t)
	require.Equal(t, float32(3*pickTall), l.MinSize().Height)
	kept := l.rows[0]
	l.Set([]Pick{{Label: "only"}}, 0)
	require.Equal(t, 1, l.Len())
	require.Same(t, kept, l.rows[0], "a focused row keeps its focus")
	require.Equal(t, float32(pickTall), l.MinSize().Height)
	require.Equal(t, "only", l.rows[0].Label())
	l.Set(nil, -1)
	require.False(t, l.Visible())
}

func TestAnEntryWithAPictureHasRoomForItsWords(t *testing.T) {
	l, _, s := shownList(t)
	l.Set([]Pick{{Label: "As much of the picture as fits, with nearly all of its detail in it.", Picture: plain(60, 80, teal)}}, -1)
	require.Greater(t, len(texts(t, l.rows[0])), 1, "in several lines")
	img := s.capture("picklist")
	require.Equal(t, teal, at(img, pickPad+pickPicture/2+4, pickPad+pickPicture/2+4))
}
