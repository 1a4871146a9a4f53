package scene

import (
	"context"
	"image"
	"os"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/colour"
)

// tuffy is one of the fonts that come with the program.
func tuffy(t *testing.T) []byte {
	t.Helper()
	data, err := os.ReadFile("../../assets/fonts/Tuffy-Regular.ttf")
	require.NoError(t, err)
	return data
}

func TestWatermark(t *testing.T) {
	dark, bright := colour.Stored{R: 30, G: 60, B: 60}, colour.Stored{R: 240, G: 235, B: 225}
	for name, size := range map[string]image.Point{"wide": {600, 300}, "high": {240, 500}, "small": {40, 40}} {
		for _, c := range []colour.Stored{dark, bright} {
			t.Run(name+" "+c.String(), func(t *testing.T) {
				img := even(size.X, size.Y, c)
				got, err := Watermark(context.Background(), img, "for view only", tuffy(t))
				require.NoError(t, err)
				require.Equal(t, img.Rect, got.Rect)
				changed := 0
				for y := range size.Y {
					for x := range size.X {
						was, is := lightAt(img, x, y).Y(), lightAt(got, x, y).Y()
						if was == is {
							continue
						}
						changed++
						require.Equal(t, c == dark, is > was, "paler on the dark, dimmer on the bright")
					}
				}
				share := float64(changed) / float64(size.X*size.Y)
				require.Greater(t, share, 0.01)
				require.Less(t, share, 0.3)
				require.Equal(t, c, lightAt(img, 0, 0).Stored(), "the image itself is left alone")
			})
		}
	}
}

func TestWatermarkRefuses(t *testing.T) {
	for name, refuse := range map[string]func() (*image.RGBA, error){
		"no image": func() (*image.RGBA, error) { return Watermark(context.Background(), nil, "x", tuffy(t)) },
		"no text": func() (*image.RGBA, error) {
			return Watermark(context.Background(), even(50, 50, grey), "", tuffy(t))
		},
		"no font": func() (*image.RGBA, error) { return Watermark(context.Background(), even(50, 50, grey), "x", nil) },
		"damaged font": func() (*image.RGBA, error) {
			return Watermark(context.Background(), even(50, 50, grey), "x", []byte("no font"))
		},
	} {
		t.Run(name, func(t *testing.T) {
			img, err := refuse()
			require.Nil(t, img)
			requireSentence(t, err)
		})
	}
}
