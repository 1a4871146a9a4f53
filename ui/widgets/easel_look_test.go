package widgets

import (
	"testing"

	"fyne.io/fyne/v2"
	"github.com/stretchr/testify/require"

	"undercoat/layout"
	house "undercoat/ui/theme"
)

var easelSize = fyne.NewSize(860, 560)

// newTestEasel is an easel with a canvas of 400 x 300 mm in graphite, a border
// of 20, 20, 15 and 25 mm and a picture.
func newTestEasel() *Easel {
	e := NewEasel()
	e.held = func() fyne.KeyModifier { return 0 }
	e.SetPitch(0.1)
	e.SetPanel(layout.Panel{Kind: layout.Canvas, Size: layout.Size{W: 400, H: 300}, EdgeDepth: 18}, graphite)
	e.SetBorder(layout.Border{Left: 20, Right: 20, Top: 15, Bottom: 25})
	e.SetImage(swirl(360, 260, graphite, teal), e.area())
	return e
}

// on is where a point of the panel lies on the widget.
func on(e *Easel, x, y layout.MM) fyne.Position {
	px, py := e.view.at(layout.Point{X: x, Y: y})
	return fyne.NewPos(px+rulerLeft, py+rulerTop)
}

func pixel(p fyne.Position) (x, y int) { return int(p.X), int(p.Y) }

func TestEaselLook(t *testing.T) {
	for name, variant := range variants {
		t.Run(name, func(t *testing.T) {
			e := newTestEasel()
			s := show(t, variant, e, easelSize)
			e.SetImage(plain(36, 26, teal), e.area())
			img := s.capture("easel-plain-" + name)

			corner := fyne.NewPos(easelSize.Width-4, easelSize.Height-4)
			x, y := pixel(corner)
			require.Equal(t, ofTheme(house.Surround, variant), at(img, x, y), "surround")
			x, y = pixel(on(e, -190, 100))
			require.Equal(t, graphite, at(img, x, y), "border shows the top coat")
			x, y = pixel(on(e, 60, 60))
			require.Equal(t, teal, at(img, x, y), "picture area shows the picture")
			require.Equal(t, ofTheme(house.Ruler, variant), at(img, 4, 4), "ruler's corner")
		})
	}
}

func TestEaselPictureIsWhereItsAreaIs(t *testing.T) {
	e := newTestEasel()
	s := show(t, variants["dark"], e, easelSize)
	e.SetMode(Inspect)
	e.SetImage(plain(100, 50, cream), layout.Area{Centre: layout.Point{X: 50, Y: 75}, Size: layout.Size{W: 100, H: 50}})
	img := s.capture("easel-part")
	for _, tt := range []struct {
		x, y layout.MM
		in   bool
	}{
		{2, 98, true}, {98, 52, true}, {50, 75, true},
		{-3, 75, false}, {103, 75, false}, {50, 103, false}, {50, 47, false}, {50, -75, false},
	} {
		want := graphite
		if tt.in {
			want = cream
		}
		x, y := pixel(on(e, tt.x, tt.y))
		require.Equal(t, want, at(img, x, y), "%v, %v", tt.x, tt.y)
	}
}

func TestEaselShots(t *testing.T) {
	if *shots == "" {
		t.Skip("pictures to look at are made with -shots FOLDER")
	}
	for name, variant := range variants {
		e := newTestEasel()
		s := show(t, variant, e, easelSize)
		hover(e, on(e, 60, 40))
		s.capture("easel-" + name)

		primary.press(e, on(e, -180, 0))
		primary.move(e, on(e, -180, 0), on(e, -160, 0))
		s.capture("easel-drag-" + name)
		primary.release(e, on(e, -160, 0))

		s.window.Canvas().Focus(e)
		e.SetOther(swirl(360, 260, cream, teal), e.area(), "28 %", "32 %")
		s.capture("easel-compare-" + name)
		e.SetOther(nil, layout.Area{}, "", "")
		e.SetMode(Inspect)
		e.SetUnit(layout.Inches)
		s.capture("easel-inspect-" + name)
		for range 12 {
			wheel(e, on(e, 60, 60), 25)
		}
		s.capture("easel-close-" + name)
	}
}
