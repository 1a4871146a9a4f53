package bench

import (
	"testing"

	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/widget"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
)

// BenchmarkEditOnTheMainGoroutine is what one move of a drag costs before the next
// can be taken: the edit, and every control showing the document it made. Pictures
// are made elsewhere.
func BenchmarkEditOnTheMainGoroutine(b *testing.B) {
	for name, change := range map[string]func(d *job.Document, i int){
		"power": func(d *job.Document, i int) { d.Setting.PowerPercent = 40 + float64(i%200)/10 },
		"tone":  func(d *job.Document, i int) { d.Picture.Tone.Mid = float64(i%100+1) / 200 },
		"crop":  func(d *job.Document, i int) { d.Picture.Crop.X = float64(i % 30) },
	} {
		b.Run(name, func(b *testing.B) {
			j, pic, err := job.Demo(b.Context())
			require.NoError(b, err)
			win := test.NewTempWindow(b, widget.NewLabel(""))
			l := newLoop()
			bench := New(win, j, pic, Options{Do: l.do})
			bench.s.Show() // no pictures: they would take the cores
			b.Cleanup(bench.Close)
			i := 0
			for b.Loop() {
				i++
				bench.edit(name, "drag", func(d *job.Document) error { change(d, i); return nil })
				l.turn()
			}
		})
	}
}
