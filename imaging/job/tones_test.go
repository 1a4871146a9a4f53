package job_test

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"math"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/plane"
	"undercoat/layout"
)

// hills is a picture with soft slopes and fine grain.
func hills(t *testing.T) []byte {
	t.Helper()
	img := image.NewGray(image.Rect(0, 0, 400, 300))
	for y := range 300 {
		for x := range 400 {
			v := 120 + 60*math.Sin(float64(x)/40)*math.Cos(float64(y)/30) + 8*math.Sin(float64(x*y))
			img.SetGray(x, y, color.Gray{uint8(v)})
		}
	}
	var data bytes.Buffer
	require.NoError(t, png.Encode(&data, img))
	return data.Bytes()
}

// thorough is a tone that looks at the neighbourhood, with a fade.
func thorough(d job.Document) job.Document {
	d.Picture.Tone = picture.Tone{
		Noise:   picture.Noise{Strength: 3, Radius: 0.5},
		Local:   picture.LocalContrast{Limit: 2, Tile: 10},
		Mid:     0.2,
		Sharpen: picture.Sharpen{Radius: 0.4, Amount: 0.7},
	}
	d.Picture.Fade = picture.Fade{Shape: picture.FadeOval, Feather: 5}
	return d
}

// What the window shows at once is what the raster will hold: the tints of a view are
// those of the raster, averaged.
func TestTheViewsTintsAreTheRasters(t *testing.T) {
	for name, d := range map[string]job.Document{"plain": plain(t, 80, 60, 0.1), "thorough": thorough(plain(t, 80, 60, 0.1))} {
		t.Run(name, func(t *testing.T) {
			j := withPicture(t, d, "hills.png", hills(t))
			v, err := j.Develop(t.Context(), nil)
			require.NoError(t, err)
			d := v.Document
			tints, err := d.Tints(t.Context(), v.Light, v.Tones, layout.Grid{Cols: 800, Rows: 600, Pitch: 0.1})
			require.NoError(t, err)
			view, err := job.ViewLight(t.Context(), v.Light, d.Picture.Crop, 400, 300)
			require.NoError(t, err)
			toning, err := d.Toning(t.Context(), v.Light)
			require.NoError(t, err)
			shown, err := d.ViewTints(t.Context(), view, toning, picture.Whole(400/80.0), v.Tones)
			require.NoError(t, err)
			require.Equal(t, 400, shown.W)
			sum, worst := 0.0, 0.0
			for y := range shown.H {
				for x, got := range shown.Row(y) {
					off := math.Abs(float64(got)-mean4(tints, 2*x, 2*y)) / math.MaxUint16
					sum, worst = sum+off, max(worst, off)
				}
			}
			t.Logf("mean %.4f, worst %.3f of a tint", sum/float64(shown.W*shown.H), worst)
			require.Less(t, sum/float64(shown.W*shown.H), 0.01)
		})
	}
}

func mean4(p *plane.Grey16, x, y int) float64 {
	return (float64(p.Row(y)[x]) + float64(p.Row(y)[x+1]) + float64(p.Row(y + 1)[x]) + float64(p.Row(y + 1)[x+1])) / 4
}

func TestFadedCornersAreNotBurned(t *testing.T) {
	d := byLight(plain(t, 80, 60, 0.1))
	d.Picture.Fade = picture.Fade{Shape: picture.FadeOval, Feather: 5}
	dir, _ := prepared(t, withPicture(t, d, "even.png", even(t, 255)), job.RasterOutput)
	img := raster(t, dir)
	for _, corner := range []image.Point{{0, 0}, {799, 0}, {0, 599}, {799, 599}} {
		require.Equal(t, uint8(255), img.GrayAt(corner.X, corner.Y).Y)
	}
	require.Equal(t, uint8(0), img.GrayAt(400, 300).Y)
}

func TestAMixOfColoursDecidesWhatIsLight(t *testing.T) {
	img := image.NewRGBA(image.Rect(0, 0, 80, 60))
	for y := range 60 {
		for x := range 80 {
			img.Set(x, y, color.RGBA{R: 255, A: 255})
		}
	}
	pic, err := picture.New(img)
	require.NoError(t, err)
	for _, c := range []struct {
		mix  picture.Mix
		want float64
	}{{picture.Mix{}, 0.2126}, {picture.Mix{R: 1}, 1}, {picture.Mix{B: 1}, 0}} {
		light, err := job.Picture{Mix: c.mix}.Light(t.Context(), pic)
		require.NoError(t, err)
		require.InDelta(t, c.want, float64(light.Pix[0])/math.MaxUint16, 1e-4)
	}
}
