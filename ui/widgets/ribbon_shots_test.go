package widgets

import (
	"image"
	"image/color"
	"math"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"undercoat/imaging/colour"
)

func demoLooks(w int) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, 1))
	smooth := func(x, at, wide float64) float64 { return 1 / (1 + math.Exp(-(x-at)/wide)) }
	for x := range w {
		d := float64(x) / float64(w) * 300
		c := colour.Mix(graphite.Linear(), teal.Linear(), smooth(d, 45, 4))
		c = colour.Mix(c, cream.Linear(), smooth(d, 110, 9))
		c = colour.Mix(c, colour.Stored{R: 0x3a, G: 0x2a, B: 0x1c}.Linear(), smooth(d, 268, 8))
		s := c.Stored()
		img.SetRGBA(x, 0, color.RGBA{s.R, s.G, s.B, 255})
	}
	return img
}

func demoRibbon() *DepthRibbon {
	r := NewDepthRibbon()
	r.SetLooks(demoLooks(600), 300)
	r.SetBreakThroughs([]BreakThrough{{"graphite", 45, 41, 50}, {"teal", 110, 96, 128}})
	bins := make([]float64, 100)
	for i := range bins {
		x := float64(i)
		bins[i] = 0.02*math.Exp(-(x-20)*(x-20)/90) + 0.012*math.Exp(-(x-45)*(x-45)/60)
	}
	bins[0] = 0.3
	r.SetHistogram(bins)
	r.SetScorch(260)
	r.SetDose(128)
	r.SetUncalibrated(true)
	r.Describe = func(d float64) string { return "teal, 31 µm deep" }
	return r
}

func TestInstrumentShots(t *testing.T) {
	if *shots == "" {
		t.Skip("pictures to look at are made with -shots FOLDER")
	}
	coats := []Layer{{"graphite", graphite, 25}, {"teal", teal, 40}, {"cream", cream, 18}}
	for name, variant := range variants {
		r := demoRibbon()
		s := show(t, variant, r, fyne.NewSize(1100, 130))
		s.capture("ribbon-" + name)
		hover(r, fyne.NewPos(500, 60))
		s.window.Canvas().Focus(r)
		s.capture("ribbon-hover-" + name)

		c := NewCore()
		c.SetStack(coats, Layer{Name: "white ground", Colour: ground})
		c.SetReading(CoreReading{Where: "at the pointer", Shows: "teal", Look: teal, DoseJCM2: 62, DepthUM: 41, Shares: []float64{0.11, 0.82, 0.07, 0}})
		s = show(t, variant, container.NewPadded(c), fyne.NewSize(190, 480))
		s.capture("core-" + name)

		p := NewStackPicture()
		p.OnPicked = func(int) {}
		p.SetStack(coats, Layer{Name: "white ground", Colour: ground})
		p.SetChosen(1)
		s = show(t, variant, container.NewPadded(p), fyne.NewSize(250, 130))
		s.capture("stack-" + name)
	}
}
