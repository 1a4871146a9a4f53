package widgets

import (
	"testing"

	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
)

// What a move of the pointer costs before anything is painted.
func BenchmarkEaselHover(b *testing.B) {
	e := newTestEasel()
	w := test.NewTempWindow(b, container.NewStack(e))
	w.Resize(easelSize)
	from, to := on(e, -100, -100), on(e, 100, 100)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%2 == 0 {
			hover(e, from)
		} else {
			hover(e, to)
		}
	}
}

// What a turn of the wheel costs before anything is painted.
func BenchmarkEaselZoom(b *testing.B) {
	e := newTestEasel()
	w := test.NewTempWindow(b, container.NewStack(e))
	w.Resize(easelSize)
	pos := on(e, 50, 50)
	b.ReportAllocs()
	for i := 0; b.Loop(); i++ {
		if i%2 == 0 {
			wheel(e, pos, 25)
		} else {
			wheel(e, pos, -25)
		}
	}
}
