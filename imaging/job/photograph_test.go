package job

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"testing"

	"github.com/stretchr/testify/require"
)

// An even colour keeps its stored value, and the view has the photograph's shape.
func TestAPhotographsViewKeepsItsColours(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 60, 40))
	for y := range 40 {
		for x := range 60 {
			c := color.RGBA{200, 60, 20, 255}
			if x >= 30 {
				c = color.RGBA{10, 90, 240, 255}
			}
			img.SetRGBA(x, y, c)
		}
	}
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, img))
	pic, err := OpenPicture(t.Context(), "photo.png", data.Bytes())
	require.NoError(t, err)
	view, err := PhotographView(t.Context(), pic, 30, 30)
	require.NoError(t, err)
	require.Equal(t, image.Rect(0, 0, 30, 20), view.Rect)
	require.Equal(t, color.RGBA{200, 60, 20, 255}, view.RGBAAt(5, 10))
	require.Equal(t, color.RGBA{10, 90, 240, 255}, view.RGBAAt(25, 10))
}
