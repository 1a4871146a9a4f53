package job_test

import (
	"image"
	"image/color"
	"testing"

	"github.com/stretchr/testify/require"

	"undercoat/imaging/coat"
	"undercoat/imaging/job"
	"undercoat/imaging/picture"
	"undercoat/imaging/scene"
	"undercoat/layout"
)

// topCoat is a job without a picture: a panel of the top coat alone.
func topCoat(t *testing.T, w, h layout.MM, colour string) *job.Developed {
	t.Helper()
	d := plain(t, w, h, 0.5)
	d.Panel.EdgeDepth = 0
	require.NoError(t, d.Stack.Coats[0].Colour.UnmarshalText([]byte(colour)))
	v, err := (&job.Job{Document: d}).Develop(t.Context(), nil)
	require.NoError(t, err)
	return v
}

// extent is the width and height of what has a colour, in pixels.
func extent(img *image.RGBA, is func(color.RGBA) bool) (w, h int) {
	var r image.Rectangle
	for y := range img.Rect.Dy() {
		for x := range img.Rect.Dx() {
			if is(img.RGBAAt(x, y)) {
				r = r.Union(image.Rect(x, y, x+1, y+1))
			}
		}
	}
	return r.Dx(), r.Dy()
}

func magenta(c color.RGBA) bool { return c.R > 180 && c.G < 80 && c.B > 180 }

// On a photo the panel has the size that the mark says: 300 x 400 mm at 2 pixels a
// millimetre are 600 x 800.
func TestWallPhotoIsToScale(t *testing.T) {
	v := topCoat(t, 300, 400, "#ff00ff")
	photo := image.NewRGBA(image.Rect(0, 0, 1000, 1200))
	for i := range photo.Pix {
		photo.Pix[i] = 0xe0
	}
	img, err := v.Wall(t.Context(), job.WallView{Photo: photo, Mark: scene.Mark{
		A: layout.PicturePoint{X: 100, Y: 50}, B: layout.PicturePoint{X: 900, Y: 50}, LengthMM: 400,
		Centre: layout.PicturePoint{X: 500, Y: 600},
	}}, 0, 0, nil)
	require.NoError(t, err)
	w, h := extent(img, magenta)
	require.InDelta(t, 600, w, 6)
	require.InDelta(t, 800, h, 8)
	_, err = v.Wall(t.Context(), job.WallView{Photo: photo, Mark: scene.Mark{Centre: layout.PicturePoint{X: 500, Y: 600}}}, 0, 0, nil)
	require.ErrorContains(t, err, "has no scale")
}

// In a room panels of different sizes keep their proportion to one another.
func TestWallRoomIsToScale(t *testing.T) {
	size := func(w layout.MM) float64 {
		img, err := topCoat(t, w, w, "#ff00ff").Wall(t.Context(), job.WallView{Kind: scene.Living, Wall: job.UsualWall}, 1200, 900, nil)
		require.NoError(t, err)
		wide, _ := extent(img, magenta)
		return float64(wide)
	}
	require.InEpsilon(t, 2, size(400)/size(200), 0.02)
}

func TestWallWatermarkAndRefusals(t *testing.T) {
	v := topCoat(t, 300, 300, "#ff00ff")
	view := job.WallView{Kind: scene.Studio, Wall: job.UsualWall}
	plain, err := v.Wall(t.Context(), view, 400, 300, nil)
	require.NoError(t, err)
	view.Watermark = "draft"
	marked, err := v.Wall(t.Context(), view, 400, 300, nil)
	require.NoError(t, err)
	require.NotEqual(t, plain.Pix, marked.Pix)
	view.Kind = "cellar"
	_, err = v.Wall(t.Context(), view, 400, 300, nil)
	require.ErrorContains(t, err, `room "cellar" is unknown`)
	view.Kind = scene.Studio
	_, err = v.Wall(t.Context(), view, 4, 300, nil)
	require.ErrorContains(t, err, "view of 4 x 300 pixels")
}

func TestPixelsAreThePicturesOwn(t *testing.T) {
	src := image.NewRGBA(image.Rect(3, 5, 3+16, 5+4)) // off its origin
	for y := range 4 {
		for x := range 16 {
			src.SetRGBA(3+x, 5+y, color.RGBA{R: uint8(16 * x), G: uint8(60 * y), B: 200, A: 255})
		}
	}
	pic, err := picture.New(src)
	require.NoError(t, err)
	got, err := job.Pixels(t.Context(), pic)
	require.NoError(t, err)
	for y := range 4 {
		for x := range 16 {
			require.Equal(t, src.RGBAAt(3+x, 5+y), got.RGBAAt(x, y))
		}
	}
}

func TestColourSetsShowTheJobInOtherPaints(t *testing.T) {
	j := uneven(t)
	pic, err := j.Open(t.Context())
	require.NoError(t, err)
	var stacks []coat.Stack
	for _, name := range []string{"slate-cream", "sunset-four"} {
		s, err := job.FindStack(name)
		require.NoError(t, err)
		stacks = append(stacks, s)
	}
	view := job.WallView{Kind: scene.Living, Wall: job.UsualWall}
	img, err := j.ColourSets(t.Context(), pic, stacks, view, 300, 240, nil)
	require.NoError(t, err)
	require.GreaterOrEqual(t, img.Rect.Dx(), 600)
	other := *j
	other.Document = j.Document.Clone()
	other.Document.Stack = stacks[1]
	dev, err := other.Develop(t.Context(), pic)
	require.NoError(t, err)
	alone, err := dev.Wall(t.Context(), view, 300, 240, nil)
	require.NoError(t, err)
	require.True(t, holds(img, alone), "the second set is the wall view of the job in that stack")
	for _, n := range []int{0, job.MaxSets + 1} {
		_, err = j.ColourSets(t.Context(), pic, make([]coat.Stack, n), view, 300, 240, nil)
		require.ErrorContains(t, err, "colour sets are not possible")
	}
}

// holds tells whether a picture lies somewhere in another.
func holds(img, part *image.RGBA) bool {
	w, h := part.Rect.Dx(), part.Rect.Dy()
	for oy := range img.Rect.Dy() - h + 1 {
		for ox := range img.Rect.Dx() - w + 1 {
			same := true
			for y := 0; y < h && same; y++ {
				same = string(img.Pix[img.PixOffset(ox, oy+y):][:4*w]) == string(part.Pix[part.PixOffset(0, y):][:4*w])
			}
			if same {
				return true
			}
		}
	}
	return false
}
