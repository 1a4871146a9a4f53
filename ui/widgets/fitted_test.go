package widgets

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"
	"github.com/stretchr/testify/require"
)

func TestFittedCoatsShowBothColoursAndBothLines(t *testing.T) {
	f := NewFittedCoats()
	require.False(t, f.Visible(), "an empty list takes no room")
	before, after := color.NRGBA{10, 20, 30, 255}, color.NRGBA{40, 50, 60, 255}
	f.Set([]FittedCoat{{"teal", before, after, "68.0 J/cm²", "95 %: 67.1 to 68.8"}, {Name: "amber", Before: before, After: before}})
	require.True(t, f.Visible())
	require.Equal(t, float32(2*fittedTall), f.MinSize().Height)
	f.Resize(f.MinSize().AddWidthHeight(200, 0))

	var texts []string
	var fills []color.Color
	for _, o := range test.WidgetRenderer(f).(*drawn).brush.layer.Objects {
		switch o := o.(type) {
		case *canvas.Text:
			texts = append(texts, o.Text)
		case *canvas.Rectangle:
			fills = append(fills, o.FillColor)
		}
	}
	require.Equal(t, []string{"68.0 J/cm²", "teal", "95 %: 67.1 to 68.8", "amber"}, texts)
	require.Equal(t, []color.Color{before, after}, fills[:2])

	f.Set(nil)
	require.False(t, f.Visible())
}

func TestPicksWithAChipShowIt(t *testing.T) {
	l := NewPickList()
	red := color.NRGBA{200, 0, 0, 255}
	l.Set([]Pick{{Label: "A1  12 %", More: "teal", Chip: red}, {Label: "A2  16 %"}}, -1)
	require.Equal(t, "teal", l.rows[0].More())
	chips := func(r *PickRow) (n int) {
		r.Resize(r.MinSize())
		for _, o := range test.WidgetRenderer(r).(*pickRenderer).brush.layer.Objects {
			if o, ok := o.(*canvas.Rectangle); ok && o.FillColor == red {
				n++
			}
		}
		return n
	}
	require.Equal(t, 1, chips(l.rows[0]))
	require.Equal(t, 0, chips(l.rows[1]))
}

func TestCornersWearTheirNames(t *testing.T) {
	c, _, _ := shownCorners(t)
	c.SetNames([4]string{"upper left", "upper right", "lower right", "lower left"})
	texts := func() (all []string) {
		for _, o := range test.WidgetRenderer(c).(*cornersRenderer).brush.layer.Objects {
			if o, ok := o.(*canvas.Text); ok {
				all = append(all, o.Text)
			}
		}
		return all
	}
	require.Equal(t, []string{"upper left", "upper right", "lower right", "lower left"}, texts())
	c.SetNames([4]string{})
	require.Empty(t, texts())
}
