package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"
)

// nameOf is the text of a row's name.
func nameOf(b *brush) *canvas.Text { return b.texts[0] }

func TestNamesAndControlsStandInLine(t *testing.T) {
	f := NewField("Width", "")
	sel := widget.NewSelect([]string{"Board"}, nil)
	n := NewNamed("Kind", sel)
	show(t, variants["light"], container.NewVBox(f, n), fyne.NewSize(300, 100))

	field := test.WidgetRenderer(f).(*fieldRenderer)
	row := test.WidgetRenderer(n).(*namedRenderer)
	require.Equal(t, nameOf(field.brush).Position().X, nameOf(row.brush).Position().X)
	require.InDelta(t, nameOf(field.brush).Position().Y, nameOf(row.brush).Position().Y, 1)
	require.Equal(t, f.entry.Position().X, sel.Position().X)
	require.Equal(t, f.entry.Size().Width, sel.Size().Width)
	require.Equal(t, "Kind", n.Name())
	require.Equal(t, 1, row.brush.nBars, "a list to pick from has an edge, as a line to type into has")
}

func TestReadoutStandsWhereUnitsDo(t *testing.T) {
	f := NewField("Power", "%")
	slider := widget.NewSlider(-1, 1)
	n := NewNamed("Contrast", slider)
	n.SetReadout("+12 %")
	show(t, variants["light"], container.NewVBox(f, n), fyne.NewSize(300, 100))
	require.Equal(t, "+12 %", n.Readout())

	field := test.WidgetRenderer(f).(*fieldRenderer)
	row := test.WidgetRenderer(n).(*namedRenderer)
	require.Equal(t, field.brush.texts[1].Position().X, row.brush.texts[1].Position().X)
	require.Equal(t, f.entry.Size().Width, slider.Size().Width)
	require.Zero(t, row.brush.nBars)
	n.SetReadout("-100 %")
	require.Equal(t, []string{"Contrast", "-100 %"}, texts(t, n))
}

func TestARimmedListHasNoColumnForAName(t *testing.T) {
	list := widget.NewSelect([]string{"this", "that"}, nil)
	n := NewRimmed(list)
	show(t, variants["light"], container.NewVBox(n), fyne.NewSize(200, 60))
	require.Zero(t, list.Position().X)
	require.Equal(t, n.Size().Width, list.Size().Width)
	require.Equal(t, 1, test.WidgetRenderer(n).(*namedRenderer).brush.nBars, "the rim")
}
