package widgets

import (
	"image/color"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"github.com/stretchr/testify/require"
)

func TestBrushUsesItsShapesAgain(t *testing.T) {
	c := NewCore()
	show(t, variants["dark"], c, fyne.NewSize(200, 300))
	b := newBrush()
	b.begin(c)
	b.bar(0, 0, 10, 10, color.White)
	b.text("first", 0, 0, 11, fyne.TextStyle{}, color.White)
	b.line(0, 0, 5, 5, 1, color.White)
	first := append([]fyne.CanvasObject(nil), b.layer.Objects...)
	require.Len(t, first, 3)

	b.begin(c)
	b.plate(0, 0, 20, 20, 3, color.Black, color.White, 2)
	b.text("second", 0, 0, 11, fyne.TextStyle{}, color.White)
	require.Len(t, b.layer.Objects, 2)
	require.Same(t, first[0], b.layer.Objects[0])
	require.Same(t, first[1], b.layer.Objects[1])

	b.begin(c)
	b.bar(0, 0, 10, 10, color.White)
	r := b.layer.Objects[0].(*canvas.Rectangle)
	require.Zero(t, r.CornerRadius, "nothing of the plate is left on the bar")
	require.Zero(t, r.StrokeWidth)
}

func TestBrushDrawsNothingInsideOut(t *testing.T) {
	b := newBrush()
	b.bar(10, 0, 5, 10, color.White)
	b.bar(0, 0, 0.3, 10, color.White)
	b.plate(0, 10, 10, 5, 2, color.White, color.White, 1)
	b.text("", 0, 0, 11, fyne.TextStyle{}, color.White)
	require.Empty(t, b.layer.Objects)
}

func TestBrushSnapsToDevicePixels(t *testing.T) {
	b := newBrush()
	b.scale = 1.5
	require.InDelta(t, 4/1.5, float64(b.snap(2.5)), 1e-6)
	require.InDelta(t, 2/1.5, float64(b.hair()), 1e-6, "a hair is whole device pixels wide, and no thinner than one of the toolkit's")
}

func TestElide(t *testing.T) {
	show(t, variants["dark"], NewCore(), fyne.NewSize(100, 100))
	const size = 12
	full := "a long summary of a drawer"
	width := measure(full, size, fyne.TextStyle{}).Width
	require.Equal(t, full, elide(full, size, fyne.TextStyle{}, width))
	for _, room := range []float32{width - 1, width / 2, 20} {
		cut := elide(full, size, fyne.TextStyle{}, room)
		require.LessOrEqual(t, measure(cut, size, fyne.TextStyle{}).Width, room)
		require.Contains(t, cut, "…")
	}
	require.Empty(t, elide(full, size, fyne.TextStyle{}, 2))
	require.Empty(t, elide("", size, fyne.TextStyle{}, 20))
}
