package bench

import (
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/assets"
	"undercoat/imaging/job"
	"undercoat/imaging/picture/lettering"
	"undercoat/layout"
	"undercoat/ui/widgets"
)

// lettered is a desk with the lettering drawer open.
func lettered(t *testing.T) *desk {
	d := newDesk(t)
	d.openDrawer(letteringNth)
	return d
}

func (d *desk) lines() []lettering.Line { return d.s.Document().Lettering }

// lineRows are the rows of the list of lines.
func (d *desk) lineRows() (rows []*widgets.PickRow) {
	walk(d.letters.list, func(o fyne.CanvasObject) {
		if r, ok := o.(*widgets.PickRow); ok {
			rows = append(rows, r)
		}
	})
	return rows
}

func TestANewLineIsSensible(t *testing.T) {
	d := lettered(t)
	require.Equal(t, "none", d.Drawers()[letteringNth].Summary())
	require.True(t, d.button("Remove").Disabled())
	d.tap("Add a line")
	require.Equal(t, []lettering.Line{{
		Text: "Text", Font: assets.DefaultFont, CapHeight: 8.5, Align: lettering.Centre, Burn: true, Margin: 1,
		At: layout.Point{X: 0, Y: -34 + 6.8},
	}}, d.lines(), "a tenth above the foot of 68 mm, an eighth high")
	d.settle()
	require.Empty(t, d.letters.cautions.Texts(), "nothing to beware of")
	require.Equal(t, "Text", d.Drawers()[letteringNth].Summary())
	require.True(t, d.s.Undo())
	require.Empty(t, d.lines())
}

func TestALineOnALargePanelIsTenMillimetresHigh(t *testing.T) {
	d := lettered(t)
	doc := d.s.Document()
	doc.Panel.Size = layout.Size{W: 300, H: 400}
	require.Equal(t, layout.MM(10), newLine(doc).CapHeight)
}

func TestLinesArePickedReorderedAndRemoved(t *testing.T) {
	d := lettered(t)
	for _, text := range []string{"one", "two", "three"} {
		d.tap("Add a line")
		d.enter("Text", text)
	}
	texts := func() (out []string) {
		for _, l := range d.lines() {
			out = append(out, l.Text)
		}
		return out
	}
	require.Equal(t, []string{"one", "two", "three"}, texts())
	require.Equal(t, "3 lines", d.Drawers()[letteringNth].Summary())
	require.True(t, d.lineRows()[2].Chosen(), "a new line is the one to go on with")
	require.True(t, d.button("Down").Disabled())
	d.tap("Up")
	require.Equal(t, []string{"one", "three", "two"}, texts())
	require.True(t, d.lineRows()[1].Chosen())
	require.Equal(t, "three", d.field("Text").Text())

	test.Tap(d.lineRows()[0])
	require.Equal(t, "one", d.field("Text").Text())
	require.True(t, d.button("Up").Disabled())
	d.tap("Down")
	require.Equal(t, []string{"three", "one", "two"}, texts())
	d.tap("Remove")
	require.Equal(t, []string{"three", "two"}, texts())
	require.Equal(t, "two", d.field("Text").Text())
	d.tap("Remove")
	d.tap("Remove")
	require.Empty(t, texts())
	require.Len(t, d.lineRows(), 0)
	require.True(t, d.s.Undo())
	require.Equal(t, []string{"three"}, texts())
}

func TestEveryControlOfALineIsOneStep(t *testing.T) {
	d := lettered(t)
	d.tap("Add a line")
	line := func(holds func(lettering.Line) bool) func(job.Document) bool {
		return func(d job.Document) bool { return holds(d.Lettering[0]) }
	}
	other := assets.FontNames()[0]
	if other == assets.DefaultFont {
		other = assets.FontNames()[1]
	}
	for _, tt := range []controlTest{
		{"text", 0, func(d *desk) { d.enter("Text", "Harbour") }, "lettering", line(func(l lettering.Line) bool { return l.Text == "Harbour" })},
		{"font", 0, func(d *desk) { d.choose("Font", other) }, "lettering", line(func(l lettering.Line) bool { return l.Font == other })},
		{"height", 0, func(d *desk) { d.enter("Cap height", "1/4 in") }, "lettering", line(func(l lettering.Line) bool { return l.CapHeight == layout.Inch/4 })},
		{"x", 0, func(d *desk) { d.enter("x", "-12,5") }, "lettering", line(func(l lettering.Line) bool { return l.At.X == -12.5 })},
		{"y", 0, func(d *desk) { d.enter("y", "\u22121 cm") }, "lettering", line(func(l lettering.Line) bool { return l.At.Y == -10 })},
		{"align", 0, func(d *desk) { d.choose("Align", "Left end at x, y") }, "lettering", line(func(l lettering.Line) bool { return l.Align == lettering.Left })},
		{"spacing", 0, func(d *desk) { d.enter("Spacing", "-0.4") }, "lettering", line(func(l lettering.Line) bool { return l.Spacing == -0.4 })},
		{"arc", 0, func(d *desk) { d.enter("Arc radius", "-60") }, "lettering", line(func(l lettering.Line) bool { return l.ArcRadius == -60 })},
		{"rotation", 0, func(d *desk) { d.enter("Rotation", "-15") }, "lettering", line(func(l lettering.Line) bool { return l.RotationDegrees == -15 })},
		{"letters", 0, func(d *desk) { d.choose("Letters", "Left in the top coat") }, "lettering", line(func(l lettering.Line) bool { return !l.Burn })},
		{"margin", 0, func(d *desk) { d.enter("Margin", "2") }, "lettering", line(func(l lettering.Line) bool { return l.Margin == 2 })},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d.t = t
			tt.run(d)
		})
	}
}

