package scene

import (
	"context"
	"image"
	"image/color"
	"regexp"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
	"undercoat/layout"
)

var (
	grey  = colour.Stored{R: 150, G: 150, B: 150}
	green = colour.Stored{G: 255}
)

func even(w, h int, c colour.Stored) *image.RGBA {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			img.SetRGBA(x, y, color.RGBA{c.R, c.G, c.B, 255})
		}
	}
	return img
}

// quarters is a panel of four colours, so that a turned or mirrored one is found out.
func quarters(w, h int) *image.RGBA {
	img := even(w, h, colour.Stored{R: 40, G: 44, B: 50})
	for y := range h {
		for x := range w {
			switch {
			case x < w/2 && y < h/2:
				img.SetRGBA(x, y, color.RGBA{200, 40, 40, 255})
			case x >= w/2 && y < h/2:
				img.SetRGBA(x, y, color.RGBA{40, 180, 60, 255})
			case x < w/2:
				img.SetRGBA(x, y, color.RGBA{40, 70, 200, 255})
			}
		}
	}
	return img
}

func hanging(panel *image.RGBA, w, h layout.MM) Options {
	return Options{Kind: Living, Wall: grey, Panel: panel, PanelMM: layout.Size{W: w, H: h}, EdgeMM: 20, EdgeColour: colour.Stored{R: 43, G: 45, B: 48}}
}

func rendered(t require.TestingT, o Options, w, h int) *image.RGBA {
	img, err := Render(context.Background(), o, w, h)
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, w, h), img.Rect)
	return img
}

func lightAt(img *image.RGBA, x, y int) colour.Linear {
	p := img.Pix[img.PixOffset(x, y):]
	return colour.Stored{R: p[0], G: p[1], B: p[2]}.Linear()
}

var sentence = regexp.MustCompile(`^[a-z\d].*[^.]$`)

func requireSentence(t *testing.T, err error) {
	t.Helper()
	require.Error(t, err)
	require.Regexp(t, sentence, err.Error(), "lower case, no full stop")
}
