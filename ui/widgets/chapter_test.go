package widgets

import (
	"bytes"
	"image"
	"image/png"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

// aPicture is a picture of a size, as a resource.
func aPicture(t *testing.T, name string, wide, tall int) fyne.Resource {
	t.Helper()
	var b bytes.Buffer
	require.NoError(t, png.Encode(&b, image.NewGray(image.Rect(0, 0, wide, tall))))
	return fyne.NewStaticResource(name, b.Bytes())
}

func aChapter(t *testing.T, markdown string, size fyne.Size) *Chapter {
	t.Helper()
	test.NewApp()
	c := NewChapter()
	c.Picture = func(name string) fyne.Resource {
		if name == "pictures/there.png" {
			return aPicture(t, name, 400, 100)
		}
		return nil
	}
	c.Set("The title", markdown)
	w := test.NewWindow(c)
	t.Cleanup(w.Close)
	w.SetPadded(false)
	w.Resize(size)
	return c
}

func TestChapterSetsWordsAndPicturesInOrder(t *testing.T) {
	c := aChapter(t, "Before **it**.\n\n![A wide picture](pictures/there.png)\n\nBetween.\n\n![Not there](pictures/none.png)\n\nAfter.", fyne.NewSize(500, 400))
	require.Equal(t, []string{"The title", "Before it.", "A wide picture", "Between.", "Not there", "After."}, trimmed(c.Texts()))
	require.Len(t, c.page.Objects, 7, "one picture is there, the other is only spoken of")

	y := float32(0)
	for _, o := range c.page.Objects {
		require.InDelta(t, y, o.Position().Y, 0.01, "one below the other")
		y += o.Size().Height - closer
	}
	frame := c.page.Objects[2].(*fyne.Container)
	img := frame.Objects[1].(*canvas.Image)
	require.InDelta(t, 4, img.Size().Width/img.Size().Height, 0.05, "as wide as it is tall")
}

func trimmed(texts []string) []string {
	out := make([]string, len(texts))
	for i, s := range texts {
		out[i] = strings.TrimSpace(s)
	}
	return out
}

// Wide windows do not make lines that are too long to read.
func TestChapterKeepsItsLinesShort(t *testing.T) {
	long := strings.Repeat("many words in a row ", 60)
	narrow := aChapter(t, long, fyne.NewSize(300, 400)).page.MinSize().Height
	wide := aChapter(t, long, fyne.NewSize(1500, 400))
	require.Equal(t, float32(pageWide), wide.page.Objects[0].Size().Width)
	require.InDelta(t, (1500-pageWide)/2, wide.page.Objects[0].Position().X, 1)
	require.Less(t, wide.page.MinSize().Height, narrow)
}

func TestChapterFollowsLinks(t *testing.T) {
	c := aChapter(t, "- an item with [a link](06-framing.md) in it\n\nand [another](07-tone.md).", fyne.NewSize(500, 400))
	var followed []string
	c.OnLink = func(to string) { followed = append(followed, to) }
	links := 0
	for _, o := range test.LaidOutObjects(c) {
		if h, ok := o.(*widget.Hyperlink); ok {
			test.TapAt(h, fyne.NewPos(h.MinSize().Width/2, h.MinSize().Height/2))
			links++
		}
	}
	require.Equal(t, 2, links)
	require.ElementsMatch(t, []string{"06-framing.md", "07-tone.md"}, followed)
}

func TestChapterTurnsItsPages(t *testing.T) {
	c := aChapter(t, strings.Repeat("A paragraph.\n\n", 80), fyne.NewSize(400, 300))
	most := c.page.MinSize().Height - 300
	require.Positive(t, most)
	c.Turn(-1)
	require.Zero(t, c.scroll.Offset.Y, "there is nothing above")
	c.Turn(1)
	require.InDelta(t, 300, c.scroll.Offset.Y, 1)
	c.Turn(1e6)
	require.InDelta(t, most, c.scroll.Offset.Y, 1, "and nothing below the end")
	c.Set("Another", "Short.")
	require.Zero(t, c.scroll.Offset.Y, "another chapter begins at its beginning")
}