func TestBadValuesOfALineAreRefusedBesideTheirLine(t *testing.T) {
	d := lettered(t)
	d.tap("Add a line")
	before := d.s.Document()
	for _, tt := range []struct{ line, text string }{
		{"Text", ""},
		{"Text", "\u65e5\u672c"},
		{"Cap height", "0.1"},
		{"Cap height", "tall"},
		{"x", "--3"},
		{"Spacing", "-9"},
		{"Arc radius", "2"},
		{"Rotation", "400"},
		{"Margin", "80"},
		{"Margin", "-1"},
	} {
		t.Run(tt.line+" "+tt.text, func(t *testing.T) {
			d.t = t
			d.enter(tt.line, tt.text)
			problem := d.field(tt.line).Problem()
			require.Contains(t, problem, ": ", "what is wrong and what to do")
			require.NotContains(t, problem, "%!")
			require.Equal(t, before, d.s.Document())
			require.Empty(t, d.says(), "it is said once")
		})
	}
}

func TestWhatWillNotComeOutIsTold(t *testing.T) {
	d := lettered(t)
	d.tap("Add a line")
	d.enter("x", "25")
	d.settle()
	require.NotEmpty(t, d.letters.cautions.Texts(), "it reaches past the picture area")
	n := len(d.found.LetterCautions)
	require.Equal(t, d.letters.cautions.Texts()[0], widgets.Sentence(d.found.LetterCautions[0]))
	require.GreaterOrEqual(t, len(d.handOff.facts.Texts()), n+1, "it is a caution of the job too")
	d.enter("x", "0")
	d.settle()
	require.Empty(t, d.letters.cautions.Texts())
}

func TestALineIsDraggedOnTheEaselAsOneStep(t *testing.T) {
	d := lettered(t)
	d.tap("Add a line")
	d.tap("Add a line")
	d.enter("y", "10")
	d.settle()
	before := d.s.Document()
	from := layout.Point{X: before.Lettering[0].At.X, Y: before.Lettering[0].At.Y + 3}
	to := layout.Point{X: before.Lettering[0].At.X + 5, Y: before.Lettering[0].At.Y + 7}
	d.drag(from, to)
	require.True(t, d.lineRows()[0].Chosen(), "the line that is held is the one to go on with")
	after := d.lines()[0].At
	require.InDelta(t, float64(before.Lettering[0].At.X+5), float64(after.X), 0.05)
	require.InDelta(t, float64(before.Lettering[0].At.Y+4), float64(after.Y), 0.05)
	require.Equal(t, before.Lettering[1], d.lines()[1])
	require.Equal(t, before.Picture.Crop, d.s.Document().Picture.Crop)
	undo, _ := d.s.StepNames()
	require.Equal(t, "lettering", undo)
	require.True(t, d.s.Undo())
	require.Equal(t, before, d.s.Document())

	d.openDrawer(burnNth)
	d.drag(from, to)
	require.Equal(t, before.Lettering, d.lines(), "with the drawer closed nothing of the lettering moves")
}

func TestAFontOfTheMakersOwn(t *testing.T) {
	d := lettered(t)
	d.tap("Add a line")
	data, ok := assets.Font(assets.DefaultFont)
	require.True(t, ok)
	path := d.file("own.ttf", data)
	before := d.s.Document()
	d.letters.addFont(path)
	d.until("the font", func() bool { return len(d.s.Document().Fonts) == 1 })
	require.Equal(t, "own.ttf", d.lines()[0].Font)
	d.loop.turn()
	require.Equal(t, "own.ttf", d.control("Font").(*widget.Select).Selected)
	require.True(t, d.s.Undo())
	d.loop.turn()
	require.Equal(t, before, d.s.Document())
	require.NotContains(t, d.control("Font").(*widget.Select).Options, "own.ttf")

	broken := filepath.Join(t.TempDir(), "broken.otf")
	require.NoError(t, os.WriteFile(broken, []byte("not a font"), 0o666))
	d.letters.addFont(broken)
	d.until("a complaint", func() bool { return d.says() != "" })
	require.Equal(t, before, d.s.Document())
}
