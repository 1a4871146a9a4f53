package bench

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/widget"

	"undercoat/assets"
	"undercoat/ui/widgets"
)

// guide is the book for makers, in the easel's place: its contents at the left, a
// chapter at the right.
type guide struct {
	box      *fyne.Container
	chapters []assets.GuideChapter
	contents *widgets.PickList
	page     *widgets.Chapter
	open     int // the chapter on show; -1: none yet
}

func newGuide() *guide {
	g := &guide{contents: widgets.NewPickList(), page: widgets.NewChapter(), open: -1}
	g.contents.OnPicked = g.turnTo
	g.page.OnLink = g.follow
	g.page.Picture = func(name string) fyne.Resource {
		data, ok := assets.GuidePicture(name)
		if !ok {
			return nil
		}
		return fyne.NewStaticResource(name, data)
	}
	head := widget.NewLabelWithStyle(lang.X("guide.title", "Guide"), fyne.TextAlignLeading, fyne.TextStyle{Bold: true})
	split := container.NewHSplit(container.NewBorder(head, nil, nil, nil, container.NewVScroll(g.contents)), g.page)
	split.SetOffset(0.23)
	g.box = container.NewPadded(split)
	g.box.Hide()
	return g
}

func (g *guide) object() fyne.CanvasObject { return g.box }

// begin opens the first chapter, unless one is open.
func (g *guide) begin() {
	if g.open >= 0 {
		return
	}
	g.chapters = assets.GuideChapters()
	g.turnTo(0)
}

func (g *guide) leave() {}

// turnTo opens the nth chapter.
func (g *guide) turnTo(nth int) {
	g.open = nth
	picks := make([]widgets.Pick, len(g.chapters))
	for i, c := range g.chapters {
		picks[i] = widgets.Pick{Label: c.Title}
	}
	g.contents.Set(picks, nth)
	g.page.Set(g.chapters[nth].Title, g.chapters[nth].Markdown)
}

// follow opens the chapter that a link leads to.
func (g *guide) follow(to string) {
	for i, c := range g.chapters {
		if c.File == to {
			g.turnTo(i)
		}
	}
}

// typed turns the pages; it tells whether the key was one of its own.
func (g *guide) typed(key fyne.KeyName) bool {
	const most = 1 << 20 // pages, more than any chapter has
	pages := map[fyne.KeyName]float32{
		fyne.KeyPageDown: 0.9, fyne.KeySpace: 0.9, fyne.KeyPageUp: -0.9,
		fyne.KeyDown: 0.1, fyne.KeyUp: -0.1, fyne.KeyHome: -most, fyne.KeyEnd: most,
	}
	if by, ok := pages[key]; ok {
		g.page.Turn(by)
		return true
	}
	return false
}

// ShowGuide opens the guide where it was left.
func (b *Bench) ShowGuide() {
	b.showSheet(b.guide)
	b.win.Canvas().Unfocus() // so that the keys turn its pages
}

// About says which program this is, and whose work is in it.
func (b *Bench) About() {
	says := widget.NewRichTextFromMarkdown(lang.X("about.text", "Shows a panel of several coats before it is burned, and hands the machine its raster. It never drives a machine. Watch the burn from beginning to end; the machine's instructions and local rules come before anything this program says."))
	says.Wrapping = fyne.TextWrapWord
	version := widget.NewLabel(lang.X("about.version", "Version {{.Version}}", map[string]any{"Version": b.version}))
	version.Selectable = true
	licences := widgets.NewChapter()
	_, text, _ := strings.Cut(assets.Licences(), "\n") // below its title
	licences.Set(lang.X("about.licences", "Pictures and fonts"), text)
	d := dialog.NewCustomWithoutButtons(lang.X("about.title", "About Undercoat"),
		container.NewBorder(container.NewVBox(version, says), nil, nil, nil, licences), b.win)
	d.SetButtons([]fyne.CanvasObject{widget.NewButton(lang.X("keys.close", "Close"), d.Hide)})
	d.Resize(fyne.NewSize(560, 520))
	b.ask(d)
}
