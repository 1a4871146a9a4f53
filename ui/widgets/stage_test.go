package widgets

import (
	"flag"
	"image"
	"image/color"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/test"
	"fyne.io/fyne/v2/theme"
	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	house "undercoat/ui/theme"
)

var shots = flag.String("shots", "", "folder for pictures of the widgets under test, to look at")

var variants = map[string]fyne.ThemeVariant{"light": theme.VariantLight, "dark": theme.VariantDark}

// TestMain dresses all tests in the house theme, without which the widgets' own
// colours have no meaning.
func TestMain(m *testing.M) {
	test.NewApp().Settings().SetTheme(house.Forced(theme.VariantDark))
	os.Exit(m.Run())
}

// stage is a window without a screen, with one widget in it.
type stage struct {
	t      *testing.T
	window fyne.Window
}

// show puts a widget on a stage of the given size.
func show(t *testing.T, variant fyne.ThemeVariant, content fyne.CanvasObject, size fyne.Size) *stage {
	t.Helper()
	test.ApplyTheme(t, house.Forced(variant))
	w := test.NewTempWindow(t, container.NewStack(content))
	w.SetPadded(false)
	w.Resize(size)
	content.Refresh()
	return &stage{t: t, window: w}
}

// capture paints the stage and, where asked to, keeps the picture to be looked at.
func (s *stage) capture(name string) image.Image {
	s.t.Helper()
	img := s.window.Canvas().Capture()
	if *shots != "" {
		require.NoError(s.t, os.MkdirAll(*shots, 0o755))
		f, err := os.Create(filepath.Join(*shots, name+".png"))
		require.NoError(s.t, err)
		defer f.Close()
		require.NoError(s.t, png.Encode(f, img))
	}
	return img
}

// at is the colour of a painted pixel.
func at(img image.Image, x, y int) colour.Stored {
	c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
	return colour.Stored{R: c.R, G: c.G, B: c.B}
}

// ofTheme is a colour of the house theme.
func ofTheme(name fyne.ThemeColorName, variant fyne.ThemeVariant) colour.Stored {
	c := color.NRGBAModel.Convert(house.Forced(variant).Color(name, variant)).(color.NRGBA)
	return colour.Stored{R: c.R, G: c.G, B: c.B}
}

// plain is an image all of one colour.
func plain(w, h int, c colour.Stored) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := 0; i < len(img.Pix); i += 4 {
		img.Pix[i], img.Pix[i+1], img.Pix[i+2], img.Pix[i+3] = c.R, c.G, c.B, 0xff
	}
	return img
}

// swirl is a made-up picture in two paints, with something to see everywhere.
func swirl(w, h int, a, b colour.Stored) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			u, v := float64(x)/float64(w)-0.5, float64(y)/float64(h)-0.5
			r := u*u + v*v
			share := 0.5
			if int((r*30+u*6+16)*4)%2 == 0 {
				share = 0.05 + r
			} else {
				share = 0.9 - r
			}
			c := colour.Mix(a.Linear(), b.Linear(), share).Stored()
			img.SetRGBA(x, y, color.RGBA{c.R, c.G, c.B, 0xff})
		}
	}
	return img
}

var (
	graphite = colour.Stored{R: 0x2b, G: 0x2d, B: 0x30}
	teal     = colour.Stored{R: 0x1f, G: 0x7a, B: 0x78}
	cream    = colour.Stored{R: 0xf2, G: 0xe6, B: 0xc8}
	ground   = colour.Stored{R: 0xe9, G: 0xe7, B: 0xe1}
)

func cream2RGBA() color.RGBA { return color.RGBA{cream.R, cream.G, cream.B, 0xff} }
