package widgets

import (
	"regexp"
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

var _ fyne.Widget = (*Chapter)(nil)

// Chapter shows a text in Markdown, with pictures between its paragraphs, and scrolls
// where it is longer than there is room.
type Chapter struct {
	widget.BaseWidget

	// OnLink tells which link was followed, by what it leads to.
	OnLink func(to string)
	// Picture finds a picture by what the text calls it; nil: there are none.
	Picture func(name string) fyne.Resource

	page   *fyne.Container
	scroll *container.Scroll
}

// NewChapter is a chapter without words.
func NewChapter() *Chapter {
	c := &Chapter{page: container.New(&pageLayout{})}
	c.scroll = container.NewVScroll(c.page)
	c.ExtendBaseWidget(c)
	return c
}

// pictureLine is a line of Markdown that is a picture: ![what it shows](its name).
var pictureLine = regexp.MustCompile(`(?m)^!\[([^\]]*)\]\(([^)]+)\)$`)

// Set shows another text, from its beginning.
func (c *Chapter) Set(title, markdown string) {
	c.page.Objects = []fyne.CanvasObject{c.words("# " + title)}
	from := 0
	for _, at := range pictureLine.FindAllStringSubmatchIndex(markdown, -1) {
		c.add(markdown[from:at[0]])
		c.addPicture(markdown[at[2]:at[3]], markdown[at[4]:at[5]])
		from = at[1]
	}
	c.add(markdown[from:])
	c.page.Refresh()
	c.scroll.ScrollToTop()
	c.Refresh()
}

// Texts are the words on show, a block each.
func (c *Chapter) Texts() []string {
	var out []string
	for _, o := range c.page.Objects {
		switch o := o.(type) {
		case *widget.RichText:
			out = append(out, o.String())
		case *widget.Label:
			out = append(out, o.Text)
		}
	}
	return out
}

// Turn scrolls by a share of what is seen at once: 1 is a page on, -1 a page back.
func (c *Chapter) Turn(pages float32) {
	most := max(0, c.page.MinSize().Height-c.scroll.Size().Height)
	y := c.scroll.Offset.Y + pages*c.scroll.Size().Height
	c.scroll.ScrollToOffset(fyne.NewPos(0, max(0, min(y, most))))
}

// add sets Markdown without pictures, a paragraph or a list at a time.
func (c *Chapter) add(markdown string) {
	block := ""
	end := func() {
		if strings.TrimSpace(block) != "" {
			c.page.Add(c.words(block))
		}
		block = ""
	}
	for _, next := range strings.Split(markdown, "\n\n") {
		if inside := strings.HasPrefix(next, " ") && !strings.HasPrefix(next, codeIndent); !inside {
			end()
		}
		block += "\n\n" + next
	}
	end()
}

// codeIndent begins the lines of a command; less of it carries an item of a list on.
const codeIndent = "    "

// words sets Markdown without pictures.
func (c *Chapter) words(markdown string) *widget.RichText {
	t := widget.NewRichTextFromMarkdown(markdown)
	t.Wrapping = fyne.TextWrapWord
	c.wire(t.Segments)
	return t
}

// wire makes links lead to OnLink instead of out of the program.
func (c *Chapter) wire(segments []widget.RichTextSegment) {
	for _, s := range segments {
		switch s := s.(type) {
		case *widget.HyperlinkSegment:
			to := s.URL.String()
			s.OnTapped = func() {
				if c.OnLink != nil {
					c.OnLink(to)
				}
			}
		case *widget.ListSegment:
			c.wire(s.Items)
		case *widget.ParagraphSegment:
			c.wire(s.Texts)
		}
	}
}

// addPicture sets a picture with the line below it that says what it shows. Where
// there is no such picture the line stands alone.
func (c *Chapter) addPicture(shows, name string) {
	var res fyne.Resource
	if c.Picture != nil {
		res = c.Picture(name)
	}
	if res != nil {
		img := canvas.NewImageFromResource(res)
		img.FillMode = canvas.ImageFillContain
		c.page.Add(container.New(&frameLayout{of: img}, widget.NewSeparator(), img))
	}
	says := widget.NewLabelWithStyle(shows, fyne.TextAlignCenter, fyne.TextStyle{Italic: true})
	says.Wrapping = fyne.TextWrapWord
	c.page.Add(says)
}

// CreateRenderer is called by the toolkit.
func (c *Chapter) CreateRenderer() fyne.WidgetRenderer { return &chapterRenderer{c} }

type chapterRenderer struct{ chapter *Chapter }

func (r *chapterRenderer) MinSize() fyne.Size { return r.chapter.scroll.MinSize() }

// Layout wraps the words to the width first: only then is it known how long they are.
func (r *chapterRenderer) Layout(size fyne.Size) {
	page := r.chapter.page
	page.Resize(fyne.NewSize(size.Width, page.Size().Height))
	page.Layout.Layout(page.Objects, page.Size())
	r.chapter.scroll.Resize(size)
	r.chapter.scroll.Refresh()
}

func (r *chapterRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.chapter.scroll}
}

func (r *chapterRenderer) Refresh() {
	r.Layout(r.chapter.Size())
	canvas.Refresh(r.chapter)
}

func (r *chapterRenderer) Destroy() {}

const (
	pageWide = 700 // longer lines are hard to read
	pageGap  = 8
	closer   = 5 // the toolkit's blocks come with more room about them than paragraphs need
)

// pageLayout sets blocks below each other, no wider than can be read, in the middle.
type pageLayout struct{ wide, tall float32 }

func (p *pageLayout) MinSize([]fyne.CanvasObject) fyne.Size { return fyne.NewSize(200, p.tall) }

func (p *pageLayout) Layout(blocks []fyne.CanvasObject, size fyne.Size) {
	p.wide = max(0, min(size.Width-2*pageGap, pageWide))
	left, y := max(pageGap, (size.Width-p.wide)/2), float32(0)
	for _, o := range blocks {
		o.Resize(fyne.NewSize(p.wide, o.MinSize().Height))
		h := o.MinSize().Height // of what has wrapped by now
		place(o, left, y, p.wide, h)
		y += h - closer
	}
	p.tall = y + closer + pageGap
}

// framePad is how far a picture stands in, which is as far as words do.
const framePad = 6

// frameLayout gives a picture the height that its width asks for, and a rim.
type frameLayout struct {
	of   *canvas.Image
	wide float32
}

func (f *frameLayout) MinSize([]fyne.CanvasObject) fyne.Size {
	aspect := f.of.Aspect()
	if aspect <= 0 {
		return fyne.NewSize(0, 0)
	}
	return fyne.NewSize(0, (f.wide-2*framePad-2)/aspect+2+2*framePad)
}

func (f *frameLayout) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	f.wide = size.Width
	wide, tall := size.Width-2*framePad, size.Height-2*framePad
	place(objects[0], framePad, framePad, wide, tall)
	place(f.of, framePad+1, framePad+1, wide-2, tall-2)
}
