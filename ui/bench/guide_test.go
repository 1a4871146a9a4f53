package bench

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/ui/session"
)

// key types a key that nothing in the window takes.
func (d *desk) key(name fyne.KeyName) {
	d.win.Canvas().OnTypedKey()(&fyne.KeyEvent{Name: name})
}

func TestGuideIsReadInTheWindow(t *testing.T) {
	d := newDesk(t)
	d.key(fyne.KeyF1)
	require.Equal(t, sheet(d.guide), d.sheet)
	require.False(t, d.Easel().Visible())
	require.Equal(t, len(assets.GuideChapters()), d.guide.contents.Len())
	require.Equal(t, assets.GuideChapters()[0].Title, d.guide.page.Texts()[0])

	d.guide.follow("07-tone.md")
	require.Equal(t, "Tone", d.guide.page.Texts()[0])
	d.key(fyne.KeyF1)
	require.Equal(t, "Tone", d.guide.page.Texts()[0], "it stays where it was left")

	// An edit in a drawer beside it leaves the reader alone.
	d.guide.turnTo(16)
	d.key(fyne.KeyPageDown)
	before := d.guide.page.Texts()[0]
	require.True(t, d.edit("a step", "", withPower(33)))
	d.loop.turn()
	require.Equal(t, before, d.guide.page.Texts()[0])

	d.Show(session.ProofView)
	require.True(t, d.Easel().Visible())
	require.False(t, d.guide.box.Visible())
	d.ShowGuide()
	require.Equal(t, before, d.guide.page.Texts()[0])
}

// Every chapter can be set, every link leads somewhere, and every picture is found.
func TestGuideShowsEveryChapter(t *testing.T) {
	d := newDesk(t)
	d.ShowGuide()
	for i, c := range assets.GuideChapters() {
		d.guide.turnTo(i)
		texts := d.guide.page.Texts()
		require.Equal(t, c.Title, texts[0])
		require.NotContains(t, strings.Join(texts, "\n"), "![", c.File)
	}
}

func TestKeysStayWithAQuestionOverTheGuide(t *testing.T) {
	d := newDesk(t)
	d.AskKeys()
	d.key(fyne.KeyF1)
	require.Nil(t, d.sheet, "a question is answered first")
	d.key(fyne.KeyEscape)
	require.Empty(t, d.asking)
	d.key(fyne.KeyF1)
	require.Equal(t, sheet(d.guide), d.sheet)
}

func TestAboutSaysWhichBuildThisIs(t *testing.T) {
	d := newDesk(t)
	d.version = "9.8.7 (commit abc)"
	d.About()
	require.Len(t, d.asking, 1)
	require.True(t, d.labelled("Version 9.8.7 (commit abc)"))
	d.tapIn("About Undercoat", "Close")
	require.Empty(t, d.asking)
}

// labelled tells whether a label stands in the question on top.
func (d *desk) labelled(text string) bool {
	found := false
	walk(d.win.Canvas().Overlays().Top(), func(o fyne.CanvasObject) {
		if l, ok := o.(*widget.Label); ok && l.Text == text {
			found = true
		}
	})
	return found
}
