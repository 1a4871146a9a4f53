package widgets

import (
	"errors"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

func TestStatusLineDoesNotJump(t *testing.T) {
	s := NewStatusLine("00000 x 00000 dots", "burns about 88 h 88 min", "88 cautions")
	show(t, variants["dark"], container.NewVBox(s), fyne.NewSize(700, 40))
	var places []fyne.Position
	for _, seg := range s.segments {
		places = append(places, seg.Position())
	}
	s.Set(0, "7 x 9 dots", Plain)
	s.Set(1, "burns about 8 h 10 min", Plain)
	s.Set(2, "2 cautions", Careful)
	for i, seg := range s.segments {
		require.Equal(t, places[i], seg.Position())
	}
	require.Equal(t, []string{"7 x 9 dots"}, texts(t, s.segments[0]))

	s.Set(2, "a text that is far longer than the sample was", Careful)
	got := texts(t, s.segments[2])[0]
	require.Contains(t, got, "…")
}

func TestCautionHasAMark(t *testing.T) {
	s := NewStatusLine("88 cautions")
	show(t, variants["dark"], container.NewVBox(s), fyne.NewSize(300, 40))
	icons := func() int {
		return test.TempWidgetRenderer(t, s.segments[0]).(*drawn).brush.nImages
	}
	s.Set(0, "fits", Plain)
	require.Zero(t, icons())
	s.Set(0, "2 cautions", Careful)
	require.Equal(t, 1, icons(), "not by colour alone")
}

func TestSegmentsCanBePressed(t *testing.T) {
	s := NewStatusLine("first", "second")
	w := show(t, variants["dark"], container.NewVBox(s), fyne.NewSize(300, 40)).window.Canvas()
	pressed := 0
	s.SetAction(1, func() { pressed++ })
	test.FocusNext(w)
	require.Equal(t, fyne.Focusable(s.segments[1]), w.Focused(), "a segment with nothing to do is passed over")
	strike(s.segments[1], fyne.KeySpace)
	test.Tap(s.segments[1])
	test.Tap(s.segments[0])
	require.Equal(t, 2, pressed)
}

func TestProgressRunsAlongTheLine(t *testing.T) {
	s := NewStatusLine("fits")
	stage := show(t, variants["dark"], container.NewBorder(s, nil, nil, nil), fyne.NewSize(400, 60))
	s.SetProgress(0.5)
	img := stage.capture("status-half")
	require.NotEqual(t, at(img, 190, 0), at(img, 210, 0))
	s.SetProgress(2)
	img = stage.capture("status-done")
	require.Equal(t, at(img, 190, 0), at(img, 210, 0))
}

func shownNotice(t *testing.T) (*Notice, *int, fyne.Canvas) {
	n := NewNotice()
	closed := 0
	n.OnClosed = func() { closed++ }
	s := show(t, variants["dark"], container.NewVBox(n), fyne.NewSize(700, 90))
	return n, &closed, s.window.Canvas()
}

func TestNoticeSaysWhatToDoNext(t *testing.T) {
	n, closed, _ := shownNotice(t)
	require.False(t, n.Visible())
	n.TellError(errors.New("cannot place the raster: border 160 mm left leaves nothing: choose a smaller border"))
	require.True(t, n.Visible())
	require.Equal(t, []string{"Cannot place the raster: border 160 mm left leaves nothing.", "Choose a smaller border."}, texts(t, n))
	test.Tap(n.shut)
	require.False(t, n.Visible())
	require.Equal(t, 1, *closed)

	n.TellError(errors.New("something without a next step"))
	require.Equal(t, []string{"Something without a next step."}, texts(t, n))
}

func TestNoticeOffersSomethingToDo(t *testing.T) {
	n, _, c := shownNotice(t)
	done := 0
	n.Inform("The last session ended without saving.", "What was not saved can be brought back.")
	n.SetAction("Bring back", func() { done++ })
	require.True(t, n.act.Visible())
	test.Tap(n.act)
	require.Equal(t, 1, done)
	test.FocusNext(c)
	test.FocusNext(c)
	require.Equal(t, fyne.Focusable(n.shut), c.Focused())

	n.Tell("Another thing.", "")
	require.False(t, n.act.Visible(), "the offer belonged to what was said before")
}

func TestNoticeGrowsWithItsText(t *testing.T) {
	n, _, _ := shownNotice(t)
	n.Resize(fyne.NewSize(700, 60))
	n.Tell("Short.", "")
	short := n.MinSize().Height
	long := "Border 160 mm left and 160 mm right leave nothing of a 300 mm panel, "
	n.Tell(long+long+long, "Choose a smaller border.")
	require.Greater(t, n.MinSize().Height, short+15)
}
